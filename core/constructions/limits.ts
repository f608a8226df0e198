/**
 * Far above what one maker builds, and low enough that every answer about it comes in seconds: planning, cutting and odds grow
 * faster than the number of things they are about.
 */
export const LIMITS = {
  /** Of one part of an own construction, for one piece. */
  partsOfOneKind: 500,
  /** Of all kinds together, in one order. */
  parts: 10_000,
  /** Lots that one batch is made in. */
  lots: 50,
  /** Steps of one order, all lots and pieces together. */
  steps: 1_500,
} as const

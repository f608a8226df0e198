import { normalQuantile, normalShare } from '../../chance/quantiles.ts'

/** What replications of a plan do not know: orders that are taken after a moment, at a steady rate, and how the shop's promises fared. */
export interface NotInThePlan {
  /** An instant. */
  readonly from: number
  readonly ordersPerWeek: number
  /** How much less sure the shop is by its own record, in standard deviations. See core/learning/own-record.ts. */
  readonly lessSure: number
}

/**
 * How far one later order moves a chance, in standard deviations. Later orders may use what luck gives an order, while nothing gives back
 * what it loses; what so many of them use grows with the square root of their number (a random walk held down at a level).
 * Measured in years of the benchmark's development world.
 */
const TAKEN_BY_ONE = 0.05

const WEEK = 7 * 1440

/**
 * A chance in the shop as it stands, as it is told: with the orders that are expected to be taken until an instant, and by the shop's own
 * record. What is certain, or cannot be, stays so.
 * @param alone the chance without any of these, 0..1
 */
export function asTold(alone: number, instant: number, { from, ordersPerWeek, lessSure }: NotInThePlan): number {
  const orders = (ordersPerWeek * Math.max(0, instant - from)) / WEEK
  const less = lessSure + TAKEN_BY_ONE * Math.sqrt(orders)
  if (less === 0 || alone <= 0 || alone >= 1) return alone
  return normalShare(normalQuantile(alone) - less)
}

import { rounded } from './exact.ts'

/** What the shop costs in a year whether anything is made or not, and the hands-on minutes that carry it. */
export interface Overhead {
  readonly yearMinor: number
  /** Hands-on minutes of the year; buying, selling, sweeping and quoting are not among them. */
  readonly yearMinutes: number
}

/**
 * Overhead that so many hands-on minutes carry, in whole minor units; nothing while the year's minutes are not known.
 * @source the predetermined overhead rate of managerial accounting: estimated overhead of the year over estimated direct labor hours
 */
export const overheadFor = (minutes: number, { yearMinor, yearMinutes }: Overhead): number =>
  yearMinutes <= 0 ? 0 : rounded(BigInt(yearMinor) * BigInt(minutes), BigInt(yearMinutes))

import { normalQuantile, normalShare } from '../../chance/quantiles.ts'

/** Orders that are expected to be taken after a moment, at a steady rate. */
export interface LaterOrders {
  /** An instant. */
  readonly from: number
  readonly perWeek: number
}

/**
 * How far one later order moves a chance, in standard deviations. Later orders may use what luck gives an order, while nothing gives back
 * what it loses; what so many of them use grows with the square root of their number (a random walk held down at a level).
 * Measured in years of the benchmark's development world.
 */
const TAKEN_BY_ONE = 0.11

const WEEK = 7 * 1440

/**
 * A chance in the shop as it stands, as it is with the orders that are expected to be taken until an instant. What is certain, or
 * cannot be, stays so.
 * @param alone the chance without any later order, 0..1
 */
export function withLaterOrders(alone: number, instant: number, { from, perWeek }: LaterOrders): number {
  const orders = (perWeek * Math.max(0, instant - from)) / WEEK
  if (orders === 0 || alone <= 0 || alone >= 1) return alone
  return normalShare(normalQuantile(alone) - TAKEN_BY_ONE * Math.sqrt(orders))
}

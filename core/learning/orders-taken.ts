const WEEK = 7 * 1440
/** The rate follows the season: orders of so many weeks count. */
const WEEKS_BACK = 8
/** Before anything was taken: 2 orders a week, as if two weeks had been seen. Common practice, no source. */
const BELIEVED = { orders: 4, weeks: 2 }

/** Orders that are taken in a week at present. @param takenAtMin instants at which orders were taken, in any order */
export function ordersPerWeek(takenAtMin: readonly number[], now: number): number {
  const first = takenAtMin.reduce((least, at) => Math.min(least, at), now)
  const weeks = Math.min(WEEKS_BACK, (now - first) / WEEK)
  const lately = takenAtMin.filter((at) => at > now - WEEKS_BACK * WEEK && at <= now).length
  return (BELIEVED.orders + lately) / (BELIEVED.weeks + weeks)
}

import type { Interval } from '../planning/index.ts'
import { daysLater, localDay, minuteOfLocalDay, type LocalDay } from '../time/local-day.ts'
import type { Almanac } from './almanac.ts'
import { withListed } from './lists.ts'

/**
 * The almanac with hours of one maker beside the weekly ones, each stretch as a special day of its own; one over midnight as two.
 * @param hours instants
 * @param note says on each day what they are for
 */
export function withExtraHours(almanac: Almanac, maker: string, hours: readonly Interval[], note: string): Almanac {
  return hours
    .flatMap((stretch) => byDay(stretch, almanac.shop.timeZone))
    .reduce((so, { day, from, to }) => {
      const id = `extra-${maker}-${day}-${from}-${to}`
      return withListed(so, 'specialDays', { id, day, kind: 'extra', hours: [{ from, to }], maker, note })
    }, almanac)
}

const DAY = 1440

function byDay({ from, to }: Interval, timeZone: string): { day: LocalDay; from: number; to: number }[] {
  const day = localDay(from, timeZone)
  const [begin, end] = [minuteOfLocalDay(from, timeZone), minuteOfLocalDay(to, timeZone)]
  if (localDay(to, timeZone) === day) return [{ day, from: begin, to: end }]
  const tonight = { day, from: begin, to: DAY }
  return end === 0 ? [tonight] : [tonight, { day: daysLater(day, 1), from: 0, to: end }]
}

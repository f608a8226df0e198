import type { LocalDay } from '../time/local-day.ts'
import type { Almanac } from './almanac.ts'

/** Whether somebody was said not to come on a day: the shop is closed for them alone. */
export const isAwayOn = ({ specialDays }: Pick<Almanac, 'specialDays'>, makerId: string, day: LocalDay): boolean =>
  specialDays.some((special) => special.kind === 'closed' && special.maker === makerId && special.day === day)

/** Names of makers, for a plan that says who does what; none where there is only one person who could. */
export const whoIn = (ids: readonly string[], { makers }: Pick<Almanac, 'makers'>): readonly string[] =>
  makers.length < 2 ? [] : makers.filter(({ id }) => ids.includes(id)).map(({ name }) => name)

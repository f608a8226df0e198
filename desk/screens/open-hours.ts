import type { Interval } from '../../core/planning/index.ts'
import type { Moment } from '../moment.ts'

/** Hours in which anybody works, from now on, as many sessions as asked. */
export function openHours(moment: Moment, sessions: number): Interval[] {
  const ahead = moment.setting.makers
    .flatMap((maker) => maker.hours)
    .filter((session) => session.to > moment.now)
    .sort((a, b) => a.from - b.from || b.to - a.to)
  const merged: Interval[] = []
  for (const session of ahead) {
    const last = merged.at(-1)
    if (last && session.from <= last.to)
      merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, session.to) }
    else if (merged.length === sessions) break
    else merged.push(session)
  }
  return merged
}

/** Minutes of the longest session that somebody still has; 0: nobody has any. */
export const longestSessionAhead = ({ now, setting: { makers } }: Moment): number => {
  let longest = 0
  for (const { hours } of makers)
    for (const { from, to } of hours) longest = Math.max(longest, to - Math.max(from, now))
  return longest
}

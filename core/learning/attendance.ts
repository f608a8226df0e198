import { believed, priorAttendance, type AttendanceModel } from './times-model.ts'

/** Sessions that the almanac has for somebody, and instants at which the log says he was at work. */
export interface Evenings {
  readonly id: string
  /** What he says of himself, 0..1. */
  readonly attendance: number
  readonly sessions: readonly { readonly from: number; readonly to: number }[]
  readonly workedAt: readonly number[]
}

const WEEK_MIN = 7 * 1440
/** Somebody who comes an hour early or leaves two hours late was there. */
const AROUND_MIN = 120

/**
 * How often somebody gets to the shop, from the sessions since the log began. Weeks in which nobody was there at all are lost
 * weeks, whose sessions count for nothing else.
 */
export function attendanceFrom(makers: readonly Evenings[], now: number): AttendanceModel {
  const prior = priorAttendance(makers)
  const all = makers.flatMap(({ workedAt }) => workedAt).filter((at) => at <= now)
  if (all.length === 0) return prior
  const [first, last] = [Math.min(...all), Math.max(...all)]
  const weekOf = (at: number): number => Math.floor((at - first) / WEEK_MIN)
  const weeksWorked = new Set(all.map(weekOf))
  const weeks = weekOf(last) + 1
  return {
    makers: makers.map(({ id, attendance, sessions, workedAt }) => {
      const counted = sessions.filter(({ from, to }) => to >= first && from <= last && weeksWorked.has(weekOf(to)))
      const met = counted.filter(({ from, to }) =>
        workedAt.some((at) => at >= from - AROUND_MIN && at <= to + AROUND_MIN),
      ).length
      const missed = counted.length - met
      const { alpha, beta } = believed(attendance)
      return { id, met, missed, rate: { alpha: alpha + met, beta: beta + missed } }
    }),
    unknownMaker: prior.unknownMaker,
    lostWeek: {
      alpha: prior.lostWeek.alpha + weeks - weeksWorked.size,
      beta: prior.lostWeek.beta + weeksWorked.size,
    },
  }
}

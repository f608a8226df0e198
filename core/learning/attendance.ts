import { firstIn, lastIn, type Presses } from './presses.ts'
import { shareWorked } from './share-worked.ts'
import { believed, priorAttendance, type AttendanceModel } from './times-model.ts'

/** Sessions that the almanac has for somebody, and what he pressed. */
export interface Evenings {
  readonly id: string
  /** What he says of himself, 0..1. */
  readonly attendance: number
  /** When the hours were these: sessions of other times are none that he could meet; null: from the beginning. */
  readonly hoursHeld: readonly { readonly from: number; readonly to: number }[] | null
  readonly sessions: readonly { readonly from: number; readonly to: number }[]
  readonly presses: Presses
}

const WEEK_MIN = 7 * 1440
/** Somebody who comes an hour early or leaves two hours late was there. */
const AROUND_MIN = 120

/**
 * How often somebody gets to the shop: sessions that were met since the log began, and those missed at whose beginning something could be
 * worked on. Weeks in which something could, and nobody came at all, are lost weeks, whose sessions count for nothing else.
 * @param waiting when some step could be worked on; sorted, disjoint
 */
export function attendanceFrom(
  makers: readonly Evenings[],
  waiting: readonly { readonly from: number; readonly to: number }[],
  now: number,
): AttendanceModel {
  const prior = priorAttendance(makers)
  const ends = makers.flatMap(({ presses: { all } }) => {
    const last = lastIn(all, -Infinity, now)
    return last === null ? [] : [{ first: all[0]!, last }]
  })
  if (ends.length === 0) return prior
  const first = Math.min(...ends.map((each) => each.first))
  const last = Math.max(...ends.map((each) => each.last))
  const weekOf = (at: number): number => Math.floor((at - first) / WEEK_MIN)
  const endOfWeek = (at: number): number => first + (weekOf(at) + 1) * WEEK_MIN
  const weeksWorked = new Set<number>()
  // Of thousands of presses the first one of each week tells as much as all of them.
  for (const { presses } of makers)
    for (let at = firstIn(presses.all, first, now); at !== null; at = firstIn(presses.all, endOfWeek(at), now))
      weeksWorked.add(weekOf(at))
  const hadWork = someContain(waiting)
  const since = ({ from, to }: { readonly from: number; readonly to: number }): boolean => to >= first && from <= last
  const weeks = new Set([
    ...weeksWorked,
    ...makers.flatMap(({ sessions }) =>
      sessions.filter((each) => since(each) && hadWork(each.from)).map(({ to }) => weekOf(to)),
    ),
  ])
  return {
    makers: makers.map(({ id, attendance, hoursHeld, sessions, presses }) => {
      const counted = sessions.filter(
        (each) =>
          (hoursHeld === null || hoursHeld.some(({ from, to }) => from <= each.from && each.to <= to)) &&
          since(each) &&
          weeksWorked.has(weekOf(each.to)),
      )
      const isMet = ({ from, to }: { readonly from: number; readonly to: number }): boolean =>
        firstIn(presses.all, from - AROUND_MIN, to + AROUND_MIN) !== null
      const met = counted.filter(isMet)
      const missed = counted.filter((each) => !isMet(each) && hadWork(each.from)).length
      const { alpha, beta } = believed(attendance)
      return {
        ...{ id, met: met.length, missed, rate: { alpha: alpha + met.length, beta: beta + missed } },
        share: shareWorked(met, presses),
      }
    }),
    unknownMaker: prior.unknownMaker,
    lostWeek: {
      alpha: prior.lostWeek.alpha + weeks.size - weeksWorked.size,
      beta: prior.lostWeek.beta + weeksWorked.size,
    },
  }
}

/** Whether one of the intervals holds an instant. */
const someContain =
  (sorted: readonly { readonly from: number; readonly to: number }[]) =>
  (at: number): boolean => {
    let [low, high] = [0, sorted.length]
    while (low < high) {
      const middle = (low + high) >> 1
      if (sorted[middle]!.to <= at) low = middle + 1
      else high = middle
    }
    return sorted[low] !== undefined && sorted[low]!.from <= at
  }

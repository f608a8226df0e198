import type { Interval } from '../planning/index.ts'

/** What of a session in the shop is no work on orders, minutes. */
export interface SessionFacts {
  /** Lights, heater, machines: before the first step. */
  readonly warmUpMin: number
  /** Sweeping and putting away: after the last one. */
  readonly putAwayMin: number
  /** A break in the middle of sessions longer than `breakOverMin`. */
  readonly breakMin: number
  readonly breakOverMin: number
}

export const NOTHING_BUT_WORK: SessionFacts = { warmUpMin: 0, putAwayMin: 0, breakMin: 0, breakOverMin: 300 }

/**
 * Hours in the shop as hours of work: without warm-up and putting away, and with the break out of the middle of long sessions. A
 * session that leaves nothing is none.
 * @param hours sorted, disjoint; instants in minutes
 */
export function workingSessions(hours: readonly Interval[], facts: SessionFacts): readonly Interval[] {
  const { warmUpMin, putAwayMin, breakMin, breakOverMin } = facts
  if (warmUpMin === 0 && putAwayMin === 0 && breakMin === 0) return hours
  return hours.flatMap((session) => {
    const from = session.from + warmUpMin
    const to = session.to - putAwayMin
    if (from >= to) return []
    if (breakMin === 0 || session.to - session.from <= breakOverMin) return [{ from, to }]
    const middle = Math.round((from + to - breakMin) / 2)
    return [
      { from, to: middle },
      { from: middle + breakMin, to },
    ].filter((part) => part.from < part.to)
  })
}

import type { Compiled } from '../problem/compiled.ts'
import type { Facts } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import type { Objective } from '../problem/model.ts'
import { isPinMissed } from './windows.ts'

/** Who does what when, by position of the steps: what a schedule is worth can be told from that. */
export interface Timetable {
  readonly compiled: Compiled
  readonly facts: Facts
  readonly start: Int32Array
  readonly end: Int32Array
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly remedy: Int32Array
  /** 1 for each lag whose window is missed. */
  readonly missed: Uint8Array
}

/** Instant at which each commission is done; `now` for one without steps. */
export function doneTimes({ compiled, end }: Timetable): Int32Array {
  const done = new Int32Array(compiled.commissionCount).fill(-1)
  for (let step = 0; step < compiled.stepCount; step++) {
    const commission = compiled.commission[step]!
    if (end[step]! > done[commission]!) done[commission] = end[step]!
  }
  return done.map((at) => (at < 0 ? compiled.now : at))
}

/** The objective of a complete schedule. */
export function measured(times: Timetable): Objective {
  const { compiled, start, end, missed } = times
  const { stepCount, now, promise, weight, announced, announcedSteps } = compiled
  let missedWindows = 0
  for (let lag = 0; lag < missed.length; lag++) missedWindows += missed[lag]!
  let last = now
  for (let step = 0; step < stepCount; step++) {
    if (end[step]! > last) last = end[step]!
    if (isPinMissed(compiled, step, start[step]!)) missedWindows += 1
  }
  let weightedTardiness = 0
  let weightedCompletion = 0
  doneTimes(times).forEach((done, commission) => {
    if (promise[commission] === NEVER) weightedCompletion += weight[commission]! * (done - now)
    else weightedTardiness += tardinessOf(compiled, commission, done)
  })
  let moved = 0
  for (const step of announcedSteps) if (start[step] !== announced[step]) moved += 1
  return { missedWindows, weightedTardiness, weightedCompletion, makespanMin: last - now, moved }
}

const DAY = 1440

/** What a promised commission that is done then adds to the weighted tardiness; never less when it is done later. */
export function tardinessOf({ promise, weight, patienceMin }: Compiled, commission: number, done: number): number {
  const late = done - promise[commission]!
  if (late <= 0) return 0
  const tooLate = Math.max(0, late - patienceMin)
  return weight[commission]! * (late + (tooLate * tooLate) / DAY)
}

/** The order in which objectives are compared, each the less the better. */
export const OBJECTIVE_ORDER: readonly (keyof Objective)[] = [
  'missedWindows',
  'weightedTardiness',
  'weightedCompletion',
  'makespanMin',
  'moved',
]

/** Negative when `a` is better. Sums of weights may be off in the last bit, so nearly equal counts as equal. */
export function compareObjectives(
  a: Objective,
  b: Objective,
  order: readonly (keyof Objective)[] = OBJECTIVE_ORDER,
): number {
  for (const key of order) {
    const difference = a[key] - b[key]
    if (Math.abs(difference) > 1e-9 * Math.max(1, Math.abs(b[key]))) return difference
  }
  return 0
}

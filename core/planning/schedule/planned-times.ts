import { TO_DO, type Compiled } from '../problem/compiled.ts'
import type { Plan } from '../problem/model.ts'
import { positionsOf } from '../problem/positions.ts'

/** What a plan says of the steps of a problem that are still to do, by their position. */
export interface PlannedTimes {
  /** 1 where the plan knows the step. */
  readonly isKnown: Uint8Array
  readonly start: Int32Array
  readonly end: Int32Array
  /** -1 for a milestone, and where its makers may not do it together. */
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly remedy: Int32Array
}

export function plannedTimes(compiled: Compiled, plan: Plan): PlannedTimes {
  const { stepCount, indexOfStep, state, problem } = compiled
  const isKnown = new Uint8Array(stepCount)
  const start = new Int32Array(stepCount)
  const end = new Int32Array(stepCount)
  const crew = new Int32Array(stepCount).fill(-1)
  const setUp = new Int32Array(stepCount)
  const remedy = new Int32Array(stepCount)
  const makerOf = positionsOf(problem.makers)
  for (const planned of plan.steps) {
    const step = indexOfStep.get(planned.id)
    if (step === undefined || state[step] !== TO_DO) continue
    isKnown[step] = 1
    start[step] = planned.start
    end[step] = planned.end
    setUp[step] = planned.setUpMin
    remedy[step] = planned.remedyMin
    if (planned.makers.length > 0) crew[step] = crewOf(compiled, step, planned.makers, makerOf)
  }
  return { isKnown, start, end, crew, setUp, remedy }
}

function crewOf(
  { crews, crewsOf }: Compiled,
  step: number,
  makers: readonly string[],
  makerOf: ReadonlyMap<string, number>,
): number {
  for (const crew of crewsOf[step]!) {
    const members = crews[crew]!.makers
    if (members.length === makers.length && makers.every((id) => members.includes(makerOf.get(id) ?? -1))) return crew
  }
  return -1
}

/**
 * The steps that the plan knows, by start; of those that start together first the ones that free a station by it, then
 * those that end sooner.
 */
export function stepsInTurn({ holdsClosedBy }: Compiled, { isKnown, start, end }: PlannedTimes): Int32Array {
  // One number a step, start before position, sorts many times as fast as a comparison of two fields.
  const keys = new Float64Array(isKnown.length)
  let count = 0
  for (let step = 0; step < isKnown.length; step++) if (isKnown[step] === 1) keys[count++] = start[step]! * ROOM + step
  const sorted = keys.subarray(0, count).sort()
  const turn = Int32Array.from(sorted, (key) => key % ROOM)
  const frees = (step: number): boolean => holdsClosedBy.from[step + 1]! > holdsClosedBy.from[step]!
  const isBefore = (a: number, b: number): boolean =>
    start[a] === start[b] && (frees(a) === frees(b) ? end[a]! < end[b]! : frees(a))
  for (let at = 1; at < count; at++) {
    const step = turn[at]!
    let place = at
    for (; place > 0 && isBefore(step, turn[place - 1]!); place--) turn[place] = turn[place - 1]!
    turn[place] = step
  }
  return turn
}

const ROOM = 2 ** 22

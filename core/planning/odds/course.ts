import type { Draws } from './draws.ts'
import { compile, RUNNING, TO_DO, type Compiled } from '../problem/compiled.ts'
import { factsOf, type Facts } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { plannedTimes } from '../schedule/planned-times.ts'

/** What is done again after a failed glue-up takes longer by this: something has to be taken apart. Common practice, no source. */
const TAKEN_APART = 1.2

/** A plan as a list that is worked through, with all that is the same in every replication. */
export interface Course {
  readonly compiled: Compiled
  readonly facts: Facts
  /** Steps to do, in the order of the plan. */
  readonly order: Int32Array
  /** Steps in progress, in the order in which they are gone on with. */
  readonly inProgress: readonly number[]
  /** Place of each step in it. */
  readonly rank: Int32Array
  /** Crews that may do each step, the planned one first; none: a milestone. */
  readonly crewsInTurn: readonly (readonly number[])[]
  /** How long each step is thought to take, without set-up. */
  readonly expected: Int32Array
  /** How many steps that are not done lead to each one. */
  readonly waitingFor: Int32Array
  /** 1 for each step out of which a wait with a longest time leads. */
  readonly opensWindow: Uint8Array
  readonly glueUp: Redone
  readonly crack: Redone
}

/** What it costs where a step goes wrong. */
export interface Redone {
  /** 1 for each step at which it may. */
  readonly mayHappen: Uint8Array
  /** What is done again, as a multiple of the step's own minutes; and minutes of waits that are gone through again. */
  readonly times: Float64Array
  readonly wait: Float64Array
}

/** @param expected the problem with the minutes that the maker counts on; its steps in the same order */
export function courseOf(problem: PlanningProblem, plan: Plan, expected: PlanningProblem = problem): Course {
  const compiled = compile(problem)
  const { stepCount, state, lagFrom, lagTo, lagMax, lagCount, crewsOf, minutes } = compiled
  const { isKnown, start, end, crew } = plannedTimes(compiled, plan)
  const order = Int32Array.from([...state.keys()].filter((step) => state[step] === TO_DO)).sort(
    (a, b) => isKnown[b]! - isKnown[a]! || start[a]! - start[b]! || end[a]! - end[b]! || a - b,
  )
  const rank = new Int32Array(stepCount)
  order.forEach((step, place) => (rank[step] = place))
  const waitingFor = new Int32Array(stepCount)
  const opensWindow = new Uint8Array(stepCount)
  for (let lag = 0; lag < lagCount; lag++) {
    if (state[lagFrom[lag]!] === TO_DO || state[lagFrom[lag]!] === RUNNING) waitingFor[lagTo[lag]!]! += 1
    if (lagMax[lag]! < NEVER) opensWindow[lagFrom[lag]!] = 1
  }
  const facts = factsOf(compiled)
  return {
    compiled,
    facts,
    order,
    inProgress: [...facts.running.keys()].sort((a, b) => facts.end[a]! - facts.end[b]! || a - b),
    rank,
    crewsInTurn: crewsOf.map((crews, step) => {
      if (minutes[step] === 0) return []
      const planned = crew[step]!
      return planned < 0 ? crews : [planned, ...crews.filter((each) => each !== planned)]
    }),
    expected: Int32Array.from(expected.steps, (step) => step.minutes),
    waitingFor,
    opensWindow,
    glueUp: gluedAgain(compiled),
    crack: madeAgain(compiled, order),
  }
}

/** A glue-up that fails is found out when the clamps come off: the joint is cut anew and glued once more. */
function gluedAgain({ problem, stepCount, indexOfStep, minutes }: Compiled): Redone {
  const mayHappen = new Uint8Array(stepCount)
  const times = new Float64Array(stepCount).fill(1)
  const wait = new Float64Array(stepCount)
  for (const lag of problem.lags) {
    if (lag.wait !== 'in-clamps') continue
    const step = indexOfStep.get(lag.from)!
    const leading = problem.lags.find(({ to }) => to === lag.from)
    const before = leading === undefined ? 0 : minutes[indexOfStep.get(leading.from)!]!
    mayHappen[step] = 1
    times[step] = (TAKEN_APART * (before + minutes[step]!)) / Math.max(1, minutes[step]!)
    wait[step] = Math.max(wait[step]!, lag.minMin)
  }
  return { mayHappen, times, wait }
}

/** A piece that cracks is made again from the start; where it does is taken to be half way through. */
function madeAgain({ problem, stepCount, minutes, indexOfStep }: Compiled, order: Int32Array): Redone {
  const mayHappen = new Uint8Array(stepCount)
  const times = new Float64Array(stepCount).fill(1)
  const wait = new Float64Array(stepCount)
  const waits = new Float64Array(stepCount)
  for (const { from, minMin } of problem.lags) {
    const step = indexOfStep.get(from)!
    waits[step] = Math.max(waits[step]!, minMin)
  }
  const left = new Map<string, number[]>()
  for (const step of order) {
    const { pieceId } = problem.steps[step]!
    const steps = left.get(pieceId)
    if (steps === undefined) left.set(pieceId, [step])
    else steps.push(step)
  }
  const all = Map.groupBy(problem.steps.keys(), (step) => problem.steps[step]!.pieceId)
  for (const [piece, steps] of left) {
    const ofPiece = all.get(piece)!
    const halfWay = steps[Math.max(0, Math.floor(ofPiece.length / 2) - (ofPiece.length - steps.length))]!
    if (ofPiece.length - steps.length > ofPiece.length / 2 || minutes[halfWay] === 0) continue
    const isBefore = new Set(steps.slice(steps.indexOf(halfWay) + 1))
    const again = ofPiece.filter((step) => !isBefore.has(step))
    mayHappen[halfWay] = 1
    times[halfWay] = again.reduce((sum, step) => sum + minutes[step]!, 0) / minutes[halfWay]!
    wait[halfWay] = again.reduce((sum, step) => sum + (step === halfWay ? 0 : waits[step]!), 0)
  }
  return { mayHappen, times, wait }
}

/** Minutes of every wait in each replication; null where they are certain. */
export const waitsOf = (
  { compiled: { problem, lagFrom, lagTo } }: Course,
  draws: Draws,
): readonly (Int32Array | null)[] =>
  problem.lags.map((lag, at) => draws.wait(lag, problem.steps[lagFrom[at]!]!, problem.steps[lagTo[at]!]!))

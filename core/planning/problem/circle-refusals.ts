import type { Problem } from '../../problems.ts'
import { circleOf } from './circles.ts'
import { groupedBy, type Grouped } from './grouped.ts'
import type { Lag, PlanningProblem } from './model.ts'
import { positionsOf } from './positions.ts'
import { stepProblem } from './step-problem.ts'
import { stepWords } from '../reasons/step-words.ts'

/** Steps that wait for each other. */
export function circleProblems(input: PlanningProblem): Problem[] {
  const circle = circleOf(arcsOf(input, ({ minMin }) => minMin >= 0))
  if (circle === null) return []
  const steps = circle.map((position) => input.steps[position]!)
  const chain = [...steps, steps[0]!].map(({ name }) => `“${name}”`).join(' before ')
  return [
    stepProblem(
      steps[0]!,
      'circle',
      `These steps wait for each other in a circle: ${chain}. Take one of the waits out.`,
    ),
  ]
}

/** The steps to which lags lead from each step. */
function arcsOf({ steps, lags }: PlanningProblem, counts: (lag: Lag) => boolean): Grouped {
  const positions = positionsOf(steps)
  const tails = new Int32Array(lags.length)
  const heads = new Int32Array(lags.length)
  lags.forEach((lag, index) => {
    tails[index] = counts(lag) ? positions.get(lag.from)! : -1
    heads[index] = positions.get(lag.to)!
  })
  const { from, items } = groupedBy(tails, steps.length)
  return { from, items: items.map((lag) => heads[lag]!) }
}

/** Holds until a step that does not come later. */
export function holdProblems(input: PlanningProblem): Problem[] {
  const { steps, stations } = input
  const positions = positionsOf(steps)
  const ways = new Ways(arcsOf(input, () => true))
  const found: Problem[] = []
  steps.forEach((step, position) => {
    for (const { until, station } of step.holds) {
      if (!('step' in until)) continue
      const target = positions.get(until.step)!
      if (steps[target]!.state.kind !== 'to-do' || ways.lead(position, target)) continue
      const { name } = stations[positionsOf(stations).get(station)!]!
      found.push(
        stepProblem(
          step,
          'hold-never-ends',
          `${stepWords(step)} takes ${name} until ${stepWords(steps[target]!)}, which does not come after it: let a wait lead from the one to the other, or free ${name} at another step.`,
        ),
      )
    }
  })
  return found
}

class Ways {
  readonly #arcs: Grouped
  /** Number of the question in which each step was last come by. */
  readonly #seen: Int32Array
  #question = 0

  constructor(arcs: Grouped) {
    this.#arcs = arcs
    this.#seen = new Int32Array(arcs.from.length - 1)
  }

  /** Whether arcs lead from the one step to the other; near ones are found first. */
  lead(from: number, to: number): boolean {
    const { from: first, items } = this.#arcs
    const question = ++this.#question
    const queue = [from]
    for (let position = 0; position < queue.length; position++) {
      const step = queue[position]!
      for (let at = first[step]!; at < first[step + 1]!; at++) {
        const after = items[at]!
        if (after === to) return true
        if (this.#seen[after] === question) continue
        this.#seen[after] = question
        queue.push(after)
      }
    }
    return false
  }
}

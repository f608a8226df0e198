import { problem, type Problem } from '../../problems.ts'
import { circleProblems, holdProblems } from './circle-refusals.ts'
import { fitProblems } from './fit-refusals.ts'
import { LATEST } from './instants.ts'
import type { PlanMaker, PlanningProblem } from './model.ts'
import { positionsOf } from './positions.ts'
import { findLagShapeProblems, findStepShapeProblems, idsOf } from './shape-refusals.ts'
import { isInstant, isMinutes } from './sound-numbers.ts'

/** More than this and only the first ones are named. */
const MOST_PROBLEMS = 50
/** Crews are counted in combinations; beyond this many makers the planner does not go. */
const MOST_MAKERS = 30

/**
 * What makes a problem senseless or impossible, before anything is planned; empty when nothing does. `field` is
 * `steps.<id>`, `stations.<id>`, `makers.<id>`, `clocks.<id>` or `commissions.<id>`. A lag is named at the step that it leads to.
 */
export function refusals(input: PlanningProblem): readonly Problem[] {
  const shop = [
    ...instantProblems(input),
    ...makerProblems(input),
    ...stationProblems(input),
    ...clockProblems(input),
    ...commissionProblems(input),
  ]
  const found = [...shop, ...twinIds(input)]
  const ids = idsOf(input)
  for (const step of input.steps) findStepShapeProblems(found, ids, step, input.now)
  for (const lag of input.lags) findLagShapeProblems(found, input, ids, lag)
  // Whether a step fits can only be asked of numbers that make sense.
  if (found.length === 0) found.push(...fitProblems(input), ...circleProblems(input), ...holdProblems(input))
  return found.slice(0, MOST_PROBLEMS)
}

function instantProblems({ now }: PlanningProblem): Problem[] {
  return isInstant(now)
    ? []
    : [
        problem(
          'bad-instant',
          'The present must be a whole minute of this age: check the clock of the computer.',
          'now',
        ),
      ]
}

function makerProblems({ makers }: PlanningProblem): Problem[] {
  const found: Problem[] = []
  if (makers.length > MOST_MAKERS) {
    found.push(
      problem(
        'too-many-makers',
        `The shop has ${makers.length} makers; the planner knows at most ${MOST_MAKERS}.`,
        'makers',
      ),
    )
  }
  for (const maker of makers) {
    const field = `makers.${maker.id}`
    if (!maker.hours.every(({ from, to }) => isInstant(from) && isInstant(to) && from < to)) {
      found.push(
        problem(
          'bad-hours',
          `Hours of ${maker.name} do not begin before they end: correct them in the almanac.`,
          field,
        ),
      )
    } else if (!areInOrder(maker)) {
      found.push(
        problem(
          'hours-out-of-order',
          `Hours of ${maker.name} overlap or are out of order: list each session once, earliest first.`,
          field,
        ),
      )
    }
  }
  return found
}

const areInOrder = ({ hours }: PlanMaker): boolean =>
  hours.every(({ from }, index) => index === 0 || hours[index - 1]!.to <= from)

function stationProblems({ stations }: PlanningProblem): Problem[] {
  return stations.flatMap(({ id, name, capacity }) =>
    isMinutes(capacity)
      ? []
      : [problem('bad-capacity', `${name} must be a whole number, 0 or more, not ${capacity}.`, `stations.${id}`)],
  )
}

/** No product cures a thousand times as fast as at its reference; beyond that sums of rates lose their minutes. */
const FASTEST = 1000

function clockProblems({ clocks, now }: PlanningProblem): Problem[] {
  return clocks.flatMap(({ id, segments }) => {
    const isSound =
      segments.length > 0 &&
      segments[0]!.from <= now &&
      segments.every(
        ({ from, rate }, index) =>
          Math.abs(from) <= LATEST && rate >= 0 && rate <= FASTEST && (index === 0 || segments[index - 1]!.from < from),
      )
    return isSound
      ? []
      : [
          problem(
            'bad-clock',
            `The cure clock ${id} must begin by now, go forward, and run at rates from 0 to ${FASTEST}.`,
            `clocks.${id}`,
          ),
        ]
  })
}

function commissionProblems({ commissions }: PlanningProblem): Problem[] {
  return commissions.flatMap(({ id, name, promise, weight }) => {
    const field = `commissions.${id}`
    const found: Problem[] = []
    if (!(weight > 0 && weight < 1e6))
      found.push(problem('bad-weight', `The weight of ${name} must be above 0, not ${weight}.`, field))
    if (promise !== null && !isInstant(promise))
      found.push(problem('bad-promise', `The promise of ${name} is not a date: enter it again.`, field))
    return found
  })
}

function twinIds(input: PlanningProblem): Problem[] {
  const groups: readonly (readonly [string, readonly { readonly id: string; readonly name?: string }[]])[] = [
    ['steps', input.steps],
    ['makers', input.makers],
    ['stations', input.stations],
    ['clocks', input.clocks],
    ['commissions', input.commissions],
  ]
  return groups.flatMap(([group, items]) => {
    if (positionsOf(items).size === items.length) return []
    const seen = new Set<string>()
    return items.flatMap(({ id, name }) => {
      if (!seen.has(id)) {
        seen.add(id)
        return []
      }
      return [problem('twin-id', `${name ?? id} is listed twice: each must have an id of its own.`, `${group}.${id}`)]
    })
  })
}

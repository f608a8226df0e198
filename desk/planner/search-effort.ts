import type { Looking, NewWork, PlanningProblem } from '../../core/planning/index.ts'

/** Steps placed in search of a better date for an offer: while somebody types, and when there is time for more. */
const PLACED_AT_ONCE = 4_000
export const PLACED_AT_REST = 40_000

/** So many schedules as that comes to: a large book gets fewer than a small one. */
export const lookingIn = (problem: PlanningProblem, newSteps: number, placed: number): Looking => ({
  schedules: Math.floor(placed / Math.max(1, toDo(problem) + newSteps)),
  seed: 1,
})

/** How long a better date is looked for in a book of this size. @param atRest nobody types at this moment */
export const effortIn = (shop: PlanningProblem, { steps }: NewWork, atRest: boolean): Looking =>
  lookingIn(shop, steps.length, atRest ? PLACED_AT_REST : PLACED_AT_ONCE)

const toDo = ({ steps }: PlanningProblem): number => steps.filter(({ state }) => state.kind === 'to-do').length

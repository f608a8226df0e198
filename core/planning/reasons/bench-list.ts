import type { Interval, Plan, PlanningProblem } from '../problem/model.ts'
import { dustBeforeFinish } from './dust-before-finish.ts'

/** Work of an order that the plan has done so long before its aim may wait for work of one that it has late. */
const MAY_WAIT_MIN = 2 * 1440

/**
 * Steps to do in the order in which a maker takes them: what the plan has for this session as it has it (so that waits use the night,
 * setups are shared and dust has settled before a coat), only that work of an order whose aim the plan misses goes before work of orders
 * that are days ahead of theirs; and when that is done or cannot be started, work of the orders that are promised soonest. Before a coat
 * that would keep dust down for the rest of the session goes as much dusty work as there is time for. Whoever works goes through the list
 * and takes the first that can be started and fits what is left of the session.
 * @param session the one that runs or comes next; null: nobody has hours
 * @returns ids of the steps of the plan that are still to do
 */
export function benchList(problem: PlanningProblem, plan: Plan, session: Interval | null): string[] {
  const { steps, commissions } = problem
  const aims = new Map(commissions.map(({ id, aim, promise }) => [id, aim ?? promise ?? Infinity]))
  const aimOfStep = new Map(
    steps.flatMap(({ id, commissionId, state }) =>
      state.kind === 'to-do' ? [[id, aims.get(commissionId) ?? Infinity] as const] : [],
    ),
  )
  const closes = session?.to ?? Infinity
  const toDo = plan.steps.filter(({ id }) => aimOfStep.has(id))
  const now = toDo.filter(({ start }) => start < closes).toSorted((a, b) => a.start - b.start || a.end - b.end)
  const later = toDo
    .filter(({ start }) => start >= closes)
    .toSorted((a, b) => sooner(aimOfStep.get(a.id)!, aimOfStep.get(b.id)!) || a.start - b.start || a.end - b.end)
  const slack = slackOf(problem, plan, aims)
  const listed = endangeredFirst(now, problem, slack)
  const hasTime = (step: string): boolean => slack(step) >= MAY_WAIT_MIN
  const list =
    session === null
      ? [...listed, ...later]
      : dustBeforeFinish(problem, { now: listed, later, hours: session, hasTime })
  return list.map(({ id }) => id)
}

// Two that are not promised are alike.
const sooner = (a: number, b: number): number => (a === b ? 0 : a - b)

/** Minutes by which the plan has the order of a step done before its aim; below nothing: after it. */
function slackOf({ steps }: PlanningProblem, plan: Plan, aims: ReadonlyMap<string, number>): (step: string) => number {
  const ofOrder = new Map(plan.commissions.map(({ id, doneAt }) => [id, (aims.get(id) ?? Infinity) - doneAt]))
  const orderOf = new Map(steps.map(({ id, commissionId }) => [id, commissionId]))
  return (step) => ofOrder.get(orderOf.get(step) ?? '') ?? Infinity
}

/** A coat stays where the plan has it: it goes on once dust has settled, and dries through the night. */
function endangeredFirst<Step extends { readonly id: string }>(
  steps: readonly Step[],
  { lags }: PlanningProblem,
  slack: (step: string) => number,
): Step[] {
  const coats = new Set(lags.flatMap(({ from, wait }) => (wait === 'drying' ? [from] : [])))
  const mayWait = ({ id }: Step): boolean => slack(id) >= MAY_WAIT_MIN && !coats.has(id)
  const list: Step[] = []
  for (const step of steps) {
    let at = list.length
    if (slack(step.id) < 0) while (at > 0 && mayWait(list[at - 1]!)) at -= 1
    list.splice(at, 0, step)
  }
  return list
}

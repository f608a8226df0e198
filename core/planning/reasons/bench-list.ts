import type { Interval, Plan, PlanningProblem } from '../problem/model.ts'

/**
 * Steps to do in the order in which a maker takes them: what the plan has for this session as it has it (so that waits use the night,
 * setups are shared and dust has settled before a coat), and when that is done or cannot be started, work of the orders that are promised
 * soonest. Whoever works goes through the list and takes the first that can be started and fits what is left of the session.
 * @param session the one that runs or comes next; null: nobody has hours
 * @returns ids of the steps of the plan that are still to do
 */
export function benchList({ steps, commissions }: PlanningProblem, plan: Plan, session: Interval | null): string[] {
  const aims = new Map(commissions.map(({ id, aim, promise }) => [id, aim ?? promise ?? Infinity]))
  const aimOfStep = new Map(
    steps.flatMap(({ id, commissionId, state }) =>
      state.kind === 'to-do' ? [[id, aims.get(commissionId) ?? Infinity] as const] : [],
    ),
  )
  const closes = session?.to ?? Infinity
  return plan.steps
    .flatMap(({ id, start, end }) => {
      const aim = aimOfStep.get(id)
      // Within the session aims do not count.
      return aim === undefined ? [] : [{ id, start, end, after: start < closes ? -Infinity : aim }]
    })
    .sort((a, b) => sooner(a.after, b.after) || a.start - b.start || a.end - b.end)
    .map(({ id }) => id)
}

// Two that are not promised are alike.
const sooner = (a: number, b: number): number => (a === b ? 0 : a - b)

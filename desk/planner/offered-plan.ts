import type { Plan, PlanningProblem } from '../../core/planning/index.ts'
import type { Offered } from './planning-request.ts'

const DAY_MIN = 1440

/**
 * The plan of the offer that was taken, where all that is new in the book is what was offered: so others keep the chances that were told, and
 * the new promise the one that it was given with. Null where it is something else.
 * @param before the book without it
 */
export function planTaken(problem: PlanningProblem, before: PlanningProblem, { newWork, plans }: Offered): Plan | null {
  const known = new Set(before.commissions.map(({ id }) => id))
  const [taken, ...others] = problem.commissions.filter(({ id }) => !known.has(id))
  if (taken?.id !== newWork.commission.id || others.length > 0) return null
  const { quotedFor } = taken
  if (quotedFor === undefined) return null
  const steps = problem.steps.filter(({ commissionId }) => commissionId === taken.id)
  const isSame =
    steps.length === newWork.steps.length &&
    steps.every(({ id, name, minutes }, at) => {
      const asked = newWork.steps[at]!
      return id === asked.id && name === asked.name && minutes === asked.minutes
    })
  if (!isSame) return null
  return (
    plans.find((plan) => {
      const doneAt = plan.commissions.find(({ id }) => id === taken.id)?.doneAt
      return doneAt !== undefined && doneAt <= quotedFor && doneAt > quotedFor - DAY_MIN
    }) ?? null
  )
}

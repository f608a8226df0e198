import { problem, type Problem } from '../../problems.ts'
import type { PlanStep } from './model.ts'

/** What is wrong with a step; it names the commission without which the others can be planned. */
export const stepProblem = (
  { id, commissionId }: Pick<PlanStep, 'id' | 'commissionId'>,
  code: string,
  message: string,
): Problem => ({ ...problem(code, message, `steps.${id}`), commissionId })

import type { BindingChain, Plan, PlanningProblem } from '../core/planning/model.ts'
import type { Wording } from '../core/time/write-instant.ts'
import type { Moment } from './moment.ts'
import type { PlanAnswer } from './planning-request.ts'

/** What decides one commission's date, as sentences, and the one change that would help most. */
export interface WhyDate {
  readonly sentences: readonly string[]
  readonly whatWouldHelp: string | null
}

export const noReason: WhyDate = { sentences: [], whatWouldHelp: null }

export function whyDate(_planned: PlanAnswer | null, _moment: Moment, _commissionId: string): WhyDate {
  return noReason
}

export function whySentences(_asked: PlanningProblem, _plan: Plan, _chain: BindingChain, _wording: Wording, _newName: string): string[] {
  return []
}

import type { NewWork, Odds, Quote, Tonight } from '../core/planning/answers.ts'
import type { BindingChain, Plan, PlanningProblem } from '../core/planning/model.ts'
import { plan } from '../core/planning/plan.ts'
import { quote } from '../core/planning/quote.ts'
import { simulate } from '../core/planning/simulate.ts'
import { tonight } from '../core/planning/tonight.ts'
import { bindingChain } from '../core/planning/why.ts'
import { failed, ok, type Problem, type Result } from '../core/problems.ts'

/** What the planner can be asked. Plain data both ways: it crosses to a worker thread. */
export type PlanningRequest =
  | { readonly kind: 'plan'; readonly problem: PlanningProblem }
  | { readonly kind: 'quote'; readonly problem: PlanningProblem; readonly newWork: NewWork; readonly replications: number }
  | {
      readonly kind: 'odds'
      readonly problem: PlanningProblem
      readonly plan: Plan
      readonly commissionId: string
      readonly replications: number
    }

export interface PlanningAnswers {
  readonly plan: PlanAnswer
  readonly quote: Quote
  readonly odds: Odds | null
}

export interface PlanAnswer {
  /** What was planned: the problem without the commissions that could not be. */
  readonly problem: PlanningProblem
  readonly plan: Plan
  readonly chains: readonly BindingChain[]
  readonly tonight: Tonight
  /** Commissions that the planner refused, each with what would do; the others are planned without them. */
  readonly refused: readonly { readonly commissionId: string; readonly problem: Problem }[]
}

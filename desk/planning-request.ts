import { whatWouldHelp, type Help } from '../core/planning/help.ts'
import type { NewWork, Odds, Quote, Tonight } from '../core/planning/answers.ts'
import type { BindingChain, Plan, PlanningProblem } from '../core/planning/model.ts'
import { plan } from '../core/planning/plan.ts'
import { quote } from '../core/planning/quote.ts'
import { simulate } from '../core/planning/simulate.ts'
import { tonight } from '../core/planning/tonight.ts'
import { bindingChains } from '../core/planning/why.ts'
import { failed, ok, type Problem, type Result } from '../core/problems.ts'
import type { BoardOnHand, CuttingPlan, CuttingRules, PartToCut } from '../core/timber/cutting-model.ts'
import { cuttingPlan, type CuttingOptions } from '../core/timber/cutting-plan.ts'

/** What the planner can be asked. Plain data both ways: it crosses to a worker thread. */
export type PlanningRequest =
  | { readonly kind: 'plan'; readonly problem: PlanningProblem }
  | {
      readonly kind: 'quote'
      readonly problem: PlanningProblem
      readonly newWork: NewWork
      /** The plan as it stands without the new work; null: made anew. */
      readonly current: Plan | null
      readonly attendance: Attendance
      readonly replications: number
    }
  | { readonly kind: 'help'; readonly problem: PlanningProblem; readonly plan: Plan; readonly chain: BindingChain }
  | {
      readonly kind: 'odds'
      readonly problem: PlanningProblem
      readonly plan: Plan
      readonly commissionId: string
      readonly attendance: Attendance
      readonly replications: number
    }
  | {
      readonly kind: 'cutting'
      readonly parts: readonly PartToCut[]
      readonly boards: readonly BoardOnHand[]
      readonly rules: CuttingRules
      readonly options: CuttingOptions
    }

/** How often each maker gets to the shop at all when the hours say so, 0..1. */
export type Attendance = readonly { readonly maker: string; readonly rate: number }[]

export interface PlanningAnswers {
  readonly plan: PlanAnswer
  readonly help: Help | null
  readonly quote: Quote
  readonly odds: Odds | null
  readonly cutting: CuttingPlan
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

/** Answers one question; runs on the worker thread. */
export function answerPlanning(request: PlanningRequest): Result<PlanningAnswers[PlanningRequest['kind']]> {
  switch (request.kind) {
    case 'plan':
      return planBook(request.problem)
    case 'quote':
      return quote(request.problem, request.newWork, {
        replications: request.replications,
        attendance: request.attendance,
        ...(request.current === null ? {} : { current: request.current }),
      })
    case 'cutting':
      return ok(cuttingPlan(request.parts, request.boards, request.rules, request.options))
    case 'help':
      return ok(whatWouldHelp(request.problem, request.plan, request.chain))
    case 'odds': {
      const { problem, replications, attendance, commissionId } = request
      return ok(
        simulate(problem, request.plan, { replications, attendance, commissions: [commissionId] })[0]?.odds ?? null,
      )
    }
  }
}

/** Plans the book. A commission that is refused is left out with its reason, so that it does not take the others' dates. */
export function planBook(problem: PlanningProblem): Result<PlanAnswer> {
  const refused: { commissionId: string; problem: Problem }[] = []
  let asked = problem
  for (;;) {
    const made = plan(asked)
    if (made.ok)
      return ok({
        problem: asked,
        plan: made.value,
        chains: bindingChains(asked, made.value),
        tonight: tonight(asked, made.value),
        refused,
      })
    const named = made.problems.flatMap((each) => {
      const commissionId = commissionNamed(each, asked)
      return commissionId === null ? [] : [{ commissionId, problem: each }]
    })
    if (named.length === 0) return failed(...made.problems)
    refused.push(...new Map(named.map((each) => [each.commissionId, each])).values())
    asked = withoutCommissions(asked, new Set(named.map((each) => each.commissionId)))
  }
}

/** The commission of the step that a refusal is about: its field is `steps.<id>`. */
function commissionNamed({ field }: Problem, problem: PlanningProblem): string | null {
  const stepId = field?.startsWith('steps.') ? field.slice('steps.'.length) : undefined
  return problem.steps.find((step) => step.id === stepId)?.commissionId ?? null
}

/** The problem as if these commissions were not there. */
export function withoutCommissions(problem: PlanningProblem, commissions: ReadonlySet<string>): PlanningProblem {
  const steps = problem.steps.filter((step) => !commissions.has(step.commissionId))
  const ids = new Set(steps.map((step) => step.id))
  return {
    ...problem,
    commissions: problem.commissions.filter((commission) => !commissions.has(commission.id)),
    steps,
    lags: problem.lags.filter((lag) => ids.has(lag.from) && ids.has(lag.to)),
    announced: problem.announced.filter((start) => ids.has(start.step)),
  }
}

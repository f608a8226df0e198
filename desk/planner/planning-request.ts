import { capital } from '../../core/capital.ts'
import {
  type Addition,
  bindingChain,
  type CureClock,
  type Forecast,
  helpWords,
  type LateBy,
  type NewWork,
  type Odds,
  type OfferKind,
  plan,
  type Plan,
  type PlannedStep,
  type PlanningProblem,
  type PromiseChance,
  quote,
  simulate,
  tonight,
  type Tonight,
  whatWouldHelp,
  whatWouldHelpPromise,
  withNewWork,
} from '../../core/planning/index.ts'
import { sayChance } from '../../core/book/chance.ts'
import { failed, ok, problem as problemOf, type Result } from '../../core/problems.ts'
import type { BoardOnHand, CuttingPlan, CuttingRules, PartToCut } from '../../core/timber/cutting-model.ts'
import { cuttingPlan, type CuttingOptions } from '../../core/timber/cutting-plan.ts'
import type { Wording } from '../../core/time/write-instant.ts'
import { laterOrdersSentence, sessionWords, whySentences } from './why-sentences.ts'
import { type Planned, planBook, withoutCommissions } from './plan-book.ts'
import { effortIn } from './search-effort.ts'

/**
 * What the planner can be asked. Plain data both ways, as it crosses to a worker thread. The planner keeps what it planned
 * last; questions about dates are about that, and do not bring it along.
 */
export type PlanningRequest =
  /** Plans the book anew, from the plan before where that still holds. */
  | { readonly kind: 'plan'; readonly problem: PlanningProblem }
  | {
      readonly kind: 'quote'
      readonly newWork: NewWork
      readonly clocks: readonly CureClock[]
      /** Null: dates alone. */
      readonly odds: { readonly forecast: Forecast; readonly replications: number } | null
      /** Also what more hours or stations would buy. */
      readonly withMore: boolean
      readonly wording: Wording
    }
  | { readonly kind: 'why'; readonly commissionId: string; readonly wording: Wording }
  /** What would make its promise surer, where that is in danger; else what would bring its date nearest. */
  | {
      readonly kind: 'help'
      readonly commissionId: string
      /** What could be planned otherwise, beside what the planner thinks of itself. */
      readonly more: readonly Addition[]
      readonly forecast: Forecast
      readonly wording: Wording
    }
  /** Odds of every order that has a plan. */
  | { readonly kind: 'all-odds'; readonly forecast: Forecast; readonly replications: number }
  /** Plans the book as if something in it were changed, from the plan before, and keeps nothing of it. */
  | {
      readonly kind: 'changed-book'
      readonly problem: PlanningProblem
      /** Null: dates alone. */
      readonly odds: { readonly forecast: Forecast; readonly replications: number } | null
    }
  /** Plans something that is not in the book, by itself. */
  | { readonly kind: 'example'; readonly problem: PlanningProblem }
  | {
      readonly kind: 'cutting'
      readonly parts: readonly PartToCut[]
      readonly boards: readonly BoardOnHand[]
      readonly rules: CuttingRules
      readonly options: CuttingOptions
    }

export interface PlanningAnswers {
  readonly plan: PlanAnswer
  readonly quote: QuoteAnswer
  /** What decides a date, as sentences, first cause first; empty where nothing of it is planned. */
  readonly why: readonly string[]
  /** What would help, as a sentence or two. */
  readonly help: string | null
  readonly 'all-odds': AllOdds
  readonly 'changed-book': ChangedBook
  readonly example: Plan
  readonly cutting: CuttingPlan
}

/** Odds of every order of which something is left to do, with the version of the plan that they are about. */
export interface AllOdds {
  readonly version: number
  readonly orders: readonly { readonly commissionId: string; readonly odds: Odds }[]
}

/** A plan of the book as if it were changed, and the odds of every order then; none where only dates were asked for. */
export interface ChangedBook {
  readonly plan: Plan
  readonly refused: Planned['refused']
  readonly orders: AllOdds['orders']
}

export interface PlanAnswer {
  /** Goes up with every planning: tells a better plan of this book from one of an earlier book. */
  readonly version: number
  readonly plan: Plan
  readonly tonight: Tonight
  readonly refused: Planned['refused']
}

export interface QuoteAnswer {
  readonly offers: readonly QuotedOffer[]
  /** The new steps as the first offer has them. */
  readonly steps: readonly PlannedStep[]
}

export interface QuotedOffer {
  readonly kind: OfferKind
  readonly doneAt: number
  readonly odds: Odds | null
  readonly others: readonly PromiseChance[]
  readonly keepsPromises: boolean
  readonly late: readonly LateBy[]
  readonly why: readonly string[]
}

type AboutPlan = Exclude<PlanningRequest, { readonly kind: 'plan' | 'cutting' | 'example' }>

/** What was offered for new work, each with its plan. */
export interface Offered {
  readonly newWork: NewWork
  readonly forecast: Forecast
  readonly plans: readonly Plan[]
}

/**
 * Answers a question about what was planned last, as version `version`.
 * @param offered hears the plans of what may be promised: whatever is taken goes on from one of them
 */
export function answerAbout(
  version: number,
  planned: Planned,
  request: AboutPlan,
  offered: (offers: Offered) => void,
): Result<PlanningAnswers[AboutPlan['kind']]> {
  const { problem, plan: made } = planned
  switch (request.kind) {
    case 'quote':
      return quoteFrom(planned, request, offered)
    case 'why':
      return ok(whySentences(problem, bindingChain(problem, made, request.commissionId), request.wording))
    case 'help':
      return ok(helpSentence(planned, request))
    case 'all-odds':
      return ok({ version, orders: oddsOfAll(problem, made, request) })
    case 'changed-book':
      return changedBook(made, request)
  }
}

function oddsOfAll(
  problem: PlanningProblem,
  made: Plan,
  { replications, forecast }: { readonly replications: number; readonly forecast: Forecast },
): AllOdds['orders'] {
  const open = new Set(problem.steps.filter(({ state }) => state.kind !== 'done').map((step) => step.commissionId))
  return open.size === 0 ? [] : simulate(problem, made, { replications, forecast, commissions: [...open] })
}

function changedBook(
  earlier: Plan,
  { problem, odds }: Extract<PlanningRequest, { readonly kind: 'changed-book' }>,
): Result<ChangedBook> {
  const made = planBook(problem, earlier, 'freely')
  if (!made.ok) return made
  const { problem: asked, plan: changed, refused } = made.value
  return ok({ plan: changed, refused, orders: odds === null ? [] : oddsOfAll(asked, changed, odds) })
}

/** Replications for each of the things that might help: a tenth more or less is seen with so many. */
const HELP_REPLICATIONS = 100

function helpSentence(
  { problem, plan: made, refused }: Planned,
  { commissionId, more: asked, forecast, wording }: Extract<PlanningRequest, { readonly kind: 'help' }>,
): string | null {
  const chain = bindingChain(problem, made, commissionId)
  if (chain.links.length === 0) return null
  const without = new Set(refused.map((each) => each.commissionId))
  const more = asked.map((one) =>
    one.kind === 'otherwise' ? { ...one, problem: withoutCommissions(one.problem, without) } : one,
  )
  const helps = whatWouldHelpPromise(problem, made, commissionId, { forecast, replications: HELP_REPLICATIONS, more })
  if (helps.length > 0)
    return helps.map(({ addition, chance }) => `${capital(addition.name)}: ${sayChance(chance)}.`).join(' ')
  const help = whatWouldHelp(problem, made, chain, more)
  return help && helpWords(help, { at: (instant) => sessionWords(instant, problem.now, wording) })
}

/** Which part comes from which board: a question that brings along all that it is about. */
export const answerCutting = (request: Extract<PlanningRequest, { readonly kind: 'cutting' }>): Result<CuttingPlan> =>
  ok(cuttingPlan(request.parts, request.boards, request.rules, request.options))

/** A plan of what is not in the book. */
export const answerExample = ({ problem }: Extract<PlanningRequest, { readonly kind: 'example' }>): Result<Plan> =>
  plan(problem)

/** What a question is answered with while there is no plan. */
export const nothingPlanned = failed(
  problemOf('no-plan', 'There is no plan of the present orders yet. Look at what is in the way, or try again.'),
)

function quoteFrom(
  { problem, plan: current }: Planned,
  request: Extract<PlanningRequest, { readonly kind: 'quote' }>,
  offered: (offers: Offered) => void,
): Result<QuoteAnswer> {
  const { newWork, clocks, odds, withMore, wording } = request
  const known = new Set(problem.clocks.map(({ id }) => id))
  const shop = { ...problem, clocks: [...problem.clocks, ...clocks.filter(({ id }) => !known.has(id))] }
  const answer = quote(shop, newWork, {
    current,
    ...effortIn(shop, newWork, odds !== null),
    ...(odds === null ? {} : { odds }),
    ...(withMore ? { additions: 'likely' } : {}),
  })
  if (!answer.ok) return answer
  // Nothing is promised by dates alone.
  if (odds !== null)
    offered({ newWork, forecast: odds.forecast, plans: answer.value.offers.map((offer) => offer.plan) })
  const joined = withNewWork(shop, newWork)
  const isNew = new Set(newWork.steps.map(({ id }) => id))
  const first = answer.value.offers[0]?.plan.steps ?? []
  return ok({
    offers: answer.value.offers.map(({ kind, doneAt, odds: chances, others, keepsPromises, late, chain }) => ({
      kind,
      doneAt,
      odds: chances,
      others,
      keepsPromises,
      late,
      why: [
        ...whySentences(joined, chain, wording),
        ...(chances === null || odds === null
          ? []
          : laterOrdersSentence(problem.now, chances.reached80, odds.forecast.ordersPerWeek)),
      ],
    })),
    steps: first.filter(({ id }) => isNew.has(id)),
  })
}

export const planAnswer = (version: number, { problem, plan: made, refused }: Planned): PlanAnswer => ({
  version,
  plan: made,
  tonight: tonight(problem, made),
  refused,
})

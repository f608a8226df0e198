import {
  type Addition,
  bindingChain,
  type CureClock,
  fittedIn,
  type Forecast,
  helpWords,
  type LateBy,
  type Looking,
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
import { failed, ok, problem as problemOf, type Problem, type Result } from '../../core/problems.ts'
import type { BoardOnHand, CuttingPlan, CuttingRules, PartToCut } from '../../core/timber/cutting-model.ts'
import { cuttingPlan, type CuttingOptions } from '../../core/timber/cutting-plan.ts'
import { writeDayAndTime, type Wording } from '../../core/time/write-instant.ts'
import { laterOrdersSentence, whySentences } from './why-sentences.ts'

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

/** What was planned: the problem without the commissions that could not be, and the plan. */
export interface Planned {
  readonly problem: PlanningProblem
  readonly plan: Plan
  /** Commissions that the planner refused, each with what would do; the others are planned without them. */
  readonly refused: readonly { readonly commissionId: string; readonly problem: Problem }[]
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

/** Answers a question about what was planned last, as version `version`. */
export function answerAbout(
  version: number,
  planned: Planned,
  request: AboutPlan,
): Result<PlanningAnswers[AboutPlan['kind']]> {
  const { problem, plan: made } = planned
  switch (request.kind) {
    case 'quote':
      return quoteFrom(planned, request)
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
  const made = planBook(problem, earlier)
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
  return help && helpWords(help, { at: (instant) => writeDayAndTime(instant, wording) })
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)

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

/** Steps placed in search of a better date for an offer: while somebody types, and when there is time for more. */
const PLACED_AT_ONCE = 4_000
const PLACED_AT_REST = 40_000

/** So many schedules as that comes to: a large book gets fewer than a small one. */
const lookingIn = (problem: PlanningProblem, newSteps: number, placed: number): Looking => ({
  schedules: Math.floor(placed / Math.max(1, toDo(problem) + newSteps)),
  seed: 1,
})

/** How long a better date is looked for in a book of this size. @param atRest nobody types at this moment */
export const effortIn = (shop: PlanningProblem, { steps }: NewWork, atRest: boolean): Looking =>
  lookingIn(shop, steps.length, atRest ? PLACED_AT_REST : PLACED_AT_ONCE)

const toDo = ({ steps }: PlanningProblem): number => steps.filter(({ state }) => state.kind === 'to-do').length

function quoteFrom(
  { problem, plan: current }: Planned,
  request: Extract<PlanningRequest, { readonly kind: 'quote' }>,
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

/** From an earlier plan, its two readings and one schedule by rule. */
const SCHEDULES_FROM_EARLIER = 3

/**
 * Plans the book. A commission that is refused is left out with its reason, so that it does not take the others' dates.
 * @param earlier plan of an earlier state of the book, to start from
 */
export function planBook(problem: PlanningProblem, earlier: Plan | null = null): Result<Planned> {
  const refused: { commissionId: string; problem: Problem }[] = []
  let asked = problem
  for (;;) {
    const made = planFrom(asked, earlier)
    if (made.ok) return ok({ problem: asked, plan: made.value, refused })
    const named = made.problems.flatMap((each) => {
      const commissionId = commissionNamed(each, asked)
      return commissionId === null ? [] : [{ commissionId, problem: each }]
    })
    if (named.length === 0) return failed(...made.problems)
    refused.push(...new Map(named.map((each) => [each.commissionId, each])).values())
    asked = withoutCommissions(asked, new Set(named.map((each) => each.commissionId)))
  }
}

/** Where nothing can be made of the earlier plan any more, rules alone make one. */
function planFrom(problem: PlanningProblem, earlier: Plan | null): Result<Plan> {
  if (earlier === null) return plan(problem)
  const start = withNewcomer(problem, earlier) ?? earlier
  const made = plan(problem, { start, schedules: SCHEDULES_FROM_EARLIER })
  return made.ok ? made : plan(problem)
}

/** What has just been agreed on is fitted in as it was quoted; null where that is not what is new. */
function withNewcomer(problem: PlanningProblem, earlier: Plan): Plan | null {
  const planned = new Set(earlier.steps.map(({ id }) => id))
  const newSteps = problem.steps.filter(({ id, state }) => state.kind === 'to-do' && !planned.has(id))
  const [newcomer, ...others] = new Set(newSteps.map(({ commissionId }) => commissionId))
  if (newcomer === undefined || others.length > 0) return null
  if (problem.steps.some(({ id, commissionId }) => commissionId === newcomer && planned.has(id))) return null
  return fittedIn(problem, newcomer, earlier, lookingIn(problem, 0, PLACED_AT_REST))
}

/** The commission of the step that a refusal is about: its field is `steps.<id>`. */
function commissionNamed({ field }: Problem, problem: PlanningProblem): string | null {
  const stepId = field?.startsWith('steps.') ? field.slice('steps.'.length) : undefined
  return problem.steps.find((step) => step.id === stepId)?.commissionId ?? null
}

/** The problem as if these commissions were not there. */
function withoutCommissions(problem: PlanningProblem, commissions: ReadonlySet<string>): PlanningProblem {
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

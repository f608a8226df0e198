import { parentPort, receiveMessageOnPort, type MessagePort } from 'node:worker_threads'
import {
  type AnnouncedStart,
  PlanGuard,
  type Forecast,
  type Plan,
  type PlanningProblem,
} from '../../core/planning/index.ts'
import { failed, ok, type Result } from '../../core/problems.ts'
import {
  answerAbout,
  answerCutting,
  answerExample,
  nothingPlanned,
  type Offered,
  planAnswer,
  type PlanAnswer,
  type PlanningAnswers,
  type PlanningRequest,
} from './planning-request.ts'
import { planTaken } from './offered-plan.ts'
import { planBook, planOfStarts, type Planned, type TakenAsOffered } from './plan-book.ts'
import { PlansBefore } from './plans-before.ts'
import { PlanSearch, type SearchBudget, type SearchOutcome } from './search-plan.ts'

/** What the desk tells a planning thread. */
export type ToPlanner =
  /** Knows nothing yet, and tells the other thread by this port. */
  | { readonly kind: 'begin'; readonly other: MessagePort; readonly lastPlanned: readonly AnnouncedStart[] }
  /** Nobody asks any more, for now: what is known may go. */
  | { readonly kind: 'forget' }
  | {
      readonly kind: 'ask'
      readonly id: number
      readonly request: PlanningRequest
      /** After planning: look for something better with this budget; null: don't. */
      readonly search: SearchBudget | null
    }
  | { readonly kind: 'search'; readonly budget: SearchBudget }
  | { readonly kind: 'stop' }

/** What a planning thread tells the desk. */
export type FromPlanner =
  | { readonly kind: 'answer'; readonly id: number; readonly answer: Result<PlanningAnswers[PlanningRequest['kind']]> }
  | { readonly kind: 'news'; readonly news: SearchNews }

/** How the search for a better plan of one version gets on. */
export type SearchNews =
  | { readonly kind: 'searching'; readonly version: number; readonly share: number }
  | {
      readonly kind: 'over'
      readonly version: number
      readonly outcome: SearchOutcome
      /** The plan to be shown from now on, where a better one was found. */
      readonly better: PlanAnswer | null
    }

/** What the two planning threads tell each other. */
type BetweenPlanners =
  | {
      readonly kind: 'planned'
      readonly version: number
      readonly planned: Planned
      readonly search: SearchBudget | null
    }
  | { readonly kind: 'better'; readonly version: number; readonly plan: Plan }
  | { readonly kind: 'offered'; readonly version: number; readonly offers: Offered }

/** Replications with which what a search has found is weighed. */
const LOOKS = 100
/** Milliseconds between two reports of a search. */
const REPORT_MS = 1000

const desk = parentPort!
let other: MessagePort | null = null
let standing: { readonly version: number; readonly planned: Planned } | null = null
let plansBefore = new PlansBefore()
let search: PlanSearch | null = null
/** What a search that cannot be weighed yet waits with. */
let toBegin: SearchBudget | null = null
let searches = 0
let reportedMs = 0
/** What was last told of how work and evenings turn out. */
let forecast: Forecast | null = null
/** The best plan that the other thread has been told of. */
let passedOn: Plan | null = null
/** What is known of the plan of whoever had the book before. */
let planOfBefore: Plan | null = null
/** What was offered last, in the plan of one version. */
let offered: { readonly version: number; readonly offers: Offered } | null = null

desk.on('message', (message: ToPlanner) => {
  // The desk knows of a plan as soon as this: what it asks is about the plan that it saw.
  hearOther()
  switch (message.kind) {
    case 'begin':
      begin(message.other, message.lastPlanned)
      return
    case 'forget':
      forget()
      return
    case 'ask':
      tell({ kind: 'answer', id: message.id, answer: answerOf(message) })
      return
    case 'search':
      beginSearch(message.budget)
      return
    case 'stop':
      if (search !== null) endSearch('stopped')
      else if (toBegin !== null && standing !== null) tellOver(standing.version, 'stopped', null)
      toBegin = null
      return
  }
})

function begin(port: MessagePort, lastPlanned: readonly AnnouncedStart[]): void {
  forget()
  planOfBefore = lastPlanned.length === 0 ? null : planOfStarts(lastPlanned)
  other = port
  other.on('message', hear)
}

function forget(): void {
  other?.close()
  other = null
  standing = null
  search = toBegin = null
  // The seeds of searches count from here, so that what is found depends on the book alone.
  searches = 0
  passedOn = null
  forecast = null
  offered = planOfBefore = null
  plansBefore = new PlansBefore()
}

function hearOther(): void {
  if (other === null) return
  for (let told = receiveMessageOnPort(other); told !== undefined; told = receiveMessageOnPort(other)) {
    hear(told.message as BetweenPlanners)
  }
}

function hear(message: BetweenPlanners): void {
  switch (message.kind) {
    case 'planned':
      standing = { version: message.version, planned: message.planned }
      search = toBegin = null
      if (message.search !== null) beginSearch(message.search)
      return
    case 'better':
      if (standing?.version === message.version) useBetter(message.plan)
      return
    case 'offered':
      offered = message
      return
  }
}

const tell = (message: FromPlanner): void => desk.postMessage(message)
const pass = (message: BetweenPlanners): void => other?.postMessage(message)

function answerOf({ id, request, search: budget }: Extract<ToPlanner, { kind: 'ask' }>): FromPlannerAnswer {
  if (request.kind === 'cutting') return answerCutting(request)
  if (request.kind === 'example') return answerExample(request)
  forecast = forecastIn(request) ?? forecast
  if (forecast !== null && toBegin !== null) beginSearch(toBegin)
  if (request.kind !== 'plan')
    return standing === null
      ? nothingPlanned
      : answerAbout(standing.version, standing.planned, request, keepOffered(standing.version))
  if (standing !== null) plansBefore.keep(standing.planned)
  const known = plansBefore.of(request.problem)
  const earlier = (plansBefore.ofSameSteps(request.problem) ?? standing?.planned)?.plan ?? planOfBefore
  const made = known === null ? planBook(request.problem, earlier, takenOf(request.problem) ?? 'as-it-is') : ok(known)
  if (!made.ok) return failed(...made.problems)
  standing = { version: id, planned: made.value }
  pass({ kind: 'planned', version: id, planned: made.value, search: budget })
  return ok(planAnswer(id, made.value))
}

const keepOffered =
  (version: number) =>
  (offers: Offered): void => {
    offered = { version, offers }
    pass({ kind: 'offered', ...offered })
  }

function takenOf(problem: PlanningProblem): TakenAsOffered | null {
  if (offered === null || standing === null || offered.version !== standing.version) return null
  const plan = planTaken(problem, standing.planned.problem, offered.offers)
  return plan && { offered: plan, forecast: offered.offers.forecast }
}

function forecastIn(request: PlanningRequest): Forecast | null {
  if ('forecast' in request) return request.forecast
  return 'odds' in request ? (request.odds?.forecast ?? null) : null
}

type FromPlannerAnswer = Extract<FromPlanner, { kind: 'answer' }>['answer']

/** Where something is promised a search waits until chances can be weighed: what is better by plan may take from a promise. */
function beginSearch(budget: SearchBudget): void {
  if (standing === null) return
  if (forecast === null && standing.planned.problem.commissions.some(({ promise }) => promise !== null)) {
    toBegin = budget
    return
  }
  toBegin = null
  search = new PlanSearch(standing.planned, budget, ++searches, keepsPromisesOf(standing.planned))
  reportedMs = performance.now()
  passedOn = null
  setImmediate(goOn, search)
}

/** Nothing is promised where no chances are known: see `beginSearch`. */
function keepsPromisesOf({ problem, plan }: Planned): (better: Plan) => boolean {
  let guard: PlanGuard | null = null
  return (better) => {
    if (guard === null && forecast !== null) guard = new PlanGuard(problem, plan, forecast, LOOKS)
    return guard?.keeps(better) ?? true
  }
}

/** A slice at a time, so that questions are answered between two of them. */
function goOn(mine: PlanSearch): void {
  if (mine !== search || standing === null) return
  const outcome = mine.slice()
  if (outcome !== null) return endSearch(outcome)
  if (performance.now() - reportedMs >= REPORT_MS) {
    reportedMs = performance.now()
    passOn(mine, standing.version)
    tell({ kind: 'news', news: { kind: 'searching', version: standing.version, share: mine.share } })
  }
  setImmediate(goOn, mine)
}

function endSearch(outcome: SearchOutcome): void {
  if (search === null || standing === null) return
  const { version } = standing
  const { better } = search
  passOn(search, version)
  search = null
  if (better !== null) useBetter(better)
  tellOver(version, outcome, better === null ? null : planAnswer(version, standing.planned))
}

function tellOver(version: number, outcome: SearchOutcome, better: PlanAnswer | null): void {
  tell({ kind: 'news', news: { kind: 'over', version, outcome, better } })
}

/** The other thread plans the next change from the best plan there is. */
function passOn({ better }: PlanSearch, version: number): void {
  if (better === null || better === passedOn) return
  passedOn = better
  pass({ kind: 'better', version, plan: better })
}

function useBetter(plan: Plan): void {
  if (standing !== null) standing = { ...standing, planned: { ...standing.planned, plan } }
}

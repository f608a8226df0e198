import { failed, ok, type Result } from '../problems.ts'
import type { LateBy, NewWork, Offer, OfferKind, PushedBack, Quote } from './answers.ts'
import { asPlan } from './as-plan.ts'
import { blocksOf } from './blocks.ts'
import { compile } from './compiled.ts'
import type { Plan, PlanningProblem } from './model.ts'
import { withNewWork } from './new-work.ts'
import { refusalOf } from './impossible.ts'
import { plan } from './plan.ts'
import { blocksByCommission, orderByStart, urgentBlocks } from './priority.ts'
import { refusals } from './refusals.ts'
import { Schedule } from './schedule.ts'
import { simulate, type SimulateOptions } from './simulate.ts'
import { bindingChain } from './why.ts'

export interface QuoteOptions {
  /** The plan of the shop's problem as it stands, when there is one: the offers are compared with it. */
  readonly current?: Plan
  /** For the odds of each offer; absent or 0: no odds. */
  readonly replications?: number
  readonly seed?: number
  readonly attendance?: NonNullable<SimulateOptions['attendance']>
}

/** Places in the queue at which the new work is tried, as shares of the open work, the front first. */
const PLACES_IN_QUEUE = [0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.55, 0.8]

/** When new work would be done: without making anybody late to whom something was promised, and as soon as possible. */
export function quote(problem: PlanningProblem, newWork: NewWork, options: QuoteOptions = {}): Result<Quote> {
  const joined = withNewWork(problem, newWork)
  const problems = refusals(joined)
  if (problems.length > 0) return failed(...problems)
  const current = options.current === undefined ? plan(problem) : ok(options.current)
  if (!current.ok) return current

  const compiled = compile(joined)
  const blocks = blocksOf(compiled)
  const schedule = new Schedule(compiled, blocks)
  const commission = compiled.commissionCount - 1
  const mine = blocksByCommission(compiled, blocks, [commission])
  const tried: Plan[] = []
  const note = (isPlaced: boolean): void => {
    if (isPlaced) tried.push(asPlan(schedule, 'first'))
  }

  note(schedule.resume(current.value) && mine.every((block) => schedule.place(block)))
  const isMine = new Set(mine)
  const others = orderByStart(compiled, blocks, current.value).filter((block) => !isMine.has(block))
  const urgent = urgentBlocks(compiled, blocks)
  for (const share of PLACES_IN_QUEUE) {
    const place = Math.round(share * others.length)
    note(schedule.build([...urgent, ...others.slice(0, place), ...mine, ...others.slice(place)]))
  }
  if (tried.length === 0) return failed(refusalOf(schedule))

  const before = new Map(current.value.commissions.map(({ id, doneAt }) => [id, doneAt]))
  const finish = (kind: OfferKind, made: Plan): Offer => offerOf(joined, newWork, before, kind, made, options)
  const kind = newWork.commission.id
  const harmless = tried.filter((made) => lateBy(joined, before, made, kind).length === 0)
  const keeps = bestFor(kind, harmless)
  const soonest = bestFor(kind, tried)!
  const offers: Offer[] = keeps === null ? [] : [finish({ kind: 'keeps-every-promise' }, keeps)]
  if (keeps === null || doneAt(soonest, kind) < doneAt(keeps, kind)) offers.push(finish({ kind: 'soonest' }, soonest))
  return ok({ offers })
}

const doneAt = (made: Plan, commissionId: string): number =>
  made.commissions.find(({ id }) => id === commissionId)?.doneAt ?? Infinity

/** The plan in which the commission is done first; of several the one that is better for the rest. */
function bestFor(commissionId: string, plans: readonly Plan[]): Plan | null {
  let best: Plan | null = null
  for (const made of plans) {
    if (best === null) {
      best = made
      continue
    }
    const sooner = doneAt(made, commissionId) - doneAt(best, commissionId)
    if (sooner < 0 || (sooner === 0 && made.objective.weightedTardiness < best.objective.weightedTardiness)) best = made
  }
  return best
}

function offerOf(
  joined: PlanningProblem,
  newWork: NewWork,
  before: ReadonlyMap<string, number>,
  kind: OfferKind,
  made: Plan,
  options: QuoteOptions,
): Offer {
  const { id } = newWork.commission
  const replications = options.replications ?? 0
  const odds =
    replications < 1
      ? null
      : (simulate(joined, made, {
          replications,
          commissions: [id],
          ...(options.seed === undefined ? {} : { seed: options.seed }),
          ...(options.attendance === undefined ? {} : { attendance: options.attendance }),
        })[0]?.odds ?? null)
  return {
    kind,
    doneAt: doneAt(made, id),
    late: lateBy(joined, before, made, id),
    pushedBack: pushedBack(joined, before, made, id),
    odds,
    chain: bindingChain(joined, made, id),
    plan: made,
  }
}

function lateBy(joined: PlanningProblem, before: ReadonlyMap<string, number>, made: Plan, newId: string): LateBy[] {
  return joined.commissions
    .flatMap(({ id, promise }, index): LateBy[] => {
      if (promise === null || id === newId) return []
      const { doneAt: at, lateMin } = made.commissions[index]!
      const doneBefore = before.get(id) ?? at
      const lateBeforeMin = Math.max(0, doneBefore - promise)
      return lateMin > lateBeforeMin
        ? [{ commissionId: id, promise, doneBefore, doneAt: at, lateMin, lateBeforeMin }]
        : []
    })
    .sort((a, b) => b.lateMin - b.lateBeforeMin - (a.lateMin - a.lateBeforeMin))
}

function pushedBack(
  joined: PlanningProblem,
  before: ReadonlyMap<string, number>,
  made: Plan,
  newId: string,
): PushedBack[] {
  return joined.commissions.flatMap(({ id, promise }, index): PushedBack[] => {
    if (promise !== null || id === newId) return []
    const { doneAt: at } = made.commissions[index]!
    const doneBefore = before.get(id) ?? at
    return at > doneBefore ? [{ commissionId: id, doneBefore, doneAt: at }] : []
  })
}

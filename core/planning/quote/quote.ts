import { failed, ok, type Result } from '../../problems.ts'
import { LEAST_GAIN_MIN, likelyAdditions, withAddition } from './additions.ts'
import type { Addition, LateBy, NewWork, Offer, OfferKind, PushedBack, Quote } from './answers.ts'
import { Guard } from './guard.ts'
import type { Forecast } from '../odds/forecast.ts'
import { doneAt } from './fitted-in.ts'
import { FittingIn, type Looking } from './fitting.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { withNewWork } from '../problem/new-work.ts'
import { plan } from '../search/plan.ts'
import { refusals } from '../problem/refusals.ts'
import { bindingChain } from '../reasons/why.ts'

export interface QuoteOptions {
  /** The plan of the shop's problem as it stands, when there is one: the offers are compared with it. */
  readonly current?: Plan
  /** For the odds of each offer, and of the promises that it must not endanger; absent: no odds, and nobody is guarded. */
  readonly odds?: { readonly forecast: Forecast; readonly replications: number }
  readonly seed?: number
  /**
   * What could be added to the shop (a Saturday, another set of clamps): each that brings the date nearer by at least
   * half a day, with nobody late, becomes an offer. 'likely': what decides the date says what to try. Absent: none.
   */
  readonly additions?: 'likely' | readonly Addition[]
  /** Schedules generated in search of a better date, for each offer. Default 0: what can be told at once. */
  readonly schedules?: number
}

const MOST_WITH_MORE = 3

/**
 * When new work would be done: with every promise as sure as it was, and as soon as possible. With odds the first offer is the
 * soonest one found that the guard lets pass, where there is one; without, the soonest one in which nobody is late by plan.
 */
export function quote(problem: PlanningProblem, newWork: NewWork, options: QuoteOptions = {}): Result<Quote> {
  const joined = withNewWork(problem, newWork)
  const problems = refusals(joined)
  if (problems.length > 0) return failed(...problems)
  const current = options.current === undefined ? plan(problem) : ok(options.current)
  if (!current.ok) return current

  const { id } = newWork.commission
  const fitted = new FittingIn(joined, id, current.value).offers(lookingOf(options))
  if (!fitted.ok) return fitted
  const guard =
    options.odds === undefined ? null : new Guard(problem, current.value, id, { seed: 1, ...options, ...options.odds })
  const { keeps: byPlan, soonest: atOnce } = fitted.value
  // Where nothing passes, what costs others least is offered, and says who gets less sure.
  const keeps = byPlan === null || guard === null ? byPlan : guard.soonestThatPasses(joined, current.value, byPlan)
  const soonest = atOnce ?? (keeps === byPlan ? null : byPlan)
  const before = new Map(current.value.commissions.map((each) => [each.id, each.doneAt]))
  const offer = (shop: PlanningProblem, kind: OfferKind, made: Plan): Offer =>
    offerOf(shop, id, before, kind, made, guard)

  const offers: Offer[] = []
  if (keeps !== null) offers.push(offer(joined, { kind: 'keeps-every-promise' }, keeps))
  if (soonest !== null) offers.push(offer(joined, { kind: 'soonest' }, soonest))
  if (keeps !== null && options.additions !== undefined) {
    const chain = offers[0]!.chain
    const additions = options.additions === 'likely' ? likelyAdditions(joined, chain) : options.additions
    const paying = withMore(joined, id, current.value, keeps, additions, options, offer)
    // Where even the first offer makes others less sure, so may these: each says whom.
    offers.push(...paying.filter((each) => each.keepsPromises || !offers[0]!.keepsPromises))
  }
  return ok({ offers })
}

const lookingOf = ({ schedules = 0, seed = 1 }: QuoteOptions): Looking | null =>
  schedules > 0 ? { schedules, seed } : null

/** The additions that pay, soonest first. */
function withMore(
  joined: PlanningProblem,
  commissionId: string,
  current: Plan,
  without: Plan,
  additions: readonly Addition[],
  options: QuoteOptions,
  offer: (shop: PlanningProblem, kind: OfferKind, made: Plan) => Offer,
): Offer[] {
  const latest = doneAt(without, commissionId) - LEAST_GAIN_MIN
  const paying = additions.flatMap((addition) => {
    const shop = withAddition(joined, addition)
    if (refusals(shop).length > 0) return []
    const fitted = new FittingIn(shop, commissionId, current, without).offers(lookingOf(options))
    const keeps = fitted.ok ? fitted.value.keeps : null
    return keeps === null || doneAt(keeps, commissionId) > latest ? [] : [{ addition, shop, keeps }]
  })
  return paying
    .sort((a, b) => doneAt(a.keeps, commissionId) - doneAt(b.keeps, commissionId))
    .slice(0, MOST_WITH_MORE)
    .map(({ addition, shop, keeps }) => offer(shop, { kind: 'with-more', addition }, keeps))
}

function offerOf(
  shop: PlanningProblem,
  commissionId: string,
  before: ReadonlyMap<string, number>,
  kind: OfferKind,
  made: Plan,
  guard: Guard | null,
): Offer {
  const late = lateBy(shop, before, made, commissionId)
  const weighed = guard?.weigh(shop, made) ?? { odds: null, others: [], keepsPromises: late.length === 0 }
  return {
    kind,
    doneAt: doneAt(made, commissionId),
    late,
    pushedBack: pushedBack(shop, before, made, commissionId),
    ...weighed,
    chain: bindingChain(shop, made, commissionId),
    plan: made,
  }
}

function lateBy(shop: PlanningProblem, before: ReadonlyMap<string, number>, made: Plan, newId: string): LateBy[] {
  return shop.commissions
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
  shop: PlanningProblem,
  before: ReadonlyMap<string, number>,
  made: Plan,
  newId: string,
): PushedBack[] {
  return shop.commissions.flatMap(({ id, promise }, index): PushedBack[] => {
    if (promise !== null || id === newId) return []
    const { doneAt: at } = made.commissions[index]!
    const doneBefore = before.get(id) ?? at
    return at > doneBefore ? [{ commissionId: id, doneBefore, doneAt: at }] : []
  })
}

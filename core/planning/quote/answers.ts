import type { BindingChain, Interval, PlanCommission, Lag, Plan, PlanningProblem, PlanStep } from '../problem/model.ts'

/** How often a date is kept, from replications with uncertain work, waits and evenings. All instants. */
export interface Odds {
  readonly replications: number
  /** Done by then 1 time in 2, 4 times in 5, 19 times in 20. */
  readonly reached50: number
  readonly reached80: number
  readonly reached95: number
  /** Instants at which it was done, in every replication, soonest first. */
  readonly done: readonly number[]
  /** The chance that it is done by each of these, with the orders that are expected to be taken until then; never falls. See chanceBy. */
  readonly chances: readonly number[]
  /** Share of replications that are done by the promise, 0..1; null when nothing is promised. */
  readonly keepsPromise: number | null
  /** Mean number of windows (recoat, open time) of this commission missed in a replication. */
  readonly missedWindows: number
}

/** Chance that it is done by an instant, 0..1, orders that are expected to be taken later included. */
export const chanceBy = ({ done, chances }: Pick<Odds, 'done' | 'chances'>, instant: number): number =>
  chances[done.filter((at) => at <= instant).length - 1] ?? 0

/** The same if no order is taken later. */
export const chanceAloneBy = ({ done }: Pick<Odds, 'done'>, instant: number): number =>
  done.filter((at) => at <= instant).length / Math.max(1, done.length)

/** What is asked for and not yet in the plan. Lags may lead from steps of the shop's problem to the new ones. */
export interface NewWork {
  readonly commission: PlanCommission
  readonly steps: readonly PlanStep[]
  readonly lags: readonly Lag[]
}

export interface Quote {
  /** 'keeps-every-promise' first, then 'soonest' where it is sooner, then the ones with more hours, stations, in order of date. */
  readonly offers: readonly Offer[]
}

/** One date that can be offered, with what it costs others. */
export interface Offer {
  readonly kind: OfferKind
  readonly doneAt: number
  /** Who gets later than promised (or later still) by taking the work on this way, worst first. */
  readonly late: readonly LateBy[]
  /** Commissions without a promise that are done later than without the new work. */
  readonly pushedBack: readonly PushedBack[]
  /** Null when no replications were asked for. */
  readonly odds: Odds | null
  /** What taking the work on this way makes of the chances of the other promises; those that lose most first. Empty without odds. */
  readonly others: readonly PromiseChance[]
  /** Whether every other promise stays as likely as it was said to be, see guard.ts; without odds: whether none is late by plan. */
  readonly keepsPromises: boolean
  /** What decides the date. */
  readonly chain: BindingChain
  /** The whole plan with the new work in it. */
  readonly plan: Plan
}

export type OfferKind =
  | { readonly kind: 'keeps-every-promise' }
  | { readonly kind: 'soonest' }
  /** Keeps every promise too, with something added to the shop. */
  | { readonly kind: 'with-more'; readonly addition: Addition }

/** What could be added to the shop, and how it is called. */
export type Addition =
  | { readonly kind: 'hours'; readonly name: string; readonly maker: string; readonly hours: readonly Interval[] }
  /** The room kept as glue and finish want it, night and day. */
  | { readonly kind: 'warmth'; readonly name: string }
  /** Somebody who helps in those hours. */
  | { readonly kind: 'hand'; readonly name: string; readonly hours: readonly Interval[] }
  | { readonly kind: 'station'; readonly name: string; readonly station: string; readonly units: number }
  /** The whole book planned otherwise: a piece in another place, another glue or finish. */
  | { readonly kind: 'otherwise'; readonly name: string; readonly problem: PlanningProblem }

/** The chance of another commission's promise, 0..1, without the new work and with it. */
export interface PromiseChance {
  readonly commissionId: string
  readonly before: number
  readonly after: number
}

export interface LateBy {
  readonly commissionId: string
  readonly promise: number
  readonly doneBefore: number
  readonly doneAt: number
  /** Minutes past the promise with the new work, and without it. */
  readonly lateMin: number
  readonly lateBeforeMin: number
}

export interface PushedBack {
  readonly commissionId: string
  readonly doneBefore: number
  readonly doneAt: number
}

/** What has to be started in the session that runs or comes next, so that the night works. */
export interface Tonight {
  /** The session meant: of the maker whose hours are open now or open first; null when nobody has hours left. */
  readonly session: Interval | null
  /** In order of latest start. */
  readonly items: readonly TonightItem[]
}

export interface TonightItem {
  readonly step: string
  /** The wait that the step sets going: what the night is used for. */
  readonly wait: Lag
  readonly plannedStart: number
  /** Last instant of this session at which it can be started and still be done before the session is over. */
  readonly latestStart: number
  /** When the wait is over if it is done as planned. */
  readonly overAt: number
  /**
   * What is lost if it is left for the next session, its own order first: with the rest of the plan as it is, or with orders that are
   * promised later making room; empty: nothing that anybody waits for.
   */
  readonly ifLeft: readonly LostDate[]
}

export interface LostDate {
  readonly commissionId: string
  readonly doneAt: number
  readonly doneIfLeft: number
  readonly promise: number | null
  readonly lateIfLeftMin: number
}

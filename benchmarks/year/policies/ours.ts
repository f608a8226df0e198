import type { Book, Commission } from '../../../core/book/book.ts'
import type { PromiseRecord } from '../../../core/book/promise.ts'
import { planCommission, planningProblem } from '../../../core/book/planning-problem.ts'
import type { PlanningSetting } from '../../../core/book/planning-setting.ts'
import { standardTimesOf } from '../../../core/almanac/standard-times.ts'
import type { StandardTime } from '../../../core/constructions/shop-facts.ts'
import { airAhead, type AirAhead } from '../../../core/almanac/air-ahead.ts'
import { NO_CHOICES } from '../../../core/almanac/times-in-use.ts'
import { cureClockOf } from '../../../core/almanac/cure-clock.ts'
import { lessSureByRecord, ordersPerWeek } from '../../../core/learning/index.ts'
import {
  chanceAloneBy,
  chanceBy,
  benchList,
  PlanGuard,
  quote,
  type Forecast,
  type CureClock,
  type NewWork,
  type Plan,
  type PlanningProblem,
} from '../../../core/planning/index.ts'
import type { Result } from '../../../core/problems.ts'
import { planBook } from '../../../desk/planner/plan-book.ts'
import { PlanSearch } from '../../../desk/planner/search-plan.ts'
import { DAY_MIN, dayOf, dayOfText, dayText, endOfDay } from '../calendar.ts'
import type { Listed } from '../executor/evening.ts'
import type { OpenOrder, Policy, Promised, ShopView } from '../lived.ts'
import type { Watch } from '../measures/chances-by-cause.ts'
import type { Shop } from '../shop.ts'
import type { WorkOrder } from '../work-order.ts'
import { byEarliestDueDate } from './earliest-due-date.ts'
import { OwnRecord } from './own-record.ts'

/** How much is computed for a quote and for an evening. */
export interface Effort {
  readonly replications: number
  /** Schedules in search of a better date, and of a better plan of an evening. */
  readonly schedules: number
  readonly evening: number
}

/** What the planner is told of the times of this shop. */
export interface TimesKnown {
  /** Factor on the book's minutes of an operation. */
  readonly factor: (operation: string) => number
  readonly forecast: Forecast
}

export interface TimesTold {
  readonly factor: TimesKnown['factor']
  readonly forecast: Omit<Forecast, 'ordersPerWeek' | 'lessSure'>
}

export interface OursOptions {
  readonly name: string
  readonly shop: Shop
  readonly effort: (now: number) => Effort
  /** Orders that come are counted by the policy itself. */
  readonly times: (view: ShopView) => TimesTold
  readonly dispatch: 'plan' | 'earliest-due-date'
  /** Says the day in place of the planner's odds. */
  readonly quoting?: Policy
  /** Told how the shop stands after everything that happens; absent: nobody looks. */
  readonly watch?: Watch
}

/** The app as it is: quotes and plans through the doors that the desk uses. */
export function ours(options: OursOptions): Policy {
  return new Ours(options)
}

class Ours implements Policy {
  readonly name: string
  readonly #options: OursOptions
  readonly #clocks = new Map<string, CureClock>()
  readonly #air: AirAhead
  readonly #standardTimes: ReadonlyMap<string, StandardTime>
  /** When each order was taken, by its customer. */
  readonly #takenAt = new Map<string, number>()
  readonly #numbers = new Map<string, number>()
  readonly #record = new OwnRecord()
  #plan: Plan | null = null
  /** The plan of the last offer, with the order in it. */
  #offered: Plan | null = null
  /** The shop as it was when a day was quoted last. */
  #asked: { readonly view: ShopView; readonly times: TimesKnown } | null = null

  constructor(options: OursOptions) {
    this.name = options.name
    this.#options = options
    this.#standardTimes = standardTimesOf(options.shop.almanac)
    this.#air = airAhead(options.shop.almanac, options.shop.firstDay * DAY_MIN)
  }

  quote(view: ShopView, asked: WorkOrder): Promised {
    const { quoting, effort } = this.#options
    const times = this.#timesAt(view)
    const others = view.open.filter(({ order }) => order.customer.id !== asked.customer.id)
    const problem = this.#problem({ ...view, open: others }, times)
    const planned = must(planBook(problem, this.#plan))
    this.#options.watch?.('evenings', { now: view.now, ...planned, forecast: times.forecast })
    this.#asked = { view: { ...view, open: others }, times }
    const { replications, schedules } = effort(view.now)
    const { newWork, clocks } = this.#workOf(view, asked, times)
    const known = new Set(planned.problem.clocks.map(({ id }) => id))
    const shopProblem = {
      ...planned.problem,
      clocks: [...planned.problem.clocks, ...clocks.filter(({ id }) => !known.has(id))],
    }
    const answer = must(
      quote(shopProblem, newWork, {
        current: planned.plan,
        ...(quoting === undefined ? { odds: { forecast: times.forecast, replications } } : {}),
        schedules,
      }),
    )
    const offer = answer.offers[0]!
    this.#plan = planned.plan
    this.#offered = quoting === undefined ? offer.plan : null
    if (quoting !== undefined) return { ...quoting.quote(view, asked), plannedAt: offer.doneAt }
    const { reached50, reached80, reached95 } = offer.odds!
    const day = (instant: number): number => endOfDay(dayOf(instant))
    const dueAt = Math.max(day(reached80), day(offer.doneAt))
    const stated = (instant: number): number => chanceBy(offer.odds!, day(instant))
    return {
      at: view.now,
      dueAt,
      stated: chanceBy(offer.odds!, dueAt),
      alone: chanceAloneBy(offer.odds!, dueAt),
      days: [day(reached50), day(reached80), day(reached95)],
      daysStated: [stated(reached50), stated(reached80), stated(reached95)],
      plannedAt: offer.doneAt,
      pushed: null,
    }
  }

  taken(order: OpenOrder): void {
    const { quoting, watch } = this.#options
    quoting?.taken(order)
    this.#takenAt.set(order.order.customer.id, order.order.askedAt)
    this.#record.promised(order)
    if (this.#asked === null) return
    const { view, times } = this.#asked
    const problem = this.#problem({ ...view, open: [...view.open, order] }, times)
    const offered = this.#offered
    const going = offered === null ? 'as-it-is' : { offered, forecast: times.forecast }
    const planned = must(planBook(problem, this.#plan, going))
    if (this.#offered !== null) this.#plan = planned.plan
    watch?.('orders', { now: view.now, ...planned, forecast: times.forecast })
  }

  list(view: ShopView): readonly Listed[] {
    const { dispatch, effort, watch } = this.#options
    if (dispatch === 'earliest-due-date') return byEarliestDueDate(view)
    const times = this.#timesAt(view)
    const problem = this.#problem(view, times)
    // As after a press: what was taken is fitted in, then a better plan is looked for.
    const first = must(planBook(problem, this.#plan)).plan
    watch?.('evenings', { now: view.now, problem, plan: first, forecast: times.forecast })
    const planned = this.#betterThan(first, problem, times.forecast, effort(view.now))
    this.#plan = planned
    watch?.('plans', { now: view.now, problem, plan: planned, forecast: times.forecast })
    const opensWindow = new Set(problem.lags.filter(({ maxMin }) => maxMin !== null).map(({ from }) => from))
    const minutes = new Map(problem.steps.map((step) => [step.id, step.minutes]))
    const begins = new Map(planned.steps.map((step) => [step.id, step.start]))
    return benchList(problem, planned, sessionAt(this.#options.shop.hours, view.now)).map((id) => ({
      step: id,
      expectedMin: minutes.get(id)!,
      notBefore: opensWindow.has(id) ? begins.get(id)! : 0,
    }))
  }

  /** As the app looks on after a press, with as much as an evening of the benchmark is given. */
  #betterThan(first: Plan, problem: PlanningProblem, forecast: Forecast, { evening, replications }: Effort): Plan {
    const guard = new PlanGuard(problem, first, forecast, replications)
    const budget = { placements: Infinity, schedules: evening, seconds: Infinity }
    const search = new PlanSearch({ problem, plan: first, refused: [] }, budget, 1, (better) => guard.keeps(better))
    while (search.slice() === null);
    return search.better ?? first
  }

  /** With the orders that come in a week and the promises that came true, as far as they are known now. */
  #timesAt(view: ShopView): TimesKnown {
    const { factor, forecast } = this.#options.times(view)
    return {
      factor,
      forecast: {
        ...forecast,
        ordersPerWeek: ordersPerWeek([...this.#takenAt.values()], view.now),
        lessSure: lessSureByRecord(this.#record.until(view)),
      },
    }
  }

  #problem(view: ShopView, times: TimesKnown): PlanningProblem {
    const book: Book = {
      commissions: view.open.map(({ order, promised }) => this.#commissionOf(order, promised.dueAt)),
      pieces: view.open.flatMap(({ order }) => order.book.pieces),
      steps: view.open.flatMap(({ order }) => stepsOf(order, times)),
      lags: view.open.flatMap(({ order }) => order.book.lags),
      log: view.log,
      promises: view.open.map(recordOf),
    }
    return planningProblem(book, this.#setting(view.now)).problem
  }

  #workOf(view: ShopView, asked: WorkOrder, times: TimesKnown) {
    const commission = this.#commissionOf(asked, null)
    const { pieces, lags } = asked.book
    const setting = this.#setting(view.now)
    const { problem } = planningProblem(
      { commissions: [commission], pieces, steps: stepsOf(asked, times), lags, log: [], promises: [] },
      setting,
    )
    const newWork: NewWork = {
      commission: planCommission(commission, setting),
      steps: problem.steps,
      lags: problem.lags,
    }
    return { newWork, clocks: problem.clocks }
  }

  /** Numbered in the order in which they were asked for. */
  #commissionOf({ customer, book: { commission } }: WorkOrder, dueAt: number | null): Commission {
    const number = this.#numbers.get(customer.id) ?? this.#numbers.size + 1
    this.#numbers.set(customer.id, number)
    return { ...commission, number, promisedFor: dueAt === null ? null : lastDay(dueAt) }
  }

  #setting(now: number): PlanningSetting {
    const { almanac, hours } = this.#options.shop
    return {
      now,
      makers: [
        { id: 'maker', name: 'The maker', hours: hours.filter(({ from, to }) => to > now && from < now + HORIZON) },
      ],
      stations: almanac.stations,
      clockOf: (product, wait) => {
        const key = `${product} ${wait}`
        const known = this.#clocks.get(key) ?? cureClockOf(almanac, product, wait, this.#air)
        this.#clocks.set(key, known)
        return known
      },
      // Shops of the benchmark are heated day and night: their air never forbids anything.
      applicationOf: () => null,
      places: [],
      rack: null,
      startOfDay: (day) => dayOfText(day) * DAY_MIN,
      endOfDay: (day) => endOfDay(dayOfText(day)),
      announced: [],
      // The minutes of its steps are told already; see `stepsOf`.
      standardTime: (operation) => this.#standardTimes.get(operation),
      timeChoices: NO_CHOICES,
      suppliesFor: () => null,
      ableFor: () => null,
      machineFor: () => null,
    }
  }
}

/** As far ahead as the desk looks. */
const HORIZON = 4 * 365 * DAY_MIN

/** The session that runs or comes next. */
const sessionAt = (hours: Shop['hours'], now: number): Shop['hours'][number] | null =>
  hours.find(({ to }) => to > now) ?? null

const lastDay = (endsAt: number): string => dayText(dayOf(endsAt - 1))

/** The promise as the app stores it. */
const recordOf = ({ order, promised: { at, dueAt, stated, alone, days, plannedAt } }: OpenOrder): PromiseRecord => ({
  commissionId: order.book.commission.id,
  kind: 'promise',
  givenAtMs: at * 60_000,
  day: lastDay(dueAt),
  chance: stated,
  chanceAlone: alone,
  days: days && { half: lastDay(days[0]), fourInFive: lastDay(days[1]), nineteenInTwenty: lastDay(days[2]) },
  plannedDay: plannedAt === null ? null : lastDay(plannedAt),
  offer: null,
  times: 'learned',
  wantedBy: 'customer',
  why: '',
  goodUntil: null,
})

const stepsOf = ({ book: { steps } }: WorkOrder, { factor }: TimesKnown): WorkOrder['book']['steps'] =>
  steps.map((step) => {
    const by = factor(step.operation)
    if (by === 1) return step
    const times = (minutes: number): number => Math.max(1, Math.round(minutes * by))
    return {
      ...step,
      minutes: times(step.minutes),
      optimisticMin: times(step.optimisticMin),
      pessimisticMin: times(step.pessimisticMin),
    }
  })

function must<T>(answer: Result<T>): T {
  if (!answer.ok) throw new Error(answer.problems[0]?.message ?? 'The planner refused.')
  return answer.value
}

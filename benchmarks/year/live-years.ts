import { CUSTOMERS_COME_MIN, DAY_MIN, LAST_DAY } from './calendar.ts'
import type { Customer } from './customers.ts'
import { Bench } from './executor/bench.ts'
import { workEvening } from './executor/evening.ts'
import type { Truth, TrueStep, TrueWait } from './executor/truth.ts'
import type { Outcome, OpenOrder, Policy, Promised, ShopView } from './lived.ts'
import { Presses } from './presses.ts'
import type { Shop } from './shop.ts'
import { resized, trueOrderOf, workOrderOf, type TrueOrder, type WorkOrder } from './work-order.ts'

export interface YearsAsked {
  readonly shop: Shop
  readonly customers: readonly Customer[]
  readonly policy: Policy
  /** Everybody stays, whatever day is said. */
  readonly openDoor: boolean
  /** The last day on which anybody works; customers who come later are not there. */
  readonly lastDay?: number
}

/** Lives through the years: evenings are worked as the policy says, customers come at closing time. */
export function liveYears({ shop, customers, policy, openDoor, lastDay = LAST_DAY }: YearsAsked): readonly Outcome[] {
  const years = new Years(shop, policy, openDoor)
  let next = 0
  for (let day = shop.firstDay; day <= lastDay; day++) {
    years.evening(day)
    years.changes(day)
    for (; next < customers.length && customers[next]!.day === day; next++) years.customer(customers[next]!)
  }
  return years.outcomes()
}

interface Taken extends OpenOrder {
  readonly truth: TrueOrder
  readonly changesOn: number | null
}

class Years {
  readonly #shop: Shop
  readonly #policy: Policy
  readonly #openDoor: boolean
  readonly #open = new Map<string, Taken>()
  readonly #orderOfStep = new Map<string, string>()
  readonly #steps = new Map<string, TrueStep>()
  readonly #waitsInto = new Map<string, readonly TrueWait[]>()
  readonly #bench: Bench
  readonly #presses: Presses
  readonly #outcomes = new Map<string, Outcome>()
  /** What the last evening went on to. */
  #now = 0

  constructor(shop: Shop, policy: Policy, openDoor: boolean) {
    this.#shop = shop
    this.#policy = policy
    this.#openDoor = openDoor
    this.#presses = new Presses(shop)
    const truth: Truth = {
      stations: new Map(shop.almanac.stations.map(({ id, capacity }) => [id, capacity])),
      steps: this.#steps,
      waitsInto: this.#waitsInto,
      minutes: (step, attempt) => this.#truthOf(step).minutes(step, attempt),
      mishap: (step, attempt) => {
        const mishap = this.#truthOf(step).mishap(step, attempt)
        return mishap && { ...mishap, undone: mishap.undone.filter((id) => this.#bench.hasStarted(id)) }
      },
    }
    this.#bench = new Bench(truth)
  }

  evening(day: number): void {
    const evening = this.#shop.evening(day)
    if (evening === null || this.#open.size === 0) return
    const from = Math.max(evening.from, this.#now)
    const happened = workEvening(this.#bench, { from, to: evening.to }, this.#policy.list(this.#view(from)))
    this.#now = Math.max(this.#now, happened.at(-1)?.at ?? 0)
    this.#presses.log(happened, this.#bench)
    const lastDone = new Map<string, number>()
    for (const { step, kind, at } of happened) if (kind === 'done') lastDone.set(this.#orderOfStep.get(step)!, at)
    for (const [order, at] of lastDone) this.#closeIfDone(order, at)
  }

  /** Who wanted another size says so while nothing of the order is begun; later it is too late. */
  changes(day: number): void {
    for (const [id, taken] of [...this.#open]) {
      const { change } = taken.order.customer
      if (taken.changesOn !== day || change === null) continue
      if (taken.order.book.steps.some((step) => this.#bench.hasStarted(step.id))) continue
      this.#open.delete(id)
      this.#take(resized(taken.order, change.factor), this.#atClosing(day))
    }
  }

  customer(customer: Customer): void {
    this.#take(workOrderOf(this.#shop, customer), this.#atClosing(customer.day))
  }

  outcomes(): readonly Outcome[] {
    return [...this.#outcomes.values()]
  }

  #atClosing(day: number): number {
    return Math.max(this.#now, day * DAY_MIN + CUSTOMERS_COME_MIN)
  }

  /** Quotes a day. An order that was agreed before stays, whatever its new day is. */
  #take(order: WorkOrder, now: number): void {
    const { customer } = order
    const promised = this.#policy.quote(this.#view(now), order)
    const known = this.#outcomes.get(customer.id)
    const stayed = known !== undefined || this.#openDoor || promised.dueAt <= (customer.needDay + 1) * DAY_MIN
    this.#outcomes.set(customer.id, {
      ...{ id: customer.id, askedAt: order.askedAt, stayed, promised, doneAt: null },
      handsOnMin: order.book.steps.reduce((sum, { minutes }) => sum + minutes, 0),
    })
    if (!stayed) return
    const truth = trueOrderOf(this.#shop, order)
    for (const step of truth.steps) {
      this.#steps.set(step.id, step)
      this.#orderOfStep.set(step.id, customer.id)
    }
    for (const [step, waits] of truth.waitsInto) this.#waitsInto.set(step, waits)
    const changesOn = known === undefined ? changeDay(customer, promised) : null
    this.#open.set(customer.id, { order, promised, truth, changesOn })
    this.#policy.taken({ order, promised })
  }

  #truthOf(step: string): TrueOrder {
    return this.#open.get(this.#orderOfStep.get(step)!)!.truth
  }

  #view(now: number): ShopView {
    const bench = this.#bench
    return {
      now,
      open: [...this.#open.values()],
      isDone: (step) => bench.endOf(step) !== undefined,
      hasStarted: (step) => bench.hasStarted(step),
      log: this.#presses.ofOpenOrders(now),
      wholeLog: () => this.#presses.whole(now),
      failures: () => this.#presses.failures(now),
    }
  }

  #closeIfDone(id: string, at: number): void {
    const taken = this.#open.get(id)
    if (taken === undefined || !taken.truth.steps.every((step) => this.#bench.endOf(step.id) !== undefined)) return
    this.#outcomes.set(id, { ...this.#outcomes.get(id)!, doneAt: at })
    this.#open.delete(id)
    this.#presses.close(taken.truth.steps.map((step) => step.id))
    for (const step of taken.truth.steps) {
      this.#bench.forget(step.id)
      this.#steps.delete(step.id)
      this.#waitsInto.delete(step.id)
      this.#orderOfStep.delete(step.id)
    }
  }
}

function changeDay({ day, change }: Customer, { dueAt }: Promised): number | null {
  if (change === null) return null
  return day + Math.max(1, Math.floor(change.after * (dueAt / DAY_MIN - day)))
}

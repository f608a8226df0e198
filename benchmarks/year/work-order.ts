import type { BookLag, BookStep } from '../../core/book/book.ts'
import type { WaitKind } from '../../core/planning/index.ts'
import { ok, type Result } from '../../core/problems.ts'
import { orderOf, readDraft, type DraftOrder, type ReadDraft } from '../../desk/orders/draft-work.ts'
import { CUSTOMERS_COME_MIN, DAY_MIN } from './calendar.ts'
import type { Customer } from './customers.ts'
import type { Mishap, TrueDuration, TrueHold, TrueStep, TrueWait } from './executor/truth.ts'
import { tailed, normal, triangular, uniform } from './luck.ts'
import type { Shop } from './shop.ts'

/** An order as the book has it, and what is true of it. */
export interface WorkOrder {
  readonly customer: Customer
  readonly askedAt: number
  /** By the book: with the size as it stands at present. */
  readonly book: DraftOrder
}

const read = new WeakMap<Shop, Map<string, ReadDraft>>()

/** What a customer asks for, as the app makes it: parts, steps, waits. */
export function workOrderOf(shop: Shop, customer: Customer): WorkOrder {
  const askedAt = customer.day * DAY_MIN + CUSTOMERS_COME_MIN
  let ids = 0
  const made = orderOf(
    customer.draft,
    readOnce(shop, customer, askedAt),
    { standing: 'agreed', promisedFor: null, takenAtMin: askedAt },
    () => `${customer.id}/${ids++}`,
  )
  return { customer, askedAt, book: made }
}

/** Whether everything that a world's customers ask for can be made in its shops. */
export function refusedDrafts(shop: Shop, customers: readonly Customer[]): Result<null> {
  for (const customer of customers) {
    const { problems } = readOnce(shop, customer, customer.day * DAY_MIN)
    if (problems.length > 0) return { ok: false, problems }
  }
  return ok(null)
}

function readOnce(shop: Shop, { draft }: Customer, now: number): ReadDraft {
  const known = read.get(shop) ?? new Map<string, ReadDraft>()
  read.set(shop, known)
  const key = JSON.stringify(draft.pieces)
  const found = known.get(key) ?? readDraft(draft, shop.almanac, now)
  known.set(key, found)
  return found
}

/** The order with everything that is still to be done so much larger. */
export function resized(order: WorkOrder, factor: number): WorkOrder {
  const times = (minutes: number): number => Math.max(1, Math.round(minutes * factor))
  const steps = order.book.steps.map((step): BookStep => ({
    ...step,
    units: step.units === null ? null : { ...step.units, count: step.units.count * factor },
    minutes: times(step.minutes),
    optimisticMin: times(step.optimisticMin),
    pessimisticMin: times(step.pessimisticMin),
  }))
  return { ...order, book: { ...order.book, steps } }
}

/** Steps of the executor, their waits, and what mishaps there are. */
export interface TrueOrder {
  readonly steps: readonly TrueStep[]
  readonly waitsInto: ReadonlyMap<string, readonly TrueWait[]>
  readonly minutes: (step: string, attempt: number) => number
  readonly mishap: (step: string, attempt: number) => Mishap | null
}

export function trueOrderOf(shop: Shop, { customer, book: { steps, lags } }: WorkOrder): TrueOrder {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const idOf = new Map(steps.map((step) => [`${step.pieceId}/${step.lot}/${step.key}`, step.id]))
  const on = (minutes: number, product: string | null, wait: WaitKind): TrueDuration => ({
    minutes,
    clock: product === null ? null : shop.clockOf(product, wait),
  })
  const trueSteps = steps.map((step): TrueStep => ({
    id: step.id,
    setUp: step.setUp,
    interruptible: step.interruptible,
    smallestStretchMin: step.smallestStretchMin,
    dusty: step.dusty,
    tacky: step.tackyMin > 0 ? on(step.tackyMin * shop.world.waits.factor, step.tackyProduct, 'drying') : null,
    holds: step.holds.map((hold): TrueHold => {
      const { station, units, until } = hold
      if (until.kind === 'end') return { station, units, until }
      if (until.kind === 'after')
        return { station, units, until: { kind: 'after', over: { minutes: until.minutes, clock: null } } }
      return {
        station,
        units,
        until: { kind: until.kind, step: idOf.get(`${step.pieceId}/${step.lot}/${until.step}`)! },
      }
    }),
  }))
  const waits = lags.map((lag) => ({ to: lag.toStep, wait: trueWait(shop, customer.id, lag, on) }))
  const waitsInto = new Map(
    [...Map.groupBy(waits, ({ to }) => to)].map(([to, all]) => [to, all.map(({ wait }) => wait)]),
  )
  return {
    steps: trueSteps,
    waitsInto,
    minutes: (id, attempt) => trueMinutes(shop, customer.id, byId.get(id)!, attempt),
    mishap: mishapsOf(shop, customer.id, steps, lags),
  }
}

function trueWait(
  { world: { waits } }: Shop,
  order: string,
  { fromStep, toStep, wait, minMin, optimisticMin, pessimisticMin, maxMin, remedy, product }: BookLag,
  on: (minutes: number, product: string | null, wait: WaitKind) => TrueDuration,
): TrueWait {
  const luck = `${order}/wait ${fromStep} ${toStep}`
  const minutes =
    waits.factor * triangular(luck, Math.min(optimisticMin, minMin), minMin, Math.max(pessimisticMin, minMin))
  return {
    from: fromStep,
    over: on(minutes, minMin > 0 ? product : null, wait),
    openMin: maxMin === null ? null : maxMin - minMin,
    remedyMin: remedy?.minutes ?? 0,
  }
}

function trueMinutes(
  { world, makerBias, operationBias }: Shop,
  order: string,
  step: BookStep,
  attempt: number,
): number {
  if (step.minutes === 0) return 0
  const { orderSpread, stepSpread, stepFreedom } = world.minutes
  const log =
    makerBias +
    operationBias(step.operation) +
    orderSpread * normal(`${order}/hard`) +
    stepSpread * tailed(`${step.id}/minutes ${attempt}`, stepFreedom)
  const again = attempt > 1 ? world.mishaps.againFactor : 1
  return Math.max(1, Math.round(step.minutes * again * Math.exp(log)))
}

/** A joint that fails is found out when it is out of the clamps; a crack at any step, and then everything is made again. */
function mishapsOf(
  { world: { mishaps } }: Shop,
  order: string,
  steps: readonly BookStep[],
  lags: readonly BookLag[],
): TrueOrder['mishap'] {
  const gluedBefore = new Map(lags.filter(({ wait }) => wait === 'in-clamps').map((lag) => [lag.toStep, lag.fromStep]))
  const cracked = steps[Math.floor(uniform(`${order}/cracked`) * steps.length)]
  return (id, attempt) => {
    if (cracked?.id === id && uniform(`${order}/cracks ${attempt}`) < mishaps.crack)
      return { reason: 'crack', step: id, undone: steps.map((step) => step.id) }
    const glued = gluedBefore.get(id)
    if (glued !== undefined && uniform(`${id}/fails ${attempt}`) < mishaps.glueUp)
      return { reason: 'glue-up', step: glued, undone: [glued, id] }
    return null
  }
}

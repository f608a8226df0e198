import { standingPromise } from './promise.ts'
import { aimOf, PATIENCE_MIN } from '../planning/index.ts'
import type {
  AnnouncedStart,
  CureClock,
  Hold,
  Lag,
  PlanCommission,
  PlanMaker,
  PlanningProblem,
  PlanStation,
  PlanStep,
  StepState,
  WaitKind,
} from '../planning/index.ts'
import type { Book, BookLag, BookStep, Commission, Piece } from './book.ts'
import { minutesBy, minutesPlanned, type TimeChoices } from '../almanac/times-in-use.ts'
import type { StandardTime } from '../constructions/shop-facts.ts'
import { carriedBy, type Carrying, dryingHolds, staysOf } from './carrying.ts'
import { placesOfWaits, type AirOfPlaces, type PlaceForWaits } from './where-it-dries.ts'
import { progressOf, untouched, workedMinutes, type StepProgress } from './step-progress.ts'
import { endOfWait, foundReadyAt } from './wait-over.ts'

/** What planning needs beside the book: the almanac turned into instants. */
export interface PlanningSetting {
  readonly now: number
  readonly makers: readonly PlanMaker[]
  readonly stations: readonly PlanStation[]
  /** On which a wait for a glue or finish runs in this shop's air: in clamps it sets, then it cures, a coat dries. */
  readonly clockOf: AirOfPlaces['clockOf']
  /** When a glue or finish may be put on, where it is carried to that place to dry; null: at any time. */
  readonly applicationOf: AirOfPlaces['applicationOf']
  /** Where pieces may dry beside the shop; each has a station of its own, `placeStation`. */
  readonly places: readonly PlaceForWaits[]
  /** Station on which coats dry in the shop. */
  readonly rack: string | null
  /** First minute of a local day, and of the day after it. */
  readonly startOfDay: (day: string) => number
  readonly endOfDay: (day: string) => number
  readonly announced: readonly AnnouncedStart[]
  /** Standard times by operation, and what the maker decided about them. */
  readonly standardTime: (operation: string) => StandardTime | undefined
  readonly timeChoices: TimeChoices
  /** Wood, glue, finish or hardware that a step takes and that is not there yet; null: everything is there. */
  readonly suppliesFor: (step: BookStep) => SupplyHold | null
  /** Makers who may do a step; null: anyone. */
  readonly ableFor: (step: BookStep) => readonly string[] | null
  /** The station of the machine that a step is done on, where the shop counts it; null: none. */
  readonly machineFor: (step: BookStep) => string | null
}

/** What a step waits for that has to be bought or brought. */
export interface SupplyHold {
  /** Instant from which it can be worked on; null: nobody knows. */
  readonly until: number | null
  /** A sentence without the full stop: "Lumber: Sat, Dec 5, then 7 days to rest". */
  readonly why: string
}

/** Why the steps of a commission on hold with no end have no date. */
export const onHoldForGood = 'On hold, nobody knows until when.'

export interface BookProblem {
  readonly problem: PlanningProblem
  /** Steps that cannot be dated: on hold with no end, or behind a wait that stands still; why, as a sentence. */
  readonly undated: ReadonlyMap<string, string>
  /** Where each step's piece dries, and who carries it. */
  readonly carrying: Carrying
}

/** Hands that a step still wants when it has taken longer than its estimate: something is left, nobody knows how much. */
const leastLeftShare = 0.1

/** A room for all: one shop where dust and wet finish do not mix. */
const theShop = 'shop'

/**
 * The book as a planning problem. Only agreed commissions compete for hands; what was merely asked about is not planned.
 * Stations that the almanac does not list (any more) are not counted.
 */
export function planningProblem(book: Book, setting: PlanningSetting): BookProblem {
  const agreed = new Map(book.commissions.filter((c) => c.standing === 'agreed').map((c) => [c.id, c]))
  const pieces = new Map(book.pieces.map((piece) => [piece.id, piece]))
  const progress = progressOf(book.log)
  const steps = book.steps.filter((step) => agreed.has(step.commissionId) && step.lost !== true)
  const stepIds = new Set(steps.map((step) => step.id))
  const lags = book.lags.filter((lag) => stepIds.has(lag.fromStep) && stepIds.has(lag.toStep))

  const carrying = carriedBy(steps, lags, placesOfWaits(steps, lags, progress, setting))
  const undated = undatedSteps(steps, lags, agreed, progress, setting, carrying)
  const dated = steps.filter((step) => !undated.has(step.id))
  const keys = new Map([
    ...steps.map((step) => [pieceKey(step, step.key), step.id] as const),
    ...steps.map((step) => [lotKey(step, step.key), step.id] as const),
  ])
  const stations = new Set(setting.stations.map((station) => station.id))
  const clocks = new Map<string, CureClock>()
  const clock = (product: string, wait: WaitKind, fromStep: string): string => {
    const found = setting.clockOf(product, wait, staysOf(fromStep, progress, carrying))
    clocks.set(found.id, found)
    return found.id
  }

  const putsOn = productsPutOn(steps, lags)
  const planSteps = dated.map((step): PlanStep => {
    const commission = agreed.get(step.commissionId) as Commission
    return planStep(step, pieces.get(step.pieceId), commission, progress.get(step.id) ?? untouched, setting, {
      holds: dryingHolds(step, carrying, setting.rack)
        .filter((hold) => stations.has(hold.station))
        .map((hold) => planHold(hold, step, keys, undated))
        .concat(machineHold(step, setting)),
      allowed:
        setting.applicationOf(putsOn.get(step.id) ?? '', carrying.place.get(step.id)?.id ?? null)?.windows ?? null,
      tackyClock:
        step.tackyProduct === null || step.tackyMin === 0 ? null : clock(step.tackyProduct, 'drying', step.id),
      carrying,
    })
  })
  const planLags = lags
    .filter((lag) => !undated.has(lag.fromStep) && !undated.has(lag.toStep))
    .map((lag) => planLag(lag, clock, progress.get(lag.fromStep) ?? untouched))

  const withSteps = new Set(dated.map((step) => step.commissionId))
  return {
    undated,
    carrying,
    problem: {
      now: setting.now,
      makers: setting.makers,
      stations: setting.stations,
      clocks: [...clocks.values()],
      commissions: [...agreed.values()]
        .filter((c) => withSteps.has(c.id))
        .map((c) => planCommission(c, setting, book.promises)),
      steps: planSteps,
      lags: planLags,
      announced: setting.announced.filter((start) => stepIds.has(start.step) && !undated.has(start.step)),
      patienceMin: PATIENCE_MIN,
    },
  }
}

export function planCommission(
  commission: Pick<Commission, 'id' | 'promisedFor' | 'weight'> & { readonly customer: { readonly name: string } },
  { now, endOfDay }: Pick<PlanningSetting, 'now' | 'endOfDay'>,
  promises: Book['promises'] = [],
): PlanCommission {
  const { id, weight, promisedFor } = commission
  const record = standingPromise(commission, promises)
  const end = (day: string | undefined | null): number | null => (day == null ? null : endOfDay(day))
  const promise = end(promisedFor)
  const planned = end(record?.plannedDay)
  const asPromised: Pick<PlanCommission, 'aim' | 'quotedFor'> =
    promise === null
      ? {}
      : {
          aim: aimOf(
            {
              promise,
              givenAt: record === null ? now : Math.floor(record.givenAtMs / MS_PER_MIN),
              fourInFive: end(record?.days?.fourInFive),
              planned,
            },
            now,
          ),
          ...(planned === null ? {} : { quotedFor: planned }),
        }
  const chanceAlone = record?.chanceAlone ?? record?.chance ?? null
  return { id, name: commission.customer.name, promise, chanceAlone, ...asPromised, weight }
}

const MS_PER_MIN = 60_000

const lotKey = (step: Pick<BookStep, 'pieceId' | 'lot'>, key: string): string => `${step.pieceId}/${step.lot}/${key}`

/** For a lot that joins another one: what frees its place is a step of theirs. */
const pieceKey = (step: Pick<BookStep, 'pieceId'>, key: string): string => `${step.pieceId}/${key}`

function planStep(
  step: BookStep,
  piece: Piece | undefined,
  commission: Commission,
  progress: StepProgress,
  setting: PlanningSetting,
  ready: {
    readonly holds: readonly Hold[]
    readonly allowed: PlanStep['allowed'] | null
    readonly tackyClock: string | null
    readonly carrying: Carrying
  },
): PlanStep {
  const time = setting.standardTime(step.operation)
  const planned = minutesPlanned(step, time, setting.timeChoices)
  const carryMin = ready.carrying.minutes.get(step.id) ?? 0
  const left = minutesLeft(planned + carryMin, progress, setting.now)
  const able = progress.kind === 'to-do' ? setting.ableFor(step) : null
  const supplies = setting.suppliesFor(step)
  const release = latest(
    supplies?.until ?? null,
    progress.pushedUntil,
    commission.onHoldUntil === null || commission.onHoldUntil === 'open-end'
      ? null
      : setting.startOfDay(commission.onHoldUntil),
  )
  // A day that has passed asks for nothing any more.
  const pinned =
    progress.pinnedDay !== null && progress.kind === 'to-do' && setting.endOfDay(progress.pinnedDay) > setting.now
      ? { from: setting.startOfDay(progress.pinnedDay), to: setting.endOfDay(progress.pinnedDay) }
      : null
  return {
    id: step.id,
    name: step.name,
    pieceId: step.lots > 1 ? `${step.pieceId}/${step.lot}` : step.pieceId,
    pieceName: commission.customer.name === '' ? '' : `no. ${commission.number}`,
    commissionId: step.commissionId,
    minutes: left,
    timing: {
      operation: step.operation,
      standardMin: minutesBy(step, time) + carryMin,
      workedMin: workedMinutes(progress, setting.now),
    },
    hands: step.hands,
    ...(able === null ? {} : { makers: able }),
    interruptible: step.interruptible,
    smallestStretchMin: step.smallestStretchMin,
    holds: ready.holds,
    room: theShop,
    dusty: step.dusty,
    tackyMin: ready.carrying.place.get(step.id)?.dustFree === true ? 0 : step.tackyMin,
    ...(ready.tackyClock === null ? {} : { tackyClock: ready.tackyClock }),
    ...(ready.allowed == null || progress.kind !== 'to-do' ? {} : { allowed: ready.allowed }),
    ...(step.setUp === null ? {} : { setUp: step.setUp }),
    ...(release === null || progress.kind !== 'to-do' ? {} : { release }),
    ...(supplies === null || supplies.until !== release || progress.kind !== 'to-do'
      ? {}
      : { releaseWhy: supplies.why }),
    ...(pinned === null ? {} : { pinned }),
    state: stepState(progress),
  }
}

function minutesLeft(planned: number, progress: StepProgress, now: number): number {
  if (progress.kind === 'to-do' || progress.kind === 'done') return planned
  const least = Math.max(1, Math.ceil(planned * leastLeftShare))
  return Math.max(least, planned - workedMinutes(progress, now))
}

function stepState(progress: StepProgress): StepState {
  switch (progress.kind) {
    case 'to-do':
      return { kind: 'to-do' }
    case 'running':
    case 'paused':
      return { kind: 'running', startedAt: progress.startedAt, maker: progress.makerId }
    case 'done':
      return { kind: 'done', startedAt: progress.startedAt, endedAt: progress.endedAt }
  }
}

function planHold(
  hold: BookStep['holds'][number],
  step: BookStep,
  keys: ReadonlyMap<string, string>,
  undated: ReadonlyMap<string, string>,
): Hold {
  const { until } = hold
  if (until.kind === 'end' || until.kind === 'after') return { station: hold.station, units: hold.units, until }
  const other = keys.get(lotKey(step, until.step)) ?? keys.get(pieceKey(step, until.step))
  // What frees the station has no date: it stays taken for longer than anything is planned.
  if (other === undefined || undated.has(other))
    return { station: hold.station, units: hold.units, until: { kind: 'after', minutes: aYearMin } }
  return { station: hold.station, units: hold.units, until: { kind: until.kind, step: other } }
}

/** A machine is taken from the first stroke to the last. */
function machineHold(step: BookStep, setting: PlanningSetting): Hold[] {
  const station = setting.machineFor(step)
  return station === null ? [] : [{ station, units: 1, until: { kind: 'end' } }]
}

const aYearMin = 365 * 24 * 60

function planLag(
  lag: BookLag,
  clock: (product: string, wait: WaitKind, fromStep: string) => string,
  before: StepProgress,
): Lag {
  const found = before.kind === 'done' ? foundReadyAt(before, lag) : null
  // What was found ready is over; its window keeps its width.
  const minMin = found === null || before.kind !== 'done' ? lag.minMin : found - before.endedAt
  return {
    ...{ from: lag.fromStep, to: lag.toStep, wait: lag.wait, name: lag.name, minMin },
    maxMin: lag.maxMin === null ? null : lag.maxMin - lag.minMin + minMin,
    spread: {
      optimistic: found === null ? Math.min(lag.optimisticMin, minMin) : minMin,
      pessimistic: found === null ? Math.max(lag.pessimisticMin, minMin) : minMin,
    },
    ...(found !== null || lag.product === null || lag.minMin <= 0
      ? {}
      : { clock: clock(lag.product, lag.wait, lag.fromStep) }),
    ...(lag.remedy === null ? {} : { remedy: lag.remedy }),
  }
}

/** Steps that no plan can date: on hold with no end, or downstream of a wait on a clock that stands still for good. */
function undatedSteps(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  commissions: ReadonlyMap<string, Commission>,
  progress: ReadonlyMap<string, StepProgress>,
  setting: PlanningSetting,
  carrying: Carrying,
): Map<string, string> {
  const undated = new Map<string, string>()
  for (const step of steps) {
    const commission = commissions.get(step.commissionId)
    if (commission?.onHoldUntil === 'open-end' && (progress.get(step.id) ?? untouched).kind === 'to-do') {
      undated.set(step.id, onHoldForGood)
    }
  }
  const putsOn = productsPutOn(steps, lags)
  const following = new Map<string, BookLag[]>()
  for (const lag of lags) following.set(lag.fromStep, [...(following.get(lag.fromStep) ?? []), lag])
  const spread = (stepId: string, why: string): void => {
    if (undated.has(stepId) || (progress.get(stepId) ?? untouched).kind !== 'to-do') return
    undated.set(stepId, why)
    for (const lag of following.get(stepId) ?? []) spread(lag.toStep, why)
  }
  for (const step of steps) {
    const supplies = setting.suppliesFor(step)
    if (supplies?.until === null) spread(step.id, `${supplies.why}.`)
    const application = setting.applicationOf(putsOn.get(step.id) ?? '', carrying.place.get(step.id)?.id ?? null)
    if (application !== null && !application.windows.some(({ to }) => to > setting.now))
      spread(step.id, application.never)
  }
  for (const lag of lags) {
    if (lag.product === null || lag.minMin <= 0) continue
    const before = progress.get(lag.fromStep)
    if (before?.kind === 'done' && foundReadyAt(before, lag) !== null) continue
    const start = before?.kind === 'done' ? before.endedAt : setting.now
    const clock = setting.clockOf(lag.product, lag.wait, staysOf(lag.fromStep, progress, carrying))
    if (endOfWait(start, lag.minMin, clock) === null) {
      spread(
        lag.toStep,
        `${capital(lag.name)} stands still: it does not cure in the shop's temperature and humidity. Warm the shop, or change them in the Almanac.`,
      )
    }
  }
  for (const [stepId, why] of [...undated]) for (const lag of following.get(stepId) ?? []) spread(lag.toStep, why)
  return undated
}

/** The glue or finish that each step puts on: a coat's own, a glue-up's by what sets after it. */
export function productsPutOn(
  steps: readonly Pick<BookStep, 'id' | 'tackyProduct'>[],
  lags: readonly Pick<BookLag, 'fromStep' | 'wait' | 'product'>[],
): ReadonlyMap<string, string> {
  const products = new Map<string, string>()
  for (const { fromStep, wait, product } of lags)
    if (product !== null && wait !== 'none') products.set(fromStep, product)
  for (const { id, tackyProduct } of steps) if (tackyProduct !== null) products.set(id, tackyProduct)
  return products
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)

const latest = (...instants: readonly (number | null)[]): number | null => {
  const given = instants.filter((instant) => instant !== null)
  return given.length === 0 ? null : Math.max(...given)
}

import type { Application } from '../almanac/application.ts'
import { standingPromise } from './promise.ts'
import {
  aimOf,
  PATIENCE_MIN,
  type CureClock,
  type Hold,
  type PlanCommission,
  type PlanningProblem,
  type PlanStep,
  type StepState,
  type WaitKind,
} from '../planning/index.ts'
import type { Book, BookStep, Commission, Piece } from './book.ts'
import { minutesBy, minutesPlanned } from '../almanac/times-in-use.ts'
import { carriedBy, type Carrying, dryingHolds, staysOf } from './carrying.ts'
import { placesOfWaits } from './where-it-dries.ts'
import { progressOf, untouched, workedMinutes, type StepProgress } from './step-progress.ts'
import type { PlanningSetting } from './planning-setting.ts'
import { productsPutOn } from './products-put-on.ts'
import { lotKey, pieceKey, planHold, planLag, latest } from './planned-lags.ts'
import { undatedSteps } from './undated-steps.ts'

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
  const progress = progressOf(book.log, setting.now)
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
  const luck = luckNames(steps, pieces, agreed, book.nextNumber ?? 0)
  const planSteps = dated.map((step): PlanStep => {
    const commission = agreed.get(step.commissionId) as Commission
    return planStep(step, pieces.get(step.pieceId), commission, progress.get(step.id) ?? untouched, setting, {
      holds: dryingHolds(step, carrying, setting.rack)
        .filter((hold) => stations.has(hold.station))
        .map((hold) => planHold(hold, step, keys, undated))
        .concat(machineHold(step, setting)),
      application: setting.applicationOf(putsOn.get(step.id) ?? '', carrying.place.get(step.id)?.id ?? null),
      tackyClock:
        step.tackyProduct === null || step.tackyMin === 0 ? null : clock(step.tackyProduct, 'drying', step.id),
      carrying,
      luck: luck.get(step.id)!,
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
  const fourInFive = end(record?.days?.fourInFive)
  const asPromised: Pick<PlanCommission, 'aim' | 'quotedFor' | 'planBy'> =
    promise === null
      ? {}
      : {
          aim: aimOf(
            {
              promise,
              givenAt: record === null ? now : Math.floor(record.givenAtMs / MS_PER_MIN),
              fourInFive,
              planned,
            },
            now,
          ),
          ...(planned === null
            ? {}
            : {
                quotedFor: planned,
                planBy: planned + Math.max(0, promise - (end(record?.days?.nineteenInTwenty) ?? promise)),
              }),
        }
  const chanceAlone = record?.chanceAlone ?? record?.chance ?? null
  return { id, name: commission.customer.name, promise, chanceAlone, ...asPromised, weight }
}

const MS_PER_MIN = 60_000

function planStep(
  step: BookStep,
  piece: Piece | undefined,
  commission: Commission,
  progress: StepProgress,
  setting: PlanningSetting,
  ready: {
    readonly holds: readonly Hold[]
    readonly application: Application | null
    readonly tackyClock: string | null
    readonly carrying: Carrying
    readonly luck: NonNullable<PlanStep['luck']>
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
    // An order that is still being typed has no number to be named by.
    pieceName: commission.customer.name === '' || commission.number === 0 ? '' : `no. ${commission.number}`,
    commissionId: step.commissionId,
    minutes: left,
    timing: {
      operation: step.operation,
      standardMin: minutesBy(step, time) + carryMin,
      workedMin: workedMinutes(progress, setting.now),
    },
    luck: ready.luck,
    hands: step.hands,
    ...(able === null ? {} : { makers: able }),
    interruptible: step.interruptible,
    smallestStretchMin: step.smallestStretchMin,
    holds: ready.holds,
    room: theShop,
    dusty: step.dusty,
    tackyMin: ready.carrying.place.get(step.id)?.dustFree === true ? 0 : step.tackyMin,
    ...(ready.tackyClock === null ? {} : { tackyClock: ready.tackyClock }),
    ...(ready.application === null || progress.kind !== 'to-do'
      ? {}
      : { allowed: ready.application.windows, allowedHelp: ready.application.help }),
    ...(step.setUp === null ? {} : { setUp: step.setUp }),
    ...(release === null || progress.kind !== 'to-do' ? {} : { release }),
    ...(supplies === null || supplies.until !== release || progress.kind !== 'to-do'
      ? {}
      : { releaseWhy: supplies.why }),
    ...(pinned === null ? {} : { pinned }),
    state: stepState(progress),
  }
}

/**
 * Luck goes by the order's number and the step's place in it, so that what is quoted keeps its chances once it is taken, and a book has the
 * same chances whatever ids were drawn for it.
 * @param nextNumber of an order that has no number yet
 */
function luckNames(
  steps: readonly BookStep[],
  pieces: ReadonlyMap<string, Piece>,
  commissions: ReadonlyMap<string, Commission>,
  nextNumber: number,
): ReadonlyMap<string, NonNullable<PlanStep['luck']>> {
  const given = new Map<string, number>()
  return new Map(
    steps.map((step) => {
      const number = commissions.get(step.commissionId)?.number ?? 0
      const order = `no. ${number === 0 ? nextNumber : number}`
      const place = `${order}, piece ${pieces.get(step.pieceId)?.position ?? 0}, lot ${step.lot}, ${step.key}`
      // What is made again may have the key of what was there before.
      const times = (given.get(place) ?? 0) + 1
      given.set(place, times)
      return [step.id, { order, step: times === 1 ? place : `${place} (${times})` }] as const
    }),
  )
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

/** A machine is taken from the first stroke to the last. */
function machineHold(step: BookStep, setting: PlanningSetting): Hold[] {
  const station = setting.machineFor(step)
  return station === null ? [] : [{ station, units: 1, until: { kind: 'end' } }]
}

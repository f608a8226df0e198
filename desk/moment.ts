import type { Almanac } from '../core/almanac/almanac.ts'
import type { Book, BookLag, BookStep, Commission, Piece } from '../core/book/book.ts'
import { openWaits, type OpenWait } from '../core/book/open-waits.ts'
import { endOfWait } from '../core/book/wait-over.ts'
import { placesHeld, type PlaceHeld } from '../core/book/places.ts'
import { pieceState, type PieceState } from '../core/book/piece-state.ts'
import { planningProblem, type BookProblem } from '../core/book/planning-problem.ts'
import { staysOf } from '../core/book/carrying.ts'
import { placeAt, type Stay } from '../core/book/stays.ts'
import { placeStation } from '../core/book/where-it-dries.ts'
import { piecesGone } from '../core/book/pieces-gone.ts'
import { progressOf, untouched, type StepProgress } from '../core/book/step-progress.ts'
import type { Plan, PlannedStep } from '../core/planning/index.ts'
import { hoursOfBook, type HoursLogged } from '../core/book/hours-logged.ts'
import { NO_WORK, workAt, type StepWork } from '../core/book/work-done.ts'
import { localDay, startOfLocalDay } from '../core/time/local-day.ts'
import type { Wording } from '../core/time/write-instant.ts'
import { lumberOutlook, NO_STOCK, type LumberOutlook, type LumberStock } from './lumber/lumber-ahead.ts'
import { laterHold, supplyHolds } from './lumber/supply-holds.ts'
import { planningSetting, type ShopSetting } from './planner/planning-setting.ts'
import type { OddsShown } from './planner/shop-odds.ts'
import type { PieceLabel } from './piece-label.ts'

/** One lot of a piece: what travels together. */
export interface Lot {
  readonly piece: Piece
  readonly commission: Commission
  readonly lot: number
  readonly steps: readonly BookStep[]
  readonly waits: readonly OpenWait[]
  readonly state: PieceState
  readonly label: PieceLabel
}

/** Everything that screens are derived from, at one instant, with what they look up often. */
export interface Moment {
  readonly now: number
  readonly book: Book
  readonly almanac: Almanac
  readonly setting: ShopSetting
  /** Local civil day of `now`. */
  readonly today: string
  readonly wording: Wording
  /** The present plan; null while there is none (first moments, or the planner refused the book). */
  readonly plan: Plan | null
  readonly asked: BookProblem
  /** Odds of an order as last worked out; null while there are none. */
  readonly odds: (commissionId: string) => OddsShown | null
  readonly lots: readonly Lot[]
  readonly places: readonly PlaceHeld[]
  /** Units of a station that are taken now. */
  readonly used: (station: string) => number
  readonly progress: (stepId: string) => StepProgress
  readonly work: (stepId: string) => StepWork
  readonly progressOf: ReadonlyMap<string, StepProgress>
  readonly planned: (stepId: string) => PlannedStep | null
  /** Where the piece of a step is after it: by the log once it is done, else by the plan. */
  readonly stays: (stepId: string) => readonly Stay[]
  readonly step: (stepId: string) => BookStep | undefined
  readonly stepsOf: (commissionId: string) => readonly BookStep[]
  /** Steps that have left a piece tacky, until when. */
  readonly tacky: readonly { readonly step: BookStep; readonly until: number }[]
  /** The step that raises dust now. */
  readonly raisingDust: BookStep | undefined
  /** Minutes that the log has as worked on the local day. */
  readonly workedTodayMin: number
  readonly lotOf: (stepId: string) => Lot | undefined
  readonly lagsFrom: (stepId: string) => readonly BookLag[]
  readonly lagsTo: (stepId: string) => readonly BookLag[]
  /** Pieces of a step that have not failed since. */
  readonly piecesLeft: (step: BookStep) => number
  readonly stock: LumberStock
  /** Whose wood is there, and when the rest comes. */
  readonly lumber: LumberOutlook
}

/**
 * Puts book, almanac and plan together as they are at `now` (whole minutes since the Unix epoch).
 * @param plan the last plan; it may be a little older than `now`
 */
export function momentOf(
  book: Book,
  almanac: Almanac,
  plan: Plan | null,
  now: number,
  locale: string,
  { odds = () => null, stock = NO_STOCK }: { readonly odds?: Moment['odds']; readonly stock?: LumberStock } = {},
): Moment {
  const progress = progressOf(book.log, now)
  const works = workAt(book.log)
  const logged = hoursOfBook(book, now)
  const lumber = lumberOutlook(book, progress, stock, { almanac, now, locale })
  const { timeZone } = almanac.shop
  const heldUp = supplyHolds(book.steps, book.lags, stock.supplies, { now, timeZone, locale })
  const setting: ShopSetting = {
    ...planningSetting(almanac, logged, now),
    suppliesFor: (step) => laterHold(lumber.holdOf(step.id), heldUp(step)),
  }
  const commissions = new Map(book.commissions.map((commission) => [commission.id, commission]))
  const lagsFrom = Map.groupBy(book.lags, (lag) => lag.fromStep)
  const lagsTo = Map.groupBy(book.lags, (lag) => lag.toStep)
  const lots = lotsOf(book, commissions, lagsFrom, progress, setting)
  const lotByStep = new Map(lots.flatMap((lot) => lot.steps.map((step) => [step.id, lot] as const)))
  const asked = planningProblem(book, setting)
  const places = placesHeld(book.steps, progress, now, setting.rack)
  const stepsOf = Map.groupBy(book.steps, (step) => step.commissionId)
  const stepById = new Map(book.steps.map((step) => [step.id, step]))
  const gone = piecesGone(book, progress)
  const piecesLeft = ({ id, lotCount }: BookStep): number => lotCount - (gone.get(id) ?? 0)
  const withoutPlan: WithoutPlan = {
    now,
    book,
    almanac,
    setting,
    today: localDay(now, almanac.shop.timeZone),
    wording: { timeZone: almanac.shop.timeZone, locale },
    asked,
    lots,
    places,
    used: (station) =>
      places.filter((place) => place.station === station).reduce((sum, place) => sum + place.units.length, 0) +
      carriedTo(station, lots, progress, now, piecesLeft),
    progress: (stepId) => progress.get(stepId) ?? untouched,
    work: (stepId) => works.get(stepId) ?? NO_WORK,
    progressOf: progress,
    stays: (stepId) => staysOf(stepId, progress, asked.carrying),
    step: (stepId) => stepById.get(stepId),
    stepsOf: (commissionId) => stepsOf.get(commissionId) ?? [],
    tacky: book.steps.flatMap((step) => {
      const until = tackyUntil(step, progress.get(step.id) ?? untouched, setting)
      return until !== null && until > now ? [{ step, until }] : []
    }),
    raisingDust: book.steps.find((step) => step.dusty && progress.get(step.id)?.kind === 'running'),
    workedTodayMin: workedSince(
      startOfLocalDay(localDay(now, almanac.shop.timeZone), almanac.shop.timeZone),
      logged,
      now,
    ),
    lotOf: (stepId) => lotByStep.get(stepId),
    lagsFrom: (stepId) => lagsFrom.get(stepId) ?? [],
    lagsTo: (stepId) => lagsTo.get(stepId) ?? [],
    piecesLeft,
    ...{ stock, lumber },
  }
  return besidePlan(withoutPlan, plan, odds)
}

type WithoutPlan = Omit<Moment, 'plan' | 'planned' | 'odds'>

/** The same book at the same minute beside another plan or other odds: all else of it stands as it was worked out. */
export function besidePlan(moment: WithoutPlan, plan: Plan | null, odds: Moment['odds']): Moment {
  const planned = new Map((plan?.steps ?? []).map((step) => [step.id, step]))
  return { ...moment, plan, odds, planned: (stepId) => planned.get(stepId) ?? null }
}

/** Pieces that wait in a place of the almanac, which is a station of its own. */
const carriedTo = (
  station: string,
  lots: readonly Lot[],
  progress: ReadonlyMap<string, StepProgress>,
  now: number,
  piecesLeft: Moment['piecesLeft'],
): number =>
  lots
    .flatMap((lot) => lot.waits)
    .filter(({ from }) => {
      const place = placeAt(progress.get(from.id)?.stays ?? [], now)
      return place !== null && placeStation(place) === station
    })
    .reduce((sum, { from }) => sum + piecesLeft(from), 0)

function workedSince(from: number, { stretches }: HoursLogged, now: number): number {
  return stretches.reduce((sum, each) => sum + Math.max(0, Math.min(each.to, now) - Math.max(each.from, from)), 0)
}

function tackyUntil(step: BookStep, progress: StepProgress, setting: Moment['setting']): number | null {
  if (step.tackyMin === 0 || progress.kind !== 'done') return null
  const place = placeAt(progress.stays, Infinity)
  if (setting.places.some(({ id, dustFree }) => id === place && dustFree)) return null
  const clock = step.tackyProduct === null ? null : setting.clockOf(step.tackyProduct, 'drying', progress.stays)
  return endOfWait(progress.endedAt, step.tackyMin, clock)
}

function lotsOf(
  book: Book,
  commissions: ReadonlyMap<string, Commission>,
  lagsFrom: ReadonlyMap<string, readonly BookLag[]>,
  progress: ReadonlyMap<string, StepProgress>,
  setting: ShopSetting,
): Lot[] {
  const stepsByPiece = Map.groupBy(book.steps, (step) => step.pieceId)
  const lots: Lot[] = []
  for (const piece of book.pieces) {
    const commission = commissions.get(piece.commissionId)
    if (!commission) continue
    for (const [number, steps] of Map.groupBy(stepsByPiece.get(piece.id) ?? [], (step) => step.lot)) {
      const lags = steps.flatMap((step) => lagsFrom.get(step.id) ?? [])
      const waits = openWaits(stepsByPiece.get(piece.id) ?? [], lags, progress, setting.clockOf)
      lots.push({
        piece,
        commission,
        lot: number,
        steps,
        waits,
        state: pieceState(steps, waits, progress, setting.now),
        label: labelOf(piece, commission, steps[0]),
      })
    }
  }
  return lots
}

const labelOf = (piece: Piece, commission: Commission, step: BookStep | undefined): PieceLabel => ({
  commissionId: commission.id,
  number: commission.number,
  customer: commission.customer.name,
  pieceId: piece.id,
  title: piece.title,
  count: step?.lotCount ?? piece.count,
  lot: step === undefined || step.lots === 1 ? null : `lot ${step.lot} of ${step.lots}`,
})

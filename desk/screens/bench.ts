import type { BookStep, Commission } from '../../core/book/book.ts'
import { MOST_AT_ONCE } from '../../core/cautions/cautions-for-step.ts'
import { isLeftRunning, likelyStop } from '../../core/book/left-running.ts'
import { whoIn } from '../../core/almanac/people-in-plans.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import { benchList, type Interval, type LostDate, type Tonight } from '../../core/planning/index.ts'
import { writeAmount } from '../../core/timber/supply-amount.ts'
import { cautionLines } from '../orders/caution-lines.ts'
import { productsPutOn } from '../../core/book/products-put-on.ts'
import type { MilledStep } from '../lumber/milled-boards.ts'
import { lumberLines, type LumberLine } from '../lumber/lumber-lines.ts'
import { doneAhead, type DoneAhead } from '../steps/done-ahead.ts'
import { isBegunAhead } from '../steps/begun-ahead.ts'
import type { Moment } from '../moment.ts'
import { onceAMoment } from '../once-a-moment.ts'
import { peopleToday, type PersonToday } from './people-today.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { failsAt, type MayHaveFailed } from '../steps/may-have-failed.ts'
import { noteOf } from '../steps/step-note.ts'
import { whyMinutesHere } from '../steps/why-minutes.ts'
import { hindranceOf, tooLongFor, type HeldBackBy, type Hindrance } from './hindrance.ts'
import { longestSessionAhead, openHours } from './open-hours.ts'
import { outlookOf, type Outlook } from './outlook.ts'
import { labelAt, type PieceLabel } from '../piece-label.ts'
import type { SupplyDue } from './supplies.ts'
import { toCarry, type CarryLine } from './to-carry.ts'
import { whyFirst } from './why-first.ts'

export interface BenchView {
  /** The session that runs now, or the next one. */
  readonly session: { readonly fromAt: number; readonly toAt: number; readonly runsNow: boolean } | null
  readonly onTheBench: readonly BenchStep[]
  /** What can be started now and fits what is left of the session, in the order of the list: see core/planning's bench-list. */
  readonly canStart: readonly BenchStep[]
  /** How many more there are than were asked for. */
  readonly canStartToo: number
  /** What the plan has for this session and the next that cannot be started yet, with when. */
  readonly comingUp: readonly BenchStep[]
  /** What must be started by when, so that the glue or finish works overnight. */
  readonly tonight: readonly TonightLine[]
  /** Orders whose wood should be here by now: the maker is asked. */
  readonly lumber: readonly LumberLine[]
  /** Why the first of `canStart` comes first, as sentences; empty where nothing can be started. */
  readonly whyFirst: readonly string[]
  /** Milling whose boards are still whole in stock, as far as anybody said: the newest, and how many more there are. */
  readonly milled: readonly MilledStep[]
  readonly milledToo: number
  /** Glue, finish and hardware that ran out and should be here by now. */
  readonly supplies: readonly SupplyDue[]
  /** Waiting pieces that would be ready much sooner in another place. */
  readonly carry: readonly CarryLine[]
  /** Who is expected today; empty with one person. */
  readonly today: readonly PersonToday[]
  readonly lastAction: UndoLine | null
  /** Done while the clock was ahead: asked when it really was. */
  readonly doneAhead: readonly DoneAhead[]
}

export interface UndoLine {
  readonly entryId: number
  /** "Done: first glue-up of Checkerboard". */
  readonly text: string
  readonly atMs: number
  /** The phone or tablet on which it was pressed; null: the desk. */
  readonly device: string | null
}

export interface BenchStep {
  readonly stepId: string
  readonly piece: PieceLabel
  readonly name: string
  readonly note: string
  readonly state: 'can-start' | 'running' | 'paused' | 'not-yet'
  readonly handsOnMinutes: number
  /** How the minutes came about, as sentences. */
  readonly whyMinutes: readonly string[]
  /** Setup minutes included when it starts now, or paid when it was started; the family is shared with these other steps. */
  readonly setUpMinutes: number
  readonly sharesSetUpWith: readonly string[]
  readonly startedAt: number | null
  readonly workedMinutes: number
  readonly plannedAt: number | null
  readonly plannedEndAt: number | null
  /** The local day that the maker wants it on. */
  readonly pinnedDay: string | null
  /** The glue or finish that it puts on; null: none, or none of the almanac. */
  readonly putsOn: { readonly productId: string; readonly name: string } | null
  /** Why it cannot be started yet, or what to mind before starting: "Dust: Serving tray is tacky until 21:40". */
  readonly hindrance: string | null
  /** Steps that have to be done before it, where they are all that is known to be in its way. */
  readonly heldBackBy: readonly HeldBackBy[]
  readonly makers: readonly string[]
  /** Names of who is planned to do it, where the shop has several people; empty: nobody is asked for by name. */
  readonly who: readonly string[]
  /** It was left in hand before the last night: since when, and when the work most likely ended; null: it was not. */
  readonly leftRunning: { readonly sinceAt: number; readonly likelyStopAt: number } | null
  /** Its start is still to come: the clock was ahead when it was pressed, and how long it took has to be asked. */
  readonly begunAhead: boolean
  /** What can be said to have failed here; null: nothing was begun, or it is one of many rows. */
  readonly failsAt: MayHaveFailed | null
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
  /** The promise of its order, and how sure it is; null: nothing is promised. */
  readonly promise: { readonly day: string; readonly outlook: Outlook } | null
}

export interface TonightLine {
  readonly stepId: string
  readonly piece: PieceLabel
  readonly name: string
  readonly latestStartAt: number
  /** The promise of its order, and how sure it is; null: nothing is promised. */
  readonly promise: BenchStep['promise']
  /** What it costs when it is not started by then: "If not, no. 8 (Ada Quist) slips 2 days."; null: next to nothing. */
  readonly otherwise: string | null
}

const comingUpAtMost = 12
/** Questions about boards asked at once. */
const milledAtMost = 2
/** Other steps named for one set-up, the next ones of the plan. */
const sharedAtMost = 4
/** How far ahead "coming up" looks: this session and the next. */
const sessionsAhead = 2

/**
 * What do I do now, next, and at the latest by when tonight?
 * @param rows of what can be started, at most so many
 */
export function benchView(
  moment: Moment,
  tonight: Tonight | null,
  lastAction: UndoLine | null,
  milled: readonly MilledStep[],
  rows: number,
): BenchView {
  const { session, lookTo, onTheBench, canStart, blocked, byFamily } = inTheirOrder(moment)
  const shown = (each: Open, at: number): BenchStep => ({
    ...benchStep(each, byFamily, moment),
    failsAt: isToDo(each.step, moment) && at > 0 ? null : failsAt(each.step, moment),
  })
  return {
    session: session && { fromAt: session.from, toAt: session.to, runsNow: session.from <= moment.now },
    onTheBench: onTheBench.map(shown),
    canStart: canStart.slice(0, rows).map(shown),
    canStartToo: Math.max(0, canStart.length - rows),
    comingUp: blocked
      // The very next one is told even when it is days away: then it is what everybody waits for.
      .filter(({ start }, index) => index === 0 || start < lookTo)
      .slice(0, comingUpAtMost)
      .map(shown),
    tonight: tonight === null ? [] : tonightLines(tonight, moment),
    lumber: lumberLines(moment).filter(({ due }) => due),
    whyFirst: whyFirst(canStart, tonight, session, moment),
    milled: milled.slice(0, milledAtMost),
    milledToo: Math.max(0, milled.length - milledAtMost),
    supplies: moment.stock.supplies.flatMap(({ id, name, outSince, expectedOn }) =>
      outSince !== null && (expectedOn === null || expectedOn <= moment.today) ? [{ id, name, expectedOn }] : [],
    ),
    carry: toCarry(moment),
    doneAhead: doneAhead(moment),
    today: peopleToday(moment),
    lastAction,
  }
}

/** Every open step, with what is in its way: all of a long book are looked through to tell which two dozen come first. */
const inTheirOrder = onceAMoment((moment: Moment) => {
  const sessions = openHours(moment, sessionsAhead)
  const session = sessions[0] ?? null
  const longestMin = longestSessionAhead(moment)
  const open = moment.book.steps
    .flatMap((step): Open[] => {
      if (!isOpen(step, moment)) return []
      const hindrance = isToDo(step, moment)
        ? (hindranceOf(step, moment) ?? tooLongFor(session, longestMin, step, moment))
        : null
      return [{ step, hindrance, start: plannedStart(step, moment) }]
    })
    .sort((a, b) => a.start - b.start)
  const place = placesInList(moment, session)
  const canStart = open
    .filter(({ step, hindrance }) => isToDo(step, moment) && hindrance?.blocks !== true)
    .map((each) => ({ ...each, place: place(each.step) }))
    .sort((a, b) => a.place - b.place)
  return {
    ...{ session, canStart },
    lookTo: sessions.at(-1)?.to ?? moment.now,
    onTheBench: open.filter(({ step }) => !isToDo(step, moment)),
    blocked: open.filter(({ hindrance, start }) => hindrance?.blocks === true && start < Infinity),
    byFamily: Map.groupBy(
      canStart.map(({ step }) => step),
      (step) => step.setUp?.family,
    ),
  }
})

/** Place of each step in the list of the session; what is not planned comes last. */
function placesInList({ asked, plan }: Moment, session: Interval | null): (step: BookStep) => number {
  const list = plan === null ? [] : benchList(asked.problem, plan, session)
  const places = new Map(list.map((id, at) => [id, at]))
  return ({ id }) => places.get(id) ?? list.length
}

const isToDo = (step: BookStep, moment: Moment): boolean => moment.progress(step.id).kind === 'to-do'

const plannedStart = (step: BookStep, moment: Moment): number => moment.planned(step.id)?.start ?? Infinity

function isOpen(step: BookStep, moment: Moment): boolean {
  const commission = moment.lotOf(step.id)?.commission
  if (commission?.standing !== 'agreed') return false
  const { kind } = moment.progress(step.id)
  return kind === 'running' || kind === 'paused' || (kind === 'to-do' && commission.onHoldUntil === null)
}

/** A step that is on the bench or may come there, and what is in its way. */
interface Open {
  readonly step: BookStep
  readonly hindrance: Hindrance | null
  /** Instant at which it is planned to begin; infinite: it is not planned. */
  readonly start: number
}

function benchStep(
  { step, hindrance }: Open,
  byFamily: ReadonlyMap<string | undefined, readonly BookStep[]>,
  moment: Moment,
): Omit<BenchStep, 'failsAt'> {
  const lot = moment.lotOf(step.id)
  if (!lot) throw new Error(`Step ${step.id} belongs to no piece of the book.`)
  const progress = moment.progress(step.id)
  const planned = moment.planned(step.id)
  return {
    stepId: step.id,
    piece: labelAt(step, lot),
    name: step.name,
    note: [noteOf(step, moment), inTheCan(step, moment)].filter((text) => text !== '').join(' '),
    state:
      progress.kind === 'running'
        ? 'running'
        : progress.kind === 'paused'
          ? 'paused'
          : hindrance?.blocks
            ? 'not-yet'
            : 'can-start',
    handsOnMinutes: step.minutes,
    whyMinutes: whyMinutesHere(step, moment.almanac),
    setUpMinutes: setUpMinutes(step, moment),
    sharesSetUpWith: (step.setUp === null ? [] : (byFamily.get(step.setUp.family) ?? []))
      .filter((other) => other.id !== step.id)
      .slice(0, sharedAtMost)
      .map((other) => `${other.name} of ${moment.lotOf(other.id)?.label.title ?? ''}`),
    startedAt: progress.kind === 'running' || progress.kind === 'paused' ? progress.startedAt : null,
    workedMinutes: workedMinutes(progress, moment.now),
    plannedAt: planned?.start ?? null,
    plannedEndAt: planned?.end ?? null,
    pinnedDay: progress.kind === 'to-do' ? progress.pinnedDay : null,
    putsOn: putsOnOf(step, moment),
    hindrance: hindrance?.text ?? null,
    heldBackBy: hindrance?.heldBackBy ?? [],
    makers: planned?.makers ?? [],
    who: whoIn(planned?.makers ?? [], moment.almanac),
    promise: promiseOf(lot.commission, moment),
    leftRunning: leftRunning(step, moment),
    begunAhead: isBegunAhead(step, moment),
    cautions: cautionLines(step, moment).slice(0, MOST_AT_ONCE),
  }
}

function promiseOf(commission: Commission, moment: Moment): BenchStep['promise'] {
  const { promisedFor } = commission
  return promisedFor === null ? null : { day: promisedFor, outlook: outlookOf(commission, moment) }
}

/** What is left of the glue or finish that a step puts on; empty where nobody counts it. */
function inTheCan(step: BookStep, moment: Moment): string {
  const product = putsOnOf(step, moment)
  const supply = moment.stock.supplies.find(({ productId }) => product !== null && productId === product.productId)
  return supply?.amount == null
    ? ''
    : `On the shelf: ${writeAmount(supply.amount, supply.kind, moment.almanac.shop.units)}.`
}

function putsOnOf(step: BookStep, moment: Moment): BenchStep['putsOn'] {
  const productId = productsPutOn([step], moment.lagsFrom(step.id)).get(step.id)
  const { glues, finishes } = moment.almanac
  const product = [...glues, ...finishes].find(({ id }) => id === productId)
  return product === undefined ? null : { productId: product.id, name: product.name }
}

function leftRunning(step: BookStep, moment: Moment): BenchStep['leftRunning'] {
  const progress = moment.progress(step.id)
  const { timeZone } = moment.almanac.shop
  if (progress.kind !== 'running' || !isLeftRunning(progress, moment.now, timeZone)) return null
  const sessions = moment.almanac.makers.flatMap((maker) =>
    workingHours(timeZone, maker, moment.almanac.specialDays, progress.since, progress.since + 24 * 60),
  )
  const left = step.minutes + setUpMinutes(step, moment) - progress.workedMin
  return { sinceAt: progress.since, likelyStopAt: likelyStop(progress.since, left, sessions, timeZone) }
}

function tonightLines(tonight: Tonight, moment: Moment): TonightLine[] {
  return tonight.items.flatMap((item) => {
    const step = moment.step(item.step)
    const lot = moment.lotOf(item.step)
    if (!step || !lot || moment.progress(item.step).kind !== 'to-do') return []
    const lost = item.ifLeft[0]
    const owner = lost && moment.book.commissions.find((commission) => commission.id === lost.commissionId)
    return [
      {
        stepId: step.id,
        piece: labelAt(step, lot),
        name: step.name,
        latestStartAt: item.latestStart,
        promise: promiseOf(lot.commission, moment),
        otherwise: lost === undefined || owner === undefined ? null : ifNotTonight(lost, owner),
      },
    ]
  })
}

/** Slips of less than this are not news. */
const LEAST_SLIP_MIN = 12 * 60
const DAY_MIN = 24 * 60

/** How far an order slips when a step is left for the next session: not to which day, as the plan's day is no promise. */
function ifNotTonight(
  { doneAt, doneIfLeft, promise, lateIfLeftMin }: LostDate,
  { number, customer }: Commission,
): string | null {
  const slipMin = doneIfLeft - doneAt
  if (slipMin < LEAST_SLIP_MIN) return null
  const days = Math.round(slipMin / DAY_MIN)
  const by = days === 0 ? 'half a day' : days === 1 ? 'a day' : `${days} days`
  // What is late by the plan already does not become so tonight.
  const runsLate = lateIfLeftMin > 0 && promise !== null && doneAt <= promise
  return `If not, no. ${number} (${customer.name}) slips ${by}${runsLate ? ' and runs late' : ''}.`
}

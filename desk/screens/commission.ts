import { constructionOfPiece, typedSpec } from '../../core/constructions/constructions.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type {
  BookLag,
  BookStep,
  Commission,
  Piece,
  Customer,
  ExtraLine,
  Standing,
  TakenWhere,
} from '../../core/book/book.ts'
import type { MoneyEntry } from '../../core/money/ledger.ts'
import type { StepWork } from '../../core/book/work-done.ts'
import { mayComeBefore } from '../../core/book/steps-by-hand.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import { buildLots } from '../../core/constructions/lots.ts'
import { oddsView, type OddsView } from '../planner/odds-view.ts'
import { builtAt } from '../built-at.ts'
import { cautionLines } from '../orders/caution-lines.ts'
import { moneyView } from '../money/order-money.ts'
import { uncutFor } from '../money/spent.ts'
import { woodSpent } from '../money/wood-spent.ts'
import type { RemakeRecord } from '../../core/money/remake-reserve.ts'
import { priceOfWork, type PriceView } from '../money/price-of-work.ts'
import { pricedWork } from '../money/priced-work.ts'
import type { Moment } from '../moment.ts'
import { stillBefore } from '../steps/still-before.ts'
import { finishesOn } from '../finishes-on.ts'
import { mayHaveFailed, type MayHaveFailed } from '../steps/may-have-failed.ts'
import { noteOf } from '../steps/step-note.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { whyMinutesHere } from '../steps/why-minutes.ts'
import { countsBoards, lumberLine, type LumberLine } from '../lumber/lumber-lines.ts'
import { woodNeeded, type WoodNeeded } from '../lumber/wood-needed.ts'
import { longestWait, type WaitLine } from '../steps/wait-line.ts'
import { wordOf, type CommissionWord } from '../orders/commission-word.ts'
import { dateOf, outlookOf, type Outlook } from './outlook.ts'
import { namesAt } from './people-today.ts'
import { timesOf } from './weeks.ts'
import type { MilledStep } from '../lumber/milled-boards.ts'
import type { HistoryLine } from '../orders/history-lines.ts'
import type { RelatedOrder } from '../orders/related-orders.ts'
import type { Lumber } from '../../core/book/lumber.ts'
import type { PieceState } from '../../core/book/piece-state.ts'
import type { PromiseRecord } from '../../core/book/promise.ts'
import type { Consumed, Fact, Fitting, Part, SpecInput } from '../../core/constructions/construction.ts'
import type { Drawing } from '../../core/constructions/drawing.ts'
import type { HomeAir } from '../../core/wood/seasons.ts'
import type { MoneyView } from '../money/money-view.ts'
import { lotInWords, type PieceLabel } from '../piece-label.ts'

export interface CommissionView {
  readonly id: string
  readonly number: number
  readonly customer: Customer
  readonly standing: Standing
  readonly word: CommissionWord
  readonly onHoldUntil: string | null
  readonly onHoldWhy: string
  readonly remindOn: string | null
  readonly toldOn: string | null
  readonly closedFrom: Commission['closedFrom']
  readonly closedWhy: string
  /** The local day on which it was handed over or canceled; null: it is open. */
  readonly closedOn: string | null
  readonly giftFor: string
  readonly giftAddress: string
  /** The earlier order that it belongs to, then those that belong to it; none of orders that are gone. */
  readonly family: readonly RelatedOrder[]
  readonly takenAtMin: number
  readonly takenWhere: TakenWhere
  readonly neededBy: string | null
  readonly neededWhy: string
  readonly promisedFor: string | null
  readonly notes: string
  /** Climate at the customer’s, as said with the order; null: the almanac's home. */
  readonly home: HomeAir | null
  readonly priceMinor: number | null
  readonly untaxedWhy: string
  readonly extraLines: readonly ExtraLine[]
  readonly money: MoneyView
  readonly price: PriceView
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  readonly outlook: Outlook
  /** Null while they are not worked out, and where there is nothing to work out. */
  readonly odds: OddsView | null
  /** Days given and quoted, newest first, with what was stated. */
  readonly promises: readonly PromiseRecord[]
  /** Why the chance has fallen since the promise, as sentences; empty where it has not. */
  readonly whyFallen: readonly string[]
  readonly pieces: readonly PieceView[]
  readonly wood: WoodNeeded
  /** What the boards that were cut for it cost; 0: none has a price. */
  readonly woodPaidMinor: number
  /** What boards cost that were bought for it and are still whole. */
  readonly woodUncutMinor: number
  readonly lumber: LumberLine | null
  /** What was said of it, whether it is open and something is still to be cut, and whether boards on hand were looked at. */
  readonly lumberSaid: Lumber
  readonly lumberTaken: boolean
  readonly lumberCounted: boolean
  /** Milling of which the boards on hand do not know yet. */
  readonly milled: readonly MilledStep[]
  readonly history: readonly HistoryLine[]
  /** Entries of its log that are damaged: none of them is in the history. */
  readonly damagedEntries: number
}

export interface PieceView {
  readonly piece: PieceLabel
  readonly construction: string
  readonly constructionName: string
  readonly state: PieceState
  /** The day on which it left before the rest of its order. */
  readonly handedOverOn: string | null
  /** For asking again: the spec as the form shows it. */
  readonly input: SpecInput
  /** One piece to scale; null where nothing is known of its shape. */
  readonly drawing: Drawing | null
  /** When its parts were or will be joined, in whose season the wood is: sizes and drawing are for then. */
  readonly builtAt: number
  readonly geometry: readonly Fact[]
  readonly parts: readonly Part[]
  /** What is bought for it. */
  readonly fittings: readonly Fitting[]
  /** Glue and finish that it takes. */
  readonly consumed: readonly Consumed[]
  /** Names of the finishes that go on it, in their order. */
  readonly finishes: readonly string[]
  readonly warnings: readonly string[]
  /** Why it is made in several lots; null: it is not, or it is finished. */
  readonly whyLots: string | null
  readonly steps: readonly StepLine[]
  readonly doneAt: number | null
}

export interface StepLine extends MayHaveFailed {
  readonly note: string
  readonly lot: string | null
  readonly state: 'done' | 'running' | 'paused' | 'to-do'
  readonly handsOnMinutes: number
  readonly whyMinutes: readonly string[]
  readonly workedMinutes: number | null
  /** Stretches of work as they are logged; the one that goes on has no end. */
  readonly work: readonly { readonly fromAt: number; readonly toAt: number | null; readonly makerId: string | null }[]
  /** Of how many pieces it is. */
  readonly count: number
  /** Its result is lost: it failed, or is not wanted any more. */
  readonly lost: boolean
  /** Steps before it that are not done, where it is not done itself. */
  readonly stillBefore: readonly string[]
  readonly canLeaveOut: boolean
  /** Name of the step that it may be done before, though that one comes first; null: it may not. */
  readonly canComeBefore: string | null
  /** The local day that the maker wants it on. */
  readonly pinnedDay: string | null
  /** Names of who did it or is planned for it, where the shop has several people. */
  readonly who: readonly string[]
  readonly startAt: number | null
  readonly endAt: number | null
  /** The longest wait that follows, if any. */
  readonly waitAfter: WaitLine | null
  readonly cautions: readonly { readonly id: string; readonly text: string }[]
}

/** Everything of one order. */
export function commissionView(
  commission: Commission,
  moment: Moment,
  read: Pick<CommissionView, 'history' | 'damagedEntries' | 'milled' | 'whyFallen' | 'closedOn'>,
  entries: readonly MoneyEntry[],
  family: readonly RelatedOrder[],
  remakes: RemakeRecord,
): CommissionView {
  const { id, number, customer, standing, onHoldUntil, onHoldWhy, takenAtMin, takenWhere } = commission
  const { remindOn, toldOn, closedFrom, closedWhy, giftFor, giftAddress } = commission
  const { neededBy, neededWhy, promisedFor, notes, home, priceMinor, untaxedWhy, extraLines } = commission
  const pieces = moment.book.pieces
    .filter((piece) => piece.commissionId === id)
    .map((piece) => pieceView(piece, commission, moment))
  const outlook = outlookOf(commission, moment)
  return {
    ...{ id, number, customer, standing, onHoldUntil, onHoldWhy, takenAtMin, takenWhere },
    ...{ neededBy, neededWhy, promisedFor, notes, home, priceMinor, untaxedWhy, extraLines },
    ...{ remindOn, toldOn, closedFrom, closedWhy, giftFor, giftAddress, family },
    money: moneyView(commission, entries, moment),
    price: priceOfWork(pricedWork(commission, pieces, moment), {
      almanac: moment.almanac,
      wording: moment.wording,
      remakes,
    }),
    doneAt: dateOf(commission, moment).doneAt,
    outlook,
    odds: outlook.days === null ? null : oddsView(moment.odds(id)?.odds ?? null, moment),
    promises: moment.book.promises.filter((promise) => promise.commissionId === id).toReversed(),
    word: wordOf(commission, moment),
    pieces,
    wood: woodNeeded(
      pieces.flatMap(({ parts }) => parts),
      moment,
    ),
    woodPaidMinor: woodSpent(commission, moment).paidMinor,
    woodUncutMinor: uncutFor(commission, moment).uncutMinor,
    ...{ lumber: lumberLine(commission, moment), lumberSaid: commission.lumber },
    ...{ lumberTaken: moment.lumber.ofOrder(id) !== null, lumberCounted: countsBoards(moment) },
    ...read,
  }
}

function pieceView(piece: Piece, commission: Commission, moment: Moment): PieceView {
  const typed = typedSpec(piece, moment.almanac.shop.units)
  // What cannot be read is shown as far as its steps go.
  const construction = typed === null ? undefined : constructionOfPiece(piece)
  const steps = moment.book.steps.filter((step) => step.pieceId === piece.id)
  const lagsOfPiece = moment.book.lags.filter((lag) => lag.pieceId === piece.id)
  const joinedAt = builtAt(steps, moment)
  const facts = shopFactsOf(moment.almanac, joinedAt, commission.home)
  const build = construction ? buildLots(construction, piece.spec, piece.count, facts) : null
  const lots = moment.lots.filter((lot) => lot.piece.id === piece.id)
  const ends = steps.map((step) => timesOf(step, moment)?.end ?? null)
  const first = lots[0]
  if (!first) throw new Error(`Piece ${piece.id} has no steps.`)
  // Of several lots the one that is furthest behind speaks for the piece.
  const state = lots.map((lot) => lot.state).find((one) => one !== 'finished') ?? 'finished'
  const isOver = state === 'finished' || commission.standing === 'handed-over' || commission.standing === 'called-off'
  return {
    piece: { ...first.label, count: piece.count, lot: null },
    construction: piece.construction,
    constructionName: construction?.name ?? piece.construction,
    handedOverOn: piece.handedOverOn ?? null,
    state,
    whyLots: build?.ok && !isOver ? build.value.whyLots : null,
    input: typed ?? {},
    drawing: construction?.draw(piece.spec, facts) ?? null,
    builtAt: joinedAt,
    geometry: build?.ok ? build.value.geometry : [],
    parts: build?.ok ? build.value.parts : [],
    fittings: build?.ok ? build.value.fittings : [],
    consumed: build?.ok ? build.value.consumed : [],
    finishes: finishesOn(steps, lagsOfPiece, moment),
    warnings: build?.ok ? build.value.warnings : build ? build.problems.map((each) => each.message) : [],
    steps: steps.map((step) => stepLine(step, piece.count, lagsOfPiece, moment)),
    doneAt: ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null)),
  }
}

function stepLine(step: BookStep, pieces: number, lagsOfPiece: readonly BookLag[], moment: Moment): StepLine {
  const progress = moment.progress(step.id)
  const times = timesOf(step, moment)
  return {
    ...mayHaveFailed(step, moment),
    note: noteOf(step, moment),
    lot: lotInWords(step, pieces),
    state: progress.kind,
    handsOnMinutes: step.minutes + setUpMinutes(step, moment),
    whyMinutes: whyMinutesHere(step, moment.almanac),
    workedMinutes: isTimeKnown(step, moment) ? workedMinutes(progress, moment.now) : null,
    work: workLines(moment.work(step.id)),
    count: step.lotCount,
    lost: step.lost === true,
    stillBefore: progress.kind === 'done' || step.lost === true ? [] : stillBefore(step, moment),
    canLeaveOut: progress.kind === 'to-do' && step.lost !== true,
    canComeBefore:
      mayComeBefore(
        {
          steps: moment.stepsOf(step.commissionId).filter(({ pieceId }) => pieceId === step.pieceId),
          lags: lagsOfPiece,
        },
        step.id,
        moment.progress,
      )?.name ?? null,
    pinnedDay: progress.kind === 'to-do' ? progress.pinnedDay : null,
    who: namesAt(step.id, moment),
    startAt: times?.start ?? null,
    endAt: times?.end ?? null,
    waitAfter: longestWait(moment.lagsFrom(step.id), times?.end ?? null, moment),
    cautions: cautionLines(step, moment),
  }
}

/** Work that was entered afterwards may have no time: nobody knows. */
function isTimeKnown({ id }: BookStep, moment: Moment): boolean {
  const { stretches, running } = moment.work(id)
  return stretches.length > 0 || running !== null
}

const workLines = ({ stretches, running }: StepWork): StepLine['work'] => [
  ...stretches.map(({ from, to, makerId }) => ({ fromAt: from, toAt: to, makerId })),
  ...(running === null ? [] : [{ fromAt: running.since, toAt: null, makerId: running.makerId }]),
]

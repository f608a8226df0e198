import { constructionOfPiece, typedSpec } from '../../core/constructions/constructions.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { BookLag, BookStep, Commission, Piece } from '../../core/book/book.ts'
import type { MoneyEntry } from '../../core/money/ledger.ts'
import { productsPutOn } from '../../core/book/planning-problem.ts'
import type { StepWork } from '../../core/book/work-done.ts'
import { stepsToRemakeFrom } from '../../core/book/remake.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import { buildLots } from '../../core/constructions/lots.ts'
import { oddsView } from '../planner/odds-view.ts'
import { builtAt } from '../built-at.ts'
import { cautionLines } from '../orders/caution-lines.ts'
import { moneyView } from '../money/order-money.ts'
import { priceOfWork } from '../money/price-of-work.ts'
import type { Moment } from '../moment.ts'
import { noteOf } from '../steps/step-note.ts'
import { whyMinutesHere } from '../steps/why-minutes.ts'
import { countsBoards, lumberLine } from '../lumber/lumber-lines.ts'
import type { CommissionView, HistoryLine, PieceView, RelatedOrder, StepLine, WaitLine } from '../views.ts'
import { woodNeeded } from '../lumber/wood-needed.ts'
import { waitHere } from '../steps/wait-here.ts'
import { wordOf } from '../orders/commission-word.ts'
import { dateOf, outlookOf } from './outlook.ts'
import { timesOf } from './weeks.ts'
import { whyFallen } from './why-fallen.ts'

/** Everything of one order. */
export function commissionView(
  commission: Commission,
  moment: Moment,
  history: readonly HistoryLine[],
  entries: readonly MoneyEntry[],
  family: readonly RelatedOrder[],
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
    price: priceOfWork(
      {
        parts: pieces.flatMap(({ parts }) => parts),
        steps: moment.stepsOf(id).map((step) => ({ ...step, who: whoDoes(step.id, moment) })),
        count: pieces.length === 1 ? (pieces[0]?.piece.count ?? null) : null,
        typedMinor: priceMinor,
        extraLines,
        untaxed: untaxedWhy !== '',
      },
      moment.almanac,
      moment.wording,
    ),
    doneAt: dateOf(commission, moment).doneAt,
    outlook,
    odds: outlook.days === null ? null : oddsView(moment.odds(id)?.odds ?? null),
    promises: moment.book.promises.filter((promise) => promise.commissionId === id).toReversed(),
    whyFallen: outlook.hasFallen ? whyFallen(commission, moment) : [],
    word: wordOf(commission, moment),
    pieces,
    wood: woodNeeded(
      pieces.flatMap(({ parts }) => parts),
      moment,
    ),
    ...{ lumber: lumberLine(commission, moment), lumberSaid: commission.lumber },
    ...{ lumberTaken: moment.lumber.ofOrder(id) !== null, lumberCounted: countsBoards(moment) },
    history,
  }
}

/** Who did a step, or is planned for it; null: nobody knows. */
function whoDoes(stepId: string, moment: Moment): string | null {
  const progress = moment.progress(stepId)
  return (progress.kind === 'to-do' ? null : progress.makerId) ?? moment.planned(stepId)?.makers[0] ?? null
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
  return {
    piece: { ...first.label, count: piece.count, lot: null },
    construction: piece.construction,
    constructionName: construction?.name ?? piece.construction,
    handedOverOn: piece.handedOverOn ?? null,
    // Of several lots the one that is furthest behind speaks for the piece.
    state: lots.map((lot) => lot.state).find((state) => state !== 'finished') ?? 'finished',
    input: typed ?? {},
    drawing: construction?.draw(piece.spec, facts) ?? null,
    builtAt: joinedAt,
    geometry: build?.ok ? build.value.geometry : [],
    parts: build?.ok ? build.value.parts : [],
    fittings: build?.ok ? build.value.fittings : [],
    finishes: finishesOn(steps, lagsOfPiece, moment),
    warnings: build?.ok ? build.value.warnings : build ? build.problems.map((each) => each.message) : [],
    steps: steps.map((step) => stepLine(step, lagsOfPiece, moment)),
    doneAt: ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null)),
  }
}

function finishesOn(steps: readonly BookStep[], lags: readonly BookLag[], { almanac }: Moment): readonly string[] {
  const putsOn = productsPutOn(steps, lags)
  const products = new Set(steps.flatMap(({ id }) => putsOn.get(id) ?? []))
  return [...products].flatMap((id) => almanac.finishes.find((finish) => finish.id === id)?.name ?? [])
}

function stepLine(step: BookStep, lagsOfPiece: readonly BookLag[], moment: Moment): StepLine {
  const progress = moment.progress(step.id)
  const times = timesOf(step, moment)
  return {
    stepId: step.id,
    name: step.name,
    note: noteOf(step, moment),
    lot: step.lots === 1 ? null : `lot ${step.lot} of ${step.lots}`,
    state: progress.kind,
    handsOnMinutes: step.minutes + setUpMinutes(step, moment),
    whyMinutes: whyMinutesHere(step, moment.almanac),
    workedMinutes: progress.kind === 'to-do' ? null : workedMinutes(progress, moment.now),
    work: workLines(moment.work(step.id)),
    count: step.lotCount,
    lost: step.lost === true,
    againFrom: stepsToRemakeFrom(step, moment.stepsOf(step.commissionId), lagsOfPiece, moment.progress).map(
      ({ id, name }) => ({ stepId: id, name }),
    ),
    pinnedDay: progress.kind === 'to-do' ? progress.pinnedDay : null,
    startAt: times?.start ?? null,
    endAt: times?.end ?? null,
    waitAfter: longestWait(moment.lagsFrom(step.id), times?.end ?? null, moment),
    cautions: cautionLines(step, moment),
  }
}

const workLines = ({ stretches, running }: StepWork): StepLine['work'] => [
  ...stretches.map(({ from, to, makerId }) => ({ fromAt: from, toAt: to, makerId })),
  ...(running === null ? [] : [{ fromAt: running.since, toAt: null, makerId: running.makerId }]),
]

/** Setup that belongs to a step: as planned, where others share it; the whole of it once the step is done. */
function setUpMinutes(step: BookStep, moment: Moment): number {
  const planned = moment.progress(step.id).kind === 'done' ? null : moment.planned(step.id)
  return planned?.setUpMin ?? step.setUp?.minutes ?? 0
}

/**
 * The wait after a step that is worth telling: the longest one.
 * @param endAt when the step ended or is planned to; null: nobody knows yet
 */
export function longestWait(
  lags: readonly (Omit<BookLag, 'pieceId' | 'fromStep' | 'toStep'> & { readonly fromStep?: string })[],
  endAt: number | null,
  moment: Pick<Moment, 'setting' | 'almanac' | 'stays'>,
): WaitLine | null {
  const longest = lags.filter((lag) => lag.wait !== 'none').sort((a, b) => b.minMin - a.minMin)[0]
  if (longest === undefined) return null
  const here = endAt === null ? null : waitHere(longest, endAt, moment)
  return {
    kind: longest.wait,
    name: longest.name,
    minutes: longest.minMin,
    hereMinutes: here === null || here.overAt === null || endAt === null ? null : here.overAt - endAt,
    because: here?.because ?? [],
    rangeMinutes: [longest.optimisticMin, longest.pessimisticMin],
    openForMinutes: longest.maxMin === null ? null : longest.maxMin - Math.max(0, longest.minMin),
    source: longest.source,
  }
}

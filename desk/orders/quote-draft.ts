import type { Book } from '../../core/book/book.ts'
import { planCommission, planningProblem } from '../../core/book/planning-problem.ts'
import { fittingStep } from '../../core/constructions/fitting-step.ts'
import { chanceBy, type NewWork, type PlannedStep, type PlanningProblem } from '../../core/planning/index.ts'
import type { NetworkStep } from '../../core/constructions/step-network.ts'
import { sum } from '../../core/money/exact.ts'
import { isSuperseded, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { tenthsOf } from '../../core/book/chance.ts'
import { localDay } from '../../core/time/local-day.ts'
import { remakesOf } from '../learning/remakes.ts'
import { priceOfWork, type PricedBy, type PriceView } from '../money/price-of-work.ts'
import { orderOf, readDraft, type DraftOrder, type ReadDraft, type ReadPiece } from './draft-work.ts'
import type { Moment } from '../moment.ts'
import { oddsView } from '../planner/odds-view.ts'
import { dayToSay, hoursOf, takesOf } from './promise-of-quote.ts'
import { quoteWork, type QuoteAsked } from './quote-work.ts'
import type { OpenShop } from '../open-shop.ts'
import type { QuotedOffer } from '../planner/planning-request.ts'
import { lumberOutlook, type LumberOutlook, type OrderLumber } from '../lumber/lumber-ahead.ts'
import { countsBoards } from '../lumber/lumber-lines.ts'
import { laterHold, supplyHolds } from '../lumber/supply-holds.ts'
import { woodNeeded } from '../lumber/wood-needed.ts'
import { longestWait } from '../steps/wait-line.ts'
import { whyMinutesHere } from '../steps/why-minutes.ts'
import type { DraftAnswer, DraftLumber, DraftPieceAnswer, OfferView } from './draft-answer.ts'
import type { Draft } from './draft.ts'
import { idsOfNextOrder, type OrderIds } from './order-ids.ts'

/** What follows from a draft as it is typed: steps, parts and dates, and what is missing or wrong. */
export async function quoteDraft(shop: OpenShop, draft: Draft, asked: QuoteAsked): Promise<Result<DraftAnswer>> {
  const read = readDraft(draft, shop.almanac, shop.now)
  const moment = shop.moment()
  const wood = woodNeeded(
    read.pieces.flatMap((piece) => piece?.build.parts ?? []),
    moment,
  )
  const by = { almanac: moment.almanac, wording: moment.wording, remakes: await remakesOf(shop) }
  const price = draftPrice(read, by)
  const complete = read.pieces.length > 0 && read.pieces.every((piece) => piece !== null)
  if (!complete)
    return ok({
      problems: read.problems,
      pieces: read.pieces.map((piece) => pieceAnswer(piece, [], moment)),
      wood,
      price,
      lumber: null,
      offers: [],
    })

  const { order, newWork, clocks, standsStill, ...work } = workOfDraft(draft, read, moment, idsOfNextOrder(shop))
  const lumber = draftLumber(work.lumber, moment)
  if (standsStill) {
    return ok({
      problems: [...read.problems, standsStill],
      pieces: read.pieces.map((piece) => pieceAnswer(piece, [], moment)),
      wood,
      price,
      lumber,
      offers: [],
    })
  }
  const answer = await quoteWork(shop, { newWork, clocks }, asked)
  if (!answer.ok) {
    if (isSuperseded(answer)) return answer
    return ok({
      problems: [...read.problems, ...answer.problems],
      pieces: read.pieces.map((piece) => pieceAnswer(piece, [], moment)),
      wood,
      price,
      lumber,
      offers: [],
    })
  }
  const times = new Map(answer.value.steps.map((step) => [step.id, step]))
  const offers = answer.value.offers.map((offer) => offerView(offer, moment))
  return ok({
    problems: read.problems,
    pieces: read.pieces.map((piece, position) => {
      const pieceId = order.pieces[position]?.id
      const planned = order.steps.filter((step) => step.pieceId === pieceId).map((step) => times.get(step.id) ?? null)
      return pieceAnswer(piece, planned, moment)
    }),
    wood,
    price: draftPrice(
      read,
      by,
      order.steps.map(({ id }) => times.get(id) ?? null),
    ),
    lumber,
    offers,
  })
}

const draftLumber = (lumber: OrderLumber | null, moment: Moment): DraftLumber => ({
  text: lumber?.text ?? null,
  missing: lumber?.missing ?? [],
  counted: countsBoards(moment),
})

/**
 * What to ask for the pieces that make sense; null while there is none.
 * @param planned each step in turn by the plan, so that it costs the pay of whoever does it, and the set-up that it pays; none before
 * it is planned
 */
function draftPrice(
  { pieces, priceMinor, lumber }: ReadDraft,
  by: PricedBy,
  planned: readonly (PlannedStep | null)[] = [],
): PriceView | null {
  const known = pieces.flatMap((piece) => piece ?? [])
  if (known.length === 0) return null
  let step = 0
  return priceOfWork(
    {
      pieces: known.map(({ build: { title, parts, fittings, consumed, lots }, count }) => ({
        ...{ title, count, parts, fittings, consumed },
        steps: lots
          .flatMap(({ steps }) => steps)
          .map((one) => {
            const at = planned[step++] ?? null
            return { ...one, setUp: setUpThen(one, at), who: at?.makers[0] ?? null }
          }),
      })),
      ...{ ownWood: lumber.from === 'customer', untaxed: false },
      typedMinor: priceMinor,
      extraLines: [],
    },
    by,
  )
}

/** The set-up that a step pays by the plan, where others may share it; all of it before it is planned. */
const setUpThen = ({ setUp }: Pick<NetworkStep, 'setUp'>, planned: PlannedStep | null): NetworkStep['setUp'] =>
  setUp === null ? null : { ...setUp, minutes: planned?.setUpMin ?? setUp.minutes }

/** What a draft would add to the shop. Under the same ids the same draft is the same work. */
export function workOfDraft(draft: Draft, read: ReadDraft, moment: Moment, ids: OrderIds) {
  const decided = { standing: 'agreed', promisedFor: null, takenAtMin: moment.now } as const
  const order = orderOf(draft, read, decided, ids.inTurn())
  return { order, ...workOf(order, moment) }
}

/** The new order by itself as work for the planner. @param order with its number, where it has one */
export function workOf(
  order: DraftOrder & { readonly commission: { readonly number?: number } },
  moment: Moment,
): {
  readonly newWork: NewWork
  readonly clocks: PlanningProblem['clocks']
  readonly lumber: OrderLumber | null
  readonly standsStill: Problem | null
} {
  const commission = { ...order.commission, number: 0 }
  const { pieces, steps, lags } = order
  const nextNumber = order.commission.number ?? moment.book.nextNumber
  const book: Book = {
    ...{ commissions: [commission], pieces, steps, lags, log: [], promises: [] },
    ...(nextNumber === undefined ? {} : { nextNumber }),
  }
  const lumber = lumberOfNew(book, moment)
  const heldUp = supplyHolds(steps, lags, moment.stock.supplies, { now: moment.now, ...moment.wording })
  const { problem: alone, undated } = planningProblem(book, {
    ...moment.setting,
    suppliesFor: (step) => laterHold(lumber.holdOf(step.id), heldUp(step)),
  })
  const why = [...undated.values()][0]
  return {
    newWork: { commission: planCommission(commission, moment.setting), steps: alone.steps, lags: alone.lags },
    clocks: alone.clocks,
    lumber: lumber.ofOrder(commission.id),
    standsStill: why === undefined ? null : problem('stands-still', why, 'pieces'),
  }
}

/** New work has the last claim on the boards on hand. */
function lumberOfNew(alone: Book, { book, almanac, now, stock, wording, progressOf }: Moment): LumberOutlook {
  const ids = new Set(alone.commissions.map(({ id }) => id))
  const others = {
    commissions: book.commissions.filter(({ id }) => !ids.has(id)),
    pieces: book.pieces.filter(({ commissionId }) => !ids.has(commissionId)),
    steps: book.steps.filter(({ commissionId }) => !ids.has(commissionId)),
    lags: book.lags,
  }
  const together = {
    commissions: [...others.commissions, ...alone.commissions],
    pieces: [...others.pieces, ...alone.pieces],
    steps: [...others.steps, ...alone.steps],
    lags: [...others.lags, ...alone.lags],
  }
  return lumberOutlook(together, progressOf, stock, { almanac, now, locale: wording.locale })
}

export function pieceAnswer(
  piece: ReadPiece | null,
  planned: readonly (PlannedStep | null)[],
  moment: Moment,
): DraftPieceAnswer {
  if (piece === null) {
    return { title: null, geometry: [], parts: [], warnings: [], steps: [], handsOnMinutes: 0, lots: null }
  }
  const steps = piece.build.lots.flatMap((lot) =>
    lot.steps.map((step) => ({ step, lags: lot.lags.filter((lag) => lag.from === step.key) })),
  )
  const minutesThen = steps.map(
    ({ step }, index) => step.minutes + (setUpThen(step, planned[index] ?? null)?.minutes ?? 0),
  )
  const fitting = fittingStep(steps.map(({ step }, index) => ({ ...step, at: planned[index]?.start })))
  const build = piece.buildAt(fitting?.at ?? moment.now)
  return {
    title: build.title,
    geometry: build.geometry,
    parts: build.parts,
    warnings: build.warnings,
    steps: steps.map(({ step, lags }, index) => ({
      name: step.name,
      handsOnMinutes: minutesThen[index] ?? 0,
      whyMinutes: whyMinutesHere(step, moment.almanac),
      waitAfter: longestWait(lags, planned[index]?.end ?? null, moment),
      plannedAt: planned[index]?.start ?? null,
    })),
    handsOnMinutes: sum(minutesThen),
    lots: build.whyLots,
  }
}

function offerView(offer: QuotedOffer, moment: Moment): OfferView {
  const { timeZone } = moment.almanac.shop
  const odds = oddsView(offer.odds, moment)
  const day = dayToSay(offer, timeZone)
  return {
    kind: offer.kind.kind,
    takes: takesOf(offer),
    had: offer.kind.kind !== 'with-more' ? 'as-it-is' : hoursOf(offer) === null ? 'by-hand' : 'by-itself',
    doneAt: offer.doneAt,
    odds,
    dayToSay: day,
    chance: offer.odds && chanceBy(offer.odds, moment.setting.endOfDay(day)),
    safeDay: odds ? localDay(odds.p95At, timeZone) : null,
    late: offer.late.map((late) => {
      const commission = moment.book.commissions.find((each) => each.id === late.commissionId)
      return {
        commissionId: late.commissionId,
        number: commission?.number ?? 0,
        customer: commission?.customer.name ?? '',
        lateMinutes: late.lateMin,
        doneAt: late.doneAt,
      }
    }),
    keepsPromises: offer.keepsPromises,
    lessSure: offer.others
      .filter(({ before, after }) => tenthsOf(after) < tenthsOf(before))
      .map(({ commissionId, before, after }) => {
        const commission = moment.book.commissions.find((each) => each.id === commissionId)
        return {
          ...{ commissionId, before, after },
          number: commission?.number ?? 0,
          customer: commission?.customer.name ?? '',
        }
      }),
    why: offer.why,
  }
}

import { randomUUID } from 'node:crypto'
import { tenthsOf } from '../../core/book/chance.ts'
import { WHICH_WORK_COUNTS } from '../../core/book/changed-network.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { standingPromise } from '../../core/book/promise.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import { chanceBy, type Odds } from '../../core/planning/index.ts'
import { failed, isSuperseded, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { commissionById, type Order } from '../../db/commissions.ts'
import { draftById } from '../../db/drafts.ts'
import { woodNeeded, type WoodNeeded } from '../lumber/wood-needed.ts'
import { momentOf, type Moment } from '../moment.ts'
import type { RemakeRecord } from '../../core/money/remake-reserve.ts'
import { remakesOf } from '../learning/remakes.ts'
import { priceOfWork } from '../money/price-of-work.ts'
import { builtPiece } from '../built-piece.ts'
import { pricedStep, termsOf } from '../money/priced-work.ts'
import type { OpenShop } from '../open-shop.ts'
import { forecastOf } from '../planner/forecast.ts'
import { replications } from '../planner/odds-view.ts'
import { dateOf } from '../screens/outlook.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { lotInWords } from '../piece-label.ts'
import { bookWith, changedOrder, draftOfOrder, untouchedPieces, type ChangedOrder } from './changed-order.ts'
import { readDraft } from './draft-work.ts'
import { changeKey, draftName } from './order-drafts.ts'
import { dayToSay } from './promise-of-quote.ts'
import { isWoodLost } from './wood-lost.ts'
import { pieceAnswer } from './quote-draft.ts'
import { piecesUnused, type PiecesUnused } from './pieces-unused.ts'
import type { Draft } from './draft.ts'
import { handChanges } from './hand-changes.ts'
import type { DraftAnswer, OfferView } from './draft-answer.ts'

/** What follows from a changed order, beside the order as it is. */
export interface ChangeAnswer extends DraftAnswer {
  /** Null while the draft has problems. */
  readonly change: ChangeView | null
}

export interface ChangeView {
  readonly before: ChangeSide
  readonly after: ChangeSide
  /** Whether steps, parts or pieces differ, not only what was agreed. */
  readonly changesWork: boolean
  /** Steps with work at pieces that change. */
  readonly work: readonly ChangedWork[]
  /** What stands in the shop of it and is of no use any more. */
  readonly unused: readonly PiecesUnused[]
  readonly countingMinutes: number
  readonly lostMinutes: number
  /** The rule by which work counts, as a sentence. */
  readonly rule: string
  readonly promisedFor: string | null
  /** What was stated with the promise. */
  readonly stated: number | null
  /** Others whose chance gets less. */
  readonly lessSure: OfferView['lessSure']
}

/** An order before or after a change. */
export interface ChangeSide {
  readonly pieces: readonly string[]
  readonly stepsToDo: number
  readonly minutesToDo: number
  readonly wood: WoodNeeded
  readonly priceMinor: number | null
  /** What the almanac would ask for it. */
  readonly askedMinor: number
  /** By the plan; null: no date. */
  readonly doneAt: number | null
  /** Chance of the promised day; null: no promise, or not worked out yet. */
  readonly chance: number | null
  /** The day that could be promised, and its chance; null: not worked out yet. */
  readonly dayToSay: string | null
  readonly chanceOfDay: number | null
}

export interface ChangedWork {
  readonly stepId: string
  readonly name: string
  readonly piece: string
  readonly lot: string | null
  readonly minutes: number
  readonly counts: boolean
  /** Whether the maker may say that it counts, or does not. */
  readonly canSay: boolean
}

/** What the maker says of done work against the rule, by step. */
export type WorkSaid = Readonly<Record<string, boolean>>

/** The order as its form holds it, or as far as its change had got. Problems: `unknown-commission`, `wrong-standing`, `unreadable`. */
export async function changeBegun(
  shop: OpenShop,
  id: string,
  readKept: (content: unknown) => Draft | null,
): Promise<Result<{ readonly draft: Draft; readonly number: number; readonly customer: string }>> {
  const order = await orderToChange(shop, id)
  if (!order.ok) return order
  const now = draftOfOrder(order.value, shop.almanac)
  if (!now.ok) return now
  const kept = readKept((await draftById(shop.db, draftName(changeKey(id))))?.content)
  // A piece that has gone since cannot be changed any more.
  const known = new Set(order.value.pieces.map((piece) => piece.id))
  const fits = kept?.pieces.every(({ of }) => of === undefined || known.has(of)) === true
  const { number, customer } = order.value.commission
  return ok({ draft: kept !== null && fits ? kept : now.value, number, customer: customer.name })
}

/** Problems: `unknown-commission`, `wrong-standing`. */
export async function orderToChange(shop: OpenShop, id: string): Promise<Result<Order>> {
  const order = await commissionById(shop.db, id)
  if (order === null) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const { number, standing } = order.commission
  return standing === 'agreed' || standing === 'asked-about'
    ? ok(order)
    : failed(
        problem(
          'wrong-standing',
          `No. ${number} is ${standing === 'handed-over' ? 'handed over' : 'canceled'}: reopen it to change it.`,
        ),
      )
}

/** What a draft would make of an order at this moment. Problems: by field, as those of a new order. */
export async function readChange(
  shop: OpenShop,
  order: Order,
  draft: Draft,
  said: WorkSaid,
): Promise<Result<ChangedOrder>> {
  const byHand = await handChanges(shop.db, order)
  const moment = shop.moment()
  return changedOrder(order, draft, readDraft(draft, shop.almanac, shop.now), shop.almanac, shop.now, {
    progress: moment.progressOf,
    newId: randomUUID,
    said: new Map(Object.entries(said)),
    byHand,
  })
}

/** Old and new order side by side: dates alone while somebody types, then their odds. Nothing is kept. */
export async function compareChange(
  shop: OpenShop,
  id: string,
  draft: Draft,
  { said, asked }: { readonly said: WorkSaid; readonly asked: 'dates' | 'odds' },
): Promise<Result<ChangeAnswer>> {
  const found = await orderToChange(shop, id)
  if (!found.ok) return found
  const moment = shop.moment()
  const read = readDraft(draft, shop.almanac, shop.now)
  const same = untouchedPieces(draft, found.value, shop.almanac.shop.units)
  const answer = (problems: readonly Problem[], change: ChangeView | null): ChangeAnswer => ({
    problems,
    pieces: read.pieces.map((piece, at) => pieceAnswer(same.has(at) ? null : piece, [], moment)),
    ...{ wood: null, price: null, lumber: null, offers: [], change },
  })
  const changed = await readChange(shop, found.value, draft, said)
  if (!changed.ok) return ok(answer(changed.problems, null))
  const outcome = await outcomeOf(shop, changed.value, asked, `change/${asked}/${id}`)
  if (!outcome.ok) return isSuperseded(outcome) ? outcome : ok(answer(outcome.problems, null))
  return ok(answer([], await changeView(shop, found.value, changed.value, outcome.value, asked)))
}

/** The shop as it would be with the change. */
export interface ChangeOutcome {
  readonly moment: Moment
  /** Odds by order; empty where only dates were asked for. */
  readonly odds: ReadonlyMap<string, Odds>
}

/** Problems: of the planner, or `stands-still` where the changed order has no date. */
export async function outcomeOf(
  shop: OpenShop,
  { order, woodLost }: ChangedOrder,
  asked: 'dates' | 'odds',
  topic: string,
): Promise<Result<ChangeOutcome>> {
  const before = shop.moment()
  const { book } = before
  const { id } = order.commission
  const changed = bookWith(book, order)
  const stock = { ...shop.stock, cut: shop.stock.cut.filter((part) => !isWoodLost(woodLost, part)) }
  const { almanac, now, locale } = shop
  const { problem: wanted } = momentOf(changed, almanac, null, now, locale, { stock }).asked
  const answer = await shop.planner.ask(topic, {
    kind: 'changed-book',
    problem: shop.withAnnounced(wanted),
    odds: asked === 'dates' ? null : { forecast: await forecastOf(shop), replications },
  })
  if (!answer.ok) return answer
  const refused = answer.value.refused.find(({ commissionId }) => commissionId === id)
  if (refused !== undefined) return failed({ ...refused.problem, field: 'pieces' })
  return ok({
    moment: momentOf(changed, almanac, answer.value.plan, now, locale, { stock }),
    odds: new Map(answer.value.orders.map(({ commissionId, odds }) => [commissionId, odds])),
  })
}

async function changeView(
  shop: OpenShop,
  old: Order,
  changed: ChangedOrder,
  outcome: ChangeOutcome,
  asked: 'dates' | 'odds',
): Promise<ChangeView> {
  const moment = shop.moment()
  const { order, counting, lost, mayCount, changesWork } = changed
  const { id, promisedFor } = old.commission
  const [oddsBefore, oddsAfter] = [asked === 'odds' ? await shop.oddsOf(id) : null, outcome.odds.get(id) ?? null]
  const remakes = await remakesOf(shop)
  const said = new Set([...counting, ...mayCount])
  const minutesOf = (ids: readonly string[]): number =>
    ids.reduce((sum, stepId) => sum + Math.round(workedMinutes(moment.progress(stepId), moment.now)), 0)
  const pieceOf = new Map(old.pieces.map((piece) => [piece.id, piece]))
  const work = old.steps
    .filter((step) => counting.includes(step.id) || lost.includes(step.id))
    .map((step): ChangedWork => ({
      stepId: step.id,
      name: step.name,
      piece: pieceOf.get(step.pieceId)?.title ?? '',
      lot: lotInWords(step, pieceOf.get(step.pieceId)?.count ?? step.lotCount),
      minutes: minutesOf([step.id]),
      counts: counting.includes(step.id),
      canSay: said.has(step.id),
    }))
  return {
    before: sideOf(old, moment, oddsBefore, remakes),
    after: sideOf(order, outcome.moment, oddsAfter, remakes),
    changesWork,
    work,
    unused: piecesUnused(old, changed, moment),
    countingMinutes: minutesOf(counting),
    lostMinutes: minutesOf(lost),
    rule: WHICH_WORK_COUNTS,
    promisedFor,
    stated: standingPromise(old.commission, moment.book.promises)?.chance ?? null,
    lessSure: asked === 'odds' ? await lessSure(shop, id, outcome) : [],
  }
}

function sideOf(order: Order, moment: Moment, odds: Odds | null, remakes: RemakeRecord): ChangeSide {
  const { commission, pieces, steps } = order
  const facts = shopFactsOf(moment.almanac, moment.now, commission.home)
  const priced = pieces.map((piece) => ({
    ...builtPiece(piece, facts),
    ...{ title: piece.title, count: piece.count },
    steps: steps.filter(({ pieceId }) => pieceId === piece.id).map((step) => pricedStep(step, moment)),
  }))
  const toDo = steps.filter((step) => step.lost !== true && moment.progress(step.id).kind !== 'done')
  const left = toDo.reduce(
    (sum, step) =>
      sum +
      Math.max(0, step.minutes + setUpMinutes(step, moment) - workedMinutes(moment.progress(step.id), moment.now)),
    0,
  )
  const { doneAt } = dateOf(commission, moment)
  const { promisedFor } = commission
  const quoted = odds === null || doneAt === null ? null : dayToSay({ doneAt, odds }, moment.almanac.shop.timeZone)
  const chanceOf = (day: string | null): number | null =>
    odds === null || day === null ? null : chanceBy(odds, moment.setting.endOfDay(day))
  return {
    pieces: pieces.map(({ title, count }) => (count === 1 ? title : `${count} × ${title}`)),
    stepsToDo: toDo.length,
    minutesToDo: Math.round(left),
    wood: woodNeeded(
      priced.flatMap(({ parts }) => parts),
      moment,
    ),
    priceMinor: commission.priceMinor,
    askedMinor: priceOfWork(
      { ...termsOf(commission), pieces: priced, typedMinor: null },
      { almanac: moment.almanac, wording: moment.wording, remakes },
    ).askedMinor,
    doneAt,
    chance: chanceOf(promisedFor),
    dayToSay: quoted,
    chanceOfDay: chanceOf(quoted),
  }
}

/** Other promises whose chance falls by a tenth or more. */
async function lessSure(shop: OpenShop, id: string, { moment, odds }: ChangeOutcome): Promise<ChangeView['lessSure']> {
  const fallen: ChangeView['lessSure'][number][] = []
  for (const { id: other, number, customer, promisedFor, standing } of moment.book.commissions) {
    if (other === id || promisedFor === null || standing !== 'agreed') continue
    const [was, is] = [await shop.oddsOf(other), odds.get(other)]
    if (was === null || is === undefined) continue
    const [before, after] = [was, is].map((each) => chanceBy(each, moment.setting.endOfDay(promisedFor)))
    if (before !== undefined && after !== undefined && tenthsOf(after) < tenthsOf(before))
      fallen.push({ commissionId: other, number, customer: customer.name, before, after })
  }
  return fallen
}

import { randomUUID } from 'node:crypto'
import type { Book, BookStep } from '../../core/book/book.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import type { BoardPlan, CuttingPlan, PartToCut } from '../../core/timber/cutting-model.ts'
import { cuttingRules } from '../../core/timber/cutting-rules.ts'
import { partsToCut } from '../../core/timber/parts-to-cut.ts'
import { offcutCost } from '../../core/timber/wood-cost.ts'
import { cutBoards, type Board } from '../../db/boards.ts'
import { bookOfCommissions } from '../../db/commissions.ts'
import { logStep } from '../../db/steps.ts'
import { ordersWithoutWood } from '../../db/wood-not-told.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import { momentOf, type Lot, type Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { boardToCut } from './board-to-cut.ts'
import { partsOfLot } from './lumber-ahead.ts'
import type { Moved } from '../moved.ts'
import type { PieceLabel } from '../piece-label.ts'

/** Milling that is done, and whose boards are still on hand as far as anybody said. */
export interface MilledStep {
  readonly stepId: string
  readonly name: string
  readonly piece: PieceLabel
}

/** Boards that a step's parts may have come from, those of the cutting plan first. */
export interface MilledBoards {
  readonly stepId: string
  readonly boards: readonly {
    readonly id: string
    readonly number: number
    readonly wood: string
    readonly thicknessNm: number
    readonly widthNm: number
    readonly lengthNm: number
    /** That the plan cuts from it; 0: none. */
    readonly parts: number
    readonly offcuts: readonly { readonly lengthNm: number; readonly widthNm: number }[]
  }[]
  /** Parts that fit on none of them. */
  readonly missing: number
}

/** Milling that is done and of which the boards on hand do not know yet: at open orders, and at those that were handed over. The newest first. */
export async function milledNotTold(shop: OpenShop): Promise<MilledStep[]> {
  const moments = [shop.moment(), await handedOver(shop)]
  return moments
    .flatMap((moment) => (moment === null ? [] : milledIn(moment)))
    .toSorted((a, b) => b.doneAt - a.doneAt)
    .map(({ step, lot }) => ({ stepId: step.id, name: step.name, piece: lot.label }))
}

/** Orders that were handed over and of whose wood nobody has said anything; null: none that a board on hand may have been cut for. */
async function handedOver(shop: OpenShop): Promise<Moment | null> {
  const { almanac, stock, now, locale } = shop
  const since = Math.min(...stock.boards.map(({ addedAtMin }) => addedAtMin))
  if (since === Infinity) return null
  const book = await keptUntilMore(shop, 'handed over without wood', [since], async () =>
    bookOfCommissions(shop.db, await ordersWithoutWood(shop.db, since * 60_000)),
  )
  if (book.commissions.length === 0) return null
  const last = lastHandedOver.get(book)
  if (last?.almanac === almanac && last.stock === stock && last.now === now) return last
  const moment = momentOf(book, almanac, null, now, locale, { stock })
  lastHandedOver.set(book, moment)
  return moment
}

/** The same for as long as nothing of it has changed: every look at the Bench asks for it. */
const lastHandedOver = new WeakMap<Book, Moment>()

/** A board that came after the work was done did not go into it, unless both were today. */
const milledIn = (moment: Moment) =>
  moment.lots.flatMap((lot) =>
    lot.steps.flatMap((step) => {
      const progress = moment.progress(step.id)
      if (progress.kind !== 'done' || step.lost === true || progress.woodOffList) return []
      const doneAt = progress.endedAt
      const until = doneAt < moment.setting.startOfDay(moment.today) ? doneAt : Infinity
      const there = moment.stock.boards.filter(
        ({ addedAtMin, boughtFor }) =>
          addedAtMin <= until &&
          // A customer's own lumber is not among the shop's, unless it was listed for this order.
          (boughtFor === lot.commission.id || (boughtFor === null && lot.commission.lumber.from !== 'customer')),
      )
      if (there.length === 0) return []
      const woods = new Set(partsLeft(step, lot, moment).map(({ wood }) => wood))
      return there.some(({ wood }) => woods.has(wood)) ? [{ step, lot, doneAt }] : []
    }),
  )

/** The parts that a step mills and that no board is known to have given. */
function partsLeft(step: BookStep, lot: Lot, { almanac, stock }: Moment): readonly PartToCut[] {
  const parts = partsOfLot(lot.piece, lot.label.count, lot.commission, almanac) ?? []
  const milled = parts.filter(({ milledIn: key = lot.steps[0]?.key }) => key === step.key)
  const cut = stock.cut.filter((part) => part.pieceId === lot.piece.id && part.lot === lot.lot)
  return milled.length === 0 ? [] : partsToCut([{ id: step.id, forPiece: '', parts: milled, cut }], almanac.shop.units)
}

interface Milled {
  readonly step: BookStep
  readonly lot: Lot
  readonly moment: Moment
  readonly parts: readonly PartToCut[]
}

async function milledBy(shop: OpenShop, stepId: string): Promise<Result<Milled>> {
  const open = shop.moment()
  const moment = open.step(stepId) === undefined ? ((await handedOver(shop)) ?? open) : open
  const [step, lot] = [moment.step(stepId), moment.lotOf(stepId)]
  return step === undefined || lot === undefined
    ? failed(problem('unknown-step', 'This step is not in the book any more. Look at the order again.'))
    : ok({ step, lot, moment, parts: partsLeft(step, lot, moment) })
}

function planFrom(
  shop: OpenShop,
  { step, parts, moment }: Milled,
  boards: readonly Board[],
): Promise<Result<CuttingPlan>> {
  const rules = cuttingRules(moment.almanac.allowances)
  const request = { kind: 'cutting' as const, parts, boards: boards.map(boardToCut), rules, options: { yard: [] } }
  const topic = `milled ${step.id} ${boards.map(({ id }) => id).join()}`
  return shop.planner.ask(topic, request, 'has-this-answer')
}

/** Boards that a step's parts may have come from: those of the cutting plan first, what was bought for the order before the others. */
export async function milledBoards(shop: OpenShop, stepId: string): Promise<Result<MilledBoards>> {
  const milled = await milledBy(shop, stepId)
  if (!milled.ok) return milled
  const { parts, lot, moment } = milled.value
  const woods = new Set(parts.map(({ wood }) => wood))
  const own = moment.stock.boards.filter(({ boughtFor }) => boughtFor === null || boughtFor === lot.commission.id)
  const boards = own.filter(({ wood }) => woods.has(wood))
  const plan = await planFrom(shop, milled.value, boards)
  if (!plan.ok) return plan
  const planned = new Map(plan.value.boards.map((one) => [one.board.id, one]))
  const lines = boards.map((board) => {
    const of = planned.get(board.id)
    const { id, number, wood, thicknessNm, widthNm, lengthNm } = board
    return {
      ...{ id, number, wood, thicknessNm, widthNm, lengthNm },
      parts: of?.parts.length ?? 0,
      offcuts: of?.offcuts.map(({ lengthNm: long, widthNm: wide }) => ({ lengthNm: long, widthNm: wide })) ?? [],
    }
  })
  return ok({
    stepId,
    boards: lines.toSorted((a, b) => Number(b.parts > 0) - Number(a.parts > 0) || a.number - b.number),
    missing: plan.value.missing.reduce((sum, { quantity }) => sum + quantity, 0),
  })
}

/**
 * Boards were milled into a step's parts: laid out on the chosen boards alone, their parts are off the list and their offcuts are on hand, in one
 * entry of the log.
 */
export async function takeAsCut(shop: OpenShop, stepId: string, boardIds: readonly string[]): Promise<Result<Moved>> {
  const milled = await milledBy(shop, stepId)
  if (!milled.ok) return milled
  const { parts, lot, moment } = milled.value
  const chosen = moment.stock.boards.filter(({ id }) => boardIds.includes(id))
  if (chosen.length < boardIds.length)
    return failed(problem('board-missing', 'One of these boards is not on hand any more. Look at them again.'))
  const plan = await planFrom(shop, milled.value, chosen)
  if (!plan.ok) return plan
  const cuts = plan.value.boards
    .filter((one) => one.parts.length > 0)
    .map((one) => ({ id: one.board.id, ...cuttingOf(one, chosen, parts, lot) }))
  if (cuts.length === 0)
    return failed(problem('nothing-fits', 'None of its parts fits on these boards: choose others.', 'boards'))
  return shop.change(async (db) => {
    const rests = await cutBoards(db, cuts, { atMs: shop.nowMs, makerId: null })
    if (!rests.ok) return rests
    const numbers = chosen.filter(({ id }) => cuts.some((cut) => cut.id === id)).map(({ number }) => number)
    const kept = rests.value.length === 0 ? '' : ` Offcuts on hand: no. ${rests.value.join(', ')}.`
    return ok(`Cut: no. ${numbers.join(', ')}.${kept}`)
  })
}

/** None of the boards on hand went into it, or what did is off the list: one press, and nobody asks again. */
export async function woodOffList(shop: OpenShop, stepId: string): Promise<Result<Moved>> {
  const milled = await milledBy(shop, stepId)
  if (!milled.ok) return milled
  const { step, lot } = milled.value
  return shop.change(async (db) => {
    const logged = await logStep(db, step.id, { kind: 'wood-off-list' }, { atMs: shop.nowMs, makerId: null })
    return logged.ok ? ok(`No boards taken off: ${step.name.toLowerCase()}, No. ${lot.label.number}.`) : logged
  })
}

function cuttingOf(plan: BoardPlan, boards: readonly Board[], parts: readonly PartToCut[], lot: Lot) {
  const board = boards.find(({ id }) => id === plan.board.id)
  const ids = [...new Set(plan.parts.map(({ part }) => part))]
  return {
    parts: ids.flatMap((partId) => {
      const part = parts.find(({ id }) => id === partId)
      if (part === undefined) return []
      const { name, lengthNm, widthNm, thicknessNm } = part
      const quantity = plan.parts.filter((one) => one.part === partId).length
      return [{ pieceId: lot.piece.id, lot: lot.lot, name, quantity, lengthNm, widthNm, thicknessNm }]
    }),
    offcuts: plan.offcuts.map(({ lengthNm, widthNm }) => ({
      ...{ id: randomUUID(), lengthNm, widthNm },
      priceMinor: board?.priceMinor == null ? null : offcutCost(board.priceMinor, board, { lengthNm, widthNm }),
    })),
  }
}

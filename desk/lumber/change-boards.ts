import { localDay } from '../../core/time/local-day.ts'
import { randomUUID } from 'node:crypto'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { offcutCost } from '../../core/timber/wood-cost.ts'
import { readBoard, readCount, type BoardInput, type BoardWords } from '../../core/timber/read-board.ts'
import { addBoards, changeBoard, cutBoard, useUpBoard, type PhotoChange } from '../../db/boards.ts'
import { freeBoards } from '../../db/free-boards.ts'
import { readPhoto, type PhotoInput } from '../orders/read-photo.ts'
import type { OpenShop } from '../open-shop.ts'
import { boardsOnHand } from '../../db/boards.ts'
import type { Moment } from '../moment.ts'
import { stampOf } from './cut-boards.ts'
import { countsBoards, lumberLines } from './lumber-lines.ts'
import { cuttingWork } from './timber-work.ts'
import type { Moved } from '../moved.ts'

const stamp = (shop: OpenShop) => ({ atMs: shop.nowMs, makerId: null })

const wordsOf = ({ almanac, now }: OpenShop, before: BoardWords['before']): BoardWords => ({
  today: localDay(now, almanac.shop.timeZone),
  before,
  units: almanac.shop.units,
  currency: almanac.shop.currency,
  woods: almanac.woods,
})

/** Puts so many equal boards on hand. */
export async function putOnHand(
  shop: OpenShop,
  input: BoardInput,
  count: string,
  photo: PhotoInput,
): Promise<Result<Moved>> {
  const board = readBoard(input, wordsOf(shop, null))
  const howMany = readCount(count)
  const picture = readPhoto(photo)
  if (!board.ok || !howMany.ok || !picture.ok) return failed(...problemsOf(board, howMany, picture))
  const ids = Array.from({ length: howMany.value }, () => randomUUID())
  const countedBefore = countsBoards(shop.moment())
  const added = await shop.change(async (db) => {
    const numbers = await addBoards(db, board.value, ids, picture.value, stamp(shop))
    return ok(`On hand: ${numbered(numbers)}. Chalk the number on the end.`)
  })
  if (!added.ok || countedBefore || !countsBoards(shop.moment())) return added
  return ok({ ...added.value, said: `${added.value.said} ${countedFromNowOn(shop.moment())}` })
}

/** The first board changes what every open order may count on: said with it, as dates move. */
function countedFromNowOn(moment: Moment): string {
  const short = lumberLines(moment).filter(({ missing }) => missing.length > 0)
  const from = 'From now on every order’s lumber is counted from the boards you list here.'
  if (short.length === 0) return from
  const who = short.slice(0, 3).map(({ number, customer }) => `No. ${number}, ${customer}`)
  const more = short.length > 3 ? `; and ${short.length - 3} more` : ''
  const waits = short.length === 1 ? '1 order now waits for wood' : `${short.length} orders now wait for wood`
  return `${from} ${waits}: ${who.join('; ')}${more}. If it’s here, say so on the order’s page or list its boards.`
}

export async function changeOnHand(
  shop: OpenShop,
  id: string,
  input: BoardInput,
  photo: PhotoInput,
): Promise<Result<Moved>> {
  const before = (await boardsOnHand(shop.db)).find((one) => one.id === id) ?? null
  const board = readBoard(input, wordsOf(shop, before))
  const picture: Result<PhotoChange> = readPhoto(photo)
  if (!board.ok || !picture.ok) return failed(...problemsOf(board, picture))
  return shop.change(async (db) => {
    const changed = await changeBoard(db, id, board.value, picture.value, stamp(shop))
    return changed.ok ? ok(`Changed: board no. ${changed.value.number}.`) : changed
  })
}

/** Boards that were bought for an order serve any other from now on. */
export const freeOf = (shop: OpenShop, commissionId: string): Promise<Result<Moved>> =>
  shop.change(async (db) => {
    const numbers = await freeBoards(db, commissionId, stamp(shop))
    return numbers.length === 0
      ? failed(problem('board-missing', 'No whole board is kept for this order.', 'id'))
      : ok(`Free for other orders: ${numbered(numbers)}.`)
  })

export const useUp = (shop: OpenShop, id: string): Promise<Result<Moved>> =>
  shop.change(async (db) => {
    const gone = await useUpBoard(db, id, stamp(shop))
    return gone.ok ? ok(`Used up: board no. ${gone.value.number}.`) : gone
  })

/**
 * A board was cut as the plan showed it: its parts are off the list, its offcuts on hand.
 * @param askedAbout whether the plan shown counted the orders that were only asked about
 * @param shown which plan of the board was shown; another one by now is refused, because nobody has cut that
 */
export async function cutAsPlanned(
  shop: OpenShop,
  id: string,
  askedAbout: boolean,
  shown: string,
): Promise<Result<Moved>> {
  const work = await cuttingWork(shop, askedAbout)
  if (!work.ok) return work
  const plan = work.value.plan.boards.find((one) => !one.bought && one.board.id === id)
  const board = work.value.boards.find((one) => one.id === id)
  if (plan === undefined || board === undefined || stampOf(plan) !== shown) return failed(PLAN_CHANGED)
  const parts = [...new Set(plan.parts.map(({ part }) => part))].flatMap((partId) => {
    const known = work.value.parts.get(partId)
    if (known === undefined) return []
    const { name, lengthNm, widthNm, thicknessNm } = known.cut
    const quantity = plan.parts.filter(({ part }) => part === partId).length
    const { piece, lot } = known.work.lot
    return [{ pieceId: piece.id, lot, name, quantity, lengthNm, widthNm, thicknessNm }]
  })
  const { number, priceMinor } = board
  const offcuts = plan.offcuts.map(({ lengthNm, widthNm }) => ({
    ...{ id: randomUUID(), lengthNm, widthNm },
    priceMinor: priceMinor === null ? null : offcutCost(priceMinor, board, { lengthNm, widthNm }),
  }))
  return shop.change(async (db) => {
    const rests = await cutBoard(db, id, { parts, offcuts }, stamp(shop))
    if (!rests.ok) return rests
    const kept =
      rests.value.length === 0 ? 'Nothing is left of it.' : `What is left is on hand: ${numbered(rests.value)}.`
    return ok(`Cut: board no. ${number}, ${plan.parts.length} ${plan.parts.length === 1 ? 'part' : 'parts'}. ${kept}`)
  })
}

const PLAN_CHANGED = problem(
  'plan-changed',
  'The cutting plan of this board has changed since it was shown. Look at it again; if you have cut it already, change the board by hand.',
)

/** `board no. 7`, `boards no. 7 to 10`. */
const numbered = (numbers: readonly number[]): string =>
  numbers.length === 1 ? `board no. ${numbers[0] ?? ''}` : `boards no. ${numbers[0] ?? ''} to ${numbers.at(-1) ?? ''}`

const problemsOf = (...read: readonly Result<unknown>[]): Problem[] =>
  read.flatMap((one) => (one.ok ? [] : one.problems))

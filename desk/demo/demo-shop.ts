import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import type { EnteredMoney } from '../../core/money/ledger.ts'
import { LUMBER_AS_COUNTED, type Lumber } from '../../core/book/lumber.ts'
import { readBoard, type BoardInput } from '../../core/timber/read-board.ts'
import { daysLater, instantOfLocal, isoWeekday, localDay } from '../../core/time/local-day.ts'
import { addBoards } from '../../db/boards.ts'
import { addCommission, changeCommission, type Order } from '../../db/commissions.ts'
import { enterMoney, moneyOf } from '../../db/money.ts'
import { orderOf, readDraft } from '../orders/draft-work.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Draft } from '../orders/draft.ts'
import { demoTimeZone } from './demo-almanac.ts'
import { type DemoOrder, demoOrders } from './demo-orders.ts'
import { workOn } from './demo-presses.ts'

/** The demo shop opens on a Monday evening in the middle of a session: the last Monday before the given instant. */
export function demoEvening(nowMs: number): number {
  const today = localDay(Math.floor(nowMs / 60_000), demoTimeZone)
  const monday = daysLater(today, 1 - isoWeekday(today))
  return instantOfLocal(monday, eveningMinute, demoTimeZone) * 60_000
}

const eveningMinute = 20 * 60 + 25

/** Boards on hand, invented as well; `count` equal ones. */
interface DemoBoards extends Omit<BoardInput, 'flaws' | 'quality' | 'moisture'> {
  readonly count: number
  readonly flaws?: string
  readonly quality?: string
}

const racked: readonly DemoBoards[] = [
  {
    ...{ count: 2, wood: 'walnut', thickness: '8/4', width: '7 1/4', length: "8'", price: '116' },
    ...{ place: 'Wall rack, top', quality: 'Sapwood along one edge' },
  },
  {
    ...{ count: 1, wood: 'walnut', thickness: '8/4', width: '6 1/2', length: '70', price: '78' },
    ...{ place: 'Wall rack, top', flaws: '31 to 35', quality: 'Knot' },
  },
  { count: 3, wood: 'maple', thickness: '8/4', width: '6 3/4', length: "8'", price: '74', place: 'Wall rack, middle' },
  {
    ...{ count: 1, wood: 'maple', thickness: '8/4', width: '8 1/2', length: '60', price: '58' },
    ...{ place: 'Wall rack, middle', flaws: '0 to 3 1/2', quality: 'Checked at one end' },
  },
  { count: 1, wood: 'cherry', thickness: '8/4', width: '6', length: "6'", price: '62', place: 'Wall rack, bottom' },
  { count: 2, wood: 'ash', thickness: '5/4', width: '7', length: "7'", price: '39', place: 'By the door' },
]

async function rackDemoBoards(shop: OpenShop): Promise<void> {
  const { units, currency } = shop.almanac.shop
  for (const { count, flaws = '', quality = '', ...input } of racked) {
    const words = { units, currency, woods: shop.almanac.woods, today: localDay(shop.now, shop.almanac.shop.timeZone) }
    const read = readBoard({ ...input, flaws, quality, moisture: '' }, { ...words, before: null })
    if (!read.ok) throw new Error(`Demo boards of ${input.wood}: ${JSON.stringify(read.problems)}`)
    const ids = Array.from({ length: count }, demoId)
    // Listed after most of the work: none of them went into it.
    const stamp = { atMs: shop.nowMs - 24 * 60 * 60_000, makerId: null }
    await addBoards(shop.db, read.value, ids, { kind: 'none' }, stamp)
  }
}

/**
 * Fills an empty shop with its invented past: each order comes in on its day, and between two orders what the plan had
 * for that time is logged as done. So the demo is a state that a shop can really be in.
 */
export async function fillDemoShop(shop: OpenShop): Promise<void> {
  const nowMin = shop.now
  const today = localDay(nowMin, demoTimeZone)
  await rackDemoBoards(shop)
  let last = nowMin
  for (const [index, order] of demoOrders.entries()) {
    const at = instantOfLocal(daysLater(today, -order.daysAgo), 17 * 60, demoTimeZone)
    if (index > 0) await workOn(shop, last, at)
    await takeDemoOrder(shop, order, at, today)
    last = at
  }
  await shop.readAgain()
  for (const number of collected) await handDemoOver(shop, number)
  await workOn(shop, last, nowMin)
  await shop.readAgain()
  await shop.replan()
}

/** Numbers of the orders that their customers have come for. */
const collected = [1]

async function handDemoOver(shop: OpenShop, number: number): Promise<void> {
  const commission = shop.book.commissions.find((each) => each.number === number)
  if (!commission) return
  const handedOver = (order: Order): Order => ({
    ...order,
    commission: { ...order.commission, standing: 'handed-over' },
  })
  const stamp = { atMs: shop.nowMs - 26 * 60 * 60_000, makerId: null }
  await changeCommission(shop.db, commission.id, 'commission-handed-over', handedOver, stamp)
  const paid = (await moneyOf(shop.db, [commission.id])).reduce((sum, { minor }) => sum + minor, 0)
  const owed = (commission.priceMinor ?? 0) - paid
  if (owed > 0) await enterMoney(shop.db, [demoPayment(commission.id, owed, stamp.atMs)], 'money-entered', stamp)
}

const demoPayment = (commissionId: string, minor: number, atMs: number): EnteredMoney => ({
  id: demoId(),
  commissionId,
  atMs,
  day: localDay(atMs / 60_000, demoTimeZone),
  kind: 'payment',
  minor,
  how: 'cash',
  reference: '',
  takesBack: null,
})

let demoIds = 0
const demoId = (): string => `demo-${++demoIds}`

async function takeDemoOrder(shop: OpenShop, order: DemoOrder, atMin: number, today: string): Promise<void> {
  const draft = demoDraft(order)
  const read = readDraft(draft, shop.almanac, atMin)
  if (read.problems.length > 0) throw new Error(`Demo order of ${order.who}: ${JSON.stringify(read.problems)}`)
  const promisedFor = order.promisedIn === null ? null : daysLater(today, order.promisedIn)
  const standing = promisedFor === null ? 'asked-about' : 'agreed'
  const made = orderOf(draft, read, { standing, promisedFor, takenAtMin: atMin }, demoId)
  const commission = { ...made.commission, lumber: demoLumber(order, today) }
  const stamp = { atMs: atMin * 60_000, makerId: null }
  const payments = read.paidMinor === 0 ? [] : [demoPayment(commission.id, read.paidMinor, stamp.atMs)]
  await addCommission(shop.db, { ...made, commission }, stamp, { payments })
}

const demoLumber = ({ lumber }: DemoOrder, today: string): Lumber =>
  lumber === undefined
    ? { ...LUMBER_AS_COUNTED, from: 'shop' }
    : lumber === 'to-buy'
      ? { ...LUMBER_AS_COUNTED, from: 'yard' }
      : { ...LUMBER_AS_COUNTED, from: 'yard', hereOn: daysLater(today, -lumber.cameDaysAgo) }

function demoDraft(order: DemoOrder): Draft {
  return {
    customer: {
      name: order.who,
      reach: order.reach,
      secondReach: order.secondReach,
      address: '',
      allergies: 'none',
      childUnder3: 'no',
    },
    takenWhere: order.where,
    pieces: order.pieces.map((piece) => ({
      construction: piece.construction,
      input: { ...constructionOf(piece.construction)?.starting('inch'), ...piece.changes },
      count: String(piece.count),
    })),
    neededBy: '',
    neededWhy: order.neededWhy ?? '',
    notes: order.notes ?? '',
    home: ALMANAC_HOME,
    price: order.price,
    deposit: order.deposit,
    depositHow: order.deposit === '' ? '' : 'cash',
  }
}

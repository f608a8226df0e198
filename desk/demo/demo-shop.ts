import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'
import type { PlannedStep } from '../../core/planning/index.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import type { EnteredMoney } from '../../core/money/ledger.ts'
import type { OwnConstruction } from '../../core/constructions/own/own-construction.ts'
import { emptyField, emptyStep } from '../../core/constructions/own/own-form.ts'
import { readOwnConstruction } from '../../core/constructions/own/read-own-construction.ts'
import { LUMBER_AS_COUNTED, type Lumber } from '../../core/book/lumber.ts'
import { progressOf } from '../../core/book/step-progress.ts'
import { readBoard, type BoardInput } from '../../core/timber/read-board.ts'
import { daysLater, instantOfLocal, isoWeekday, localDay } from '../../core/time/local-day.ts'
import { addBoards } from '../../db/boards.ts'
import { addCommission, changeCommission, type Order } from '../../db/commissions.ts'
import { enterMoney, moneyOf } from '../../db/money.ts'
import { logStep } from '../../db/steps.ts'
import { orderOf, readDraft } from '../orders/draft-work.ts'
import { momentOf } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { planBook } from '../planner/planning-request.ts'
import type { Draft } from '../orders/draft.ts'

const timeZone = 'America/New_York'

/** An invented shop: one maker, evenings and Saturdays, a dozen clamps, one drying rack. */
export function demoAlmanac(): Almanac {
  const starting = startingAlmanac({ timeZone, units: 'inch', currency: 'USD' })
  const evening = [{ from: 19 * 60, to: 21 * 60 + 30 }]
  return {
    ...starting,
    shop: { ...starting.shop, name: 'Quince Lane Workshop' },
    firstStart: { greeted: true, hoursSaid: true },
    constructions: [demoKnifeBlock(starting)],
    // Invented, as the rest of the shop; the demo starts in inches and dollars.
    woodPrices: {
      walnut: { minor: 1240, per: 'board-foot' },
      cherry: { minor: 980, per: 'board-foot' },
      maple: { minor: 890, per: 'board-foot' },
      ash: { minor: 720, per: 'board-foot' },
    },
    money: {
      ...starting.money,
      ...{ payPerHourMinor: 2800, overheadYearMinor: 360_000, handsOnHoursYear: 600, profitRate: 100_000 },
      ...{ address: '12 Quince Lane', reach: '555-0100' },
    },
    makers: [
      {
        id: 'wren',
        name: 'Wren',
        attendance: 0.9,
        weeklyHours: { 1: evening, 2: evening, 3: evening, 4: evening, 6: [{ from: 9 * 60, to: 17 * 60 }] },
      },
    ],
  }
}

/** A knife block in layers, as the maker wrote it down. Invented. */
function demoKnifeBlock(almanac: Almanac): OwnConstruction {
  const step = (row: Record<string, string | boolean>) => ({ ...emptyStep, ...row })
  const field = (key: string, label: string, kind: string, start: string) => ({
    ...emptyField,
    key,
    label,
    kind,
    start,
  })
  const read = readOwnConstruction(
    {
      name: 'Knife block',
      about: 'Layers with slots between them, glued up at once; stands on the counter.',
      units: 'inch',
      fields: [
        field('height', 'Height', 'length', '9'),
        field('width', 'Width', 'length', '6'),
        field('slots', 'Slots', 'count', '5'),
        field('lid', 'Lid', 'yes-no', ''),
        field('wood', 'Wood', 'wood', 'cherry'),
        field('glue', 'Glue', 'glue', 'pva_type2'),
        field('finish', 'Finish', 'finish', 'hardwax_oil'),
      ],
      parts: [
        { name: 'Layer', wood: 'wood', quantity: 'slots + 1', length: 'height + 1', width: 'width', thickness: '5/8' },
        { name: 'Lid', wood: 'wood', quantity: 'lid', length: 'width', width: '2', thickness: '1/2' },
      ],
      steps: [
        step({ name: 'Mill the layers', kind: 'machine', minutes: '15 + 4 * (slots + 1)', dusty: true }),
        step({
          name: 'Cut the slots',
          kind: 'machine',
          minutes: '5 * slots',
          dusty: true,
          family: 'dado',
          setUp: '12',
        }),
        step({ name: 'Glue-up', kind: 'glue-up', minutes: '25', wait: 'glue', units: 'ceil(width / 2)' }),
        step({ name: 'Trim and sand', kind: 'machine', minutes: '40', dusty: true }),
        step({ name: 'Fit the lid', minutes: '30', when: 'lid' }),
        step({ name: 'First coat', kind: 'coat', minutes: '12', wait: 'finish' }),
        step({ name: 'Second coat', kind: 'coat', minutes: '12', wait: 'finish' }),
      ],
    },
    '',
    [],
    shopFactsOf(almanac, 0),
  )
  if (!read.ok) throw new Error(`The demo's knife block: ${JSON.stringify(read.problems)}`)
  return read.value
}

/** The demo shop opens on a Monday evening in the middle of a session: the last Monday before the given instant. */
export function demoEvening(nowMs: number): number {
  const today = localDay(Math.floor(nowMs / 60_000), timeZone)
  const monday = daysLater(today, 1 - isoWeekday(today))
  return instantOfLocal(monday, eveningMinute, timeZone) * 60_000
}

const eveningMinute = 20 * 60 + 25

/** Invented people and what they want; day of the order and promise relative to the demo's evening. */
interface DemoOrder {
  readonly daysAgo: number
  readonly promisedIn: number | null
  readonly who: string
  readonly reach: string
  readonly secondReach: string
  readonly where: Draft['takenWhere']
  readonly pieces: readonly DemoPiece[]
  readonly neededWhy?: string
  readonly notes?: string
  readonly price: string
  readonly deposit: string
  /** Where its wood is; absent: it was in the shop. Days relative to the demo's evening. */
  readonly lumber?: { readonly cameDaysAgo: number } | 'to-buy'
}

interface DemoPiece {
  readonly construction: string
  readonly count: number
  readonly changes: SpecInput
}

const board = (changes: SpecInput = {}, count = 1): DemoPiece => ({ construction: 'end-grain-board', count, changes })
const slab = (changes: SpecInput = {}, count = 1): DemoPiece => ({ construction: 'edge-grain-board', count, changes })
const gameBoard = {
  cell: '1 1/2',
  cellsAcross: '10',
  cellsAlong: '10',
  framed: true,
  frameFace: '2',
  frameWood: 'cherry',
}
const person = (who: string, reach: string, secondReach: string, where: Draft['takenWhere']) => ({
  who,
  reach,
  secondReach,
  where,
})

const orders: readonly DemoOrder[] = [
  {
    ...person('Ines Okafor', '555-0134', 'ines@example.org', 'phone'),
    ...{ daysAgo: 24, promisedIn: 2, price: '420', deposit: '210', neededWhy: 'Draughts table of the reading room' },
    pieces: [board({ ...gameBoard, finish: 'wiping_oil_varnish' })],
  },
  {
    ...person('Tom Varga', '555-0178', 'tom.varga@example.org', 'phone'),
    ...{ daysAgo: 20, promisedIn: 9, price: '285', deposit: '140' },
    pieces: [slab({}, 3)],
  },
  {
    ...person('Priya Lindqvist', 'priya@example.org', '555-0101', 'mail'),
    ...{ daysAgo: 13, promisedIn: 9, price: '380', deposit: '190', neededWhy: 'Wedding present' },
    notes: 'Initials P & J burned into one foot, checked letter by letter.',
    pieces: [board({ feet: true, fingerGrips: true }, 2)],
  },
  {
    ...person('Marcus Bell', '555-0122', 'the bakery, at the counter', 'in-person'),
    ...{ daysAgo: 12, promisedIn: 16, price: '340', deposit: '170' },
    pieces: [
      slab({ length: '24', width: '14', thickness: '1 1/2', finish: 'hardwax_oil' }),
      board({ pattern: 'stripes', woodA: 'cherry', woodB: 'maple' }),
    ],
  },
  {
    ...person('Hana Doyle', '555-0190', 'hana@example.org', 'fair'),
    ...{ daysAgo: 11, promisedIn: 16, price: '190', deposit: '95', neededWhy: 'House-warming' },
    pieces: [slab({ woodA: 'ash', food: false, finish: 'water_polyurethane', length: '20', width: '12' })],
  },
  {
    ...person('Luis Petrov', '555-0143', 'luis@example.org', 'fair'),
    ...{ daysAgo: 10, promisedIn: 23, price: '360', deposit: '180', neededWhy: 'Gifts for the crew' },
    pieces: [slab({ stripes: 'two' }, 4)],
  },
  {
    ...person('Noor Haddad', 'noor@example.org', '555-0117', 'mail'),
    ...{ daysAgo: 8, promisedIn: 33, price: '840', deposit: '420' },
    pieces: [board({ ...gameBoard, frameWood: 'ash', finish: 'hardwax_oil' }, 2)],
  },
  {
    ...person('Bea Castellan', '555-0159', 'bea@example.org', 'phone'),
    ...{ daysAgo: 7, promisedIn: 30, price: '95', deposit: '45' },
    pieces: [
      {
        construction: 'free-list',
        count: 1,
        changes: {
          title: 'Repair of a step stool',
          rows: [
            demoRow('Take apart and clean the joints', '50 min', 'hand', ''),
            demoRow('Glue and clamp', '30 min', 'glue-up', '24 h', '4'),
            demoRow('Scrape and sand', '40 min', 'hand', '', '', true),
            demoRow('Coat', '15 min', 'coat', '24 h'),
            demoRow('Inspect', '10 min', 'hand', ''),
          ],
        },
      },
    ],
  },
  {
    ...person('Stellan Ruiz', '555-0185', 'stellan@example.org', 'in-person'),
    ...{ daysAgo: 5, promisedIn: 33, price: '520', deposit: '260', neededWhy: 'Anniversary' },
    lumber: { cameDaysAgo: 2 },
    pieces: [slab({ length: '36', width: '18', thickness: '1 3/4', woodA: 'walnut', finish: 'hardwax_oil' }), board()],
  },
  {
    ...person('Mo Abernathy', '555-0172', 'mo@example.org', 'fair'),
    ...{ daysAgo: 5, promisedIn: 49, price: '300', deposit: '150' },
    lumber: 'to-buy',
    pieces: [board({ pattern: 'stripes' }, 3)],
  },
  {
    ...person('Greta Amsel', '555-0166', 'greta@example.org', 'phone'),
    ...{ daysAgo: 2, promisedIn: null, price: '', deposit: '' },
    pieces: [board({ framed: true, frameWood: 'walnut' })],
  },
]

function demoRow(
  name: string,
  minutes: string,
  kind: string,
  wait: string,
  units = '',
  dusty = false,
): Readonly<Record<string, string | boolean>> {
  return { name, minutes, kind, wait, atMost: '', after: '', dusty, units }
}

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
    const stamp = { atMs: shop.nowMs - 30 * 24 * 60 * 60_000, makerId: null }
    await addBoards(shop.db, read.value, ids, { kind: 'none' }, stamp)
  }
}

/**
 * Fills an empty shop with its invented past: each order comes in on its day, and between two orders what the plan had
 * for that time is logged as done. So the demo is a state that a shop can really be in.
 */
export async function fillDemoShop(shop: OpenShop): Promise<void> {
  const nowMin = shop.now
  const today = localDay(nowMin, timeZone)
  await rackDemoBoards(shop)
  let last = nowMin
  for (const [index, order] of orders.entries()) {
    const at = instantOfLocal(daysLater(today, -order.daysAgo), 17 * 60, timeZone)
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
  day: localDay(atMs / 60_000, timeZone),
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

/** Logs what the plan, as it was at `fromMin`, had begun before `toMin`. */
async function workOn(shop: OpenShop, fromMin: number, toMin: number): Promise<void> {
  await shop.readAgain()
  const { asked } = momentOf(shop.book, shop.almanac, null, fromMin, shop.locale, { stock: shop.stock })
  const planned = planBook(asked.problem)
  if (!planned.ok) throw new Error(`The demo shop cannot be planned: ${JSON.stringify(planned.problems)}`)
  const before = progressOf(shop.book.log)
  const makerId = shop.almanac.makers[0]?.id ?? null
  const entries = planned.value.plan.steps.flatMap((step) =>
    before.get(step.id)?.kind === 'done'
      ? []
      : pressesOf(step).filter((press) => press.at <= toMin && step.start < toMin),
  )
  for (const press of entries.sort(
    (a, b) => a.at - b.at || Number(a.did === 'started') - Number(b.did === 'started'),
  )) {
    await logStep(shop.db, press.id, { kind: press.did }, { atMs: press.at * 60_000, makerId })
  }
}

interface DemoPress {
  readonly at: number
  readonly id: string
  readonly did: 'started' | 'paused' | 'done'
}

/** What a tidy maker presses for one planned step: paused at the end of each evening but the last. */
function pressesOf(step: PlannedStep): DemoPress[] {
  const stretches = step.stretches.length > 0 ? step.stretches : [{ from: step.start, to: step.end }]
  return stretches.flatMap((stretch, index) => [
    { at: stretch.from, id: step.id, did: 'started' },
    { at: stretch.to, id: step.id, did: index === stretches.length - 1 ? 'done' : 'paused' },
  ])
}

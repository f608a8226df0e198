import type { Almanac } from '../../core/almanac/almanac.ts'
import { YARD_SOURCES } from '../../core/almanac/defaults.ts'
import type { AlmanacFact } from '../../core/almanac/fact.ts'
import { priceKey } from '../../core/almanac/facts-of-yard.ts'
import { almanacFacts } from '../../core/almanac/facts.ts'
import { writeFraction } from '../../core/almanac/read-figures.ts'
import { writeLength } from '../../core/lengths/write-length.ts'
import type { Currency } from '../../core/money/currency.ts'
import { writeMoney } from '../../core/money/money.ts'
import { shoppingList } from '../../core/timber/shopping-list.ts'
import { GRADE_SOURCE, wasteOf } from '../../core/timber/waste.ts'
import { writeWoodWaste } from '../../core/almanac/read-wood-waste.ts'
import { sum } from '../../core/money/exact.ts'
import { type PartsCost, costOfParts } from '../../core/timber/wood-cost.ts'
import {
  billedBoardFeet,
  boardFeet,
  boardFeetOf,
  CUBIC_METRES_PER_BOARD_FOOT,
  withWaste,
} from '../../core/wood/board-measure.ts'
import { writeRoughThickness } from '../../core/wood/rough-thickness.ts'
import type { Board } from '../../db/boards.ts'
import { ordersCutFor } from './cut-boards.ts'
import { thicknessesInWords } from './mill-list.ts'
import { type CuttingWork, type TimberWork, lengthUnitsOf } from './timber-work.ts'

export interface ToBuy {
  readonly woods: readonly WoodToBuy[]
  /** Of all boards that have a price, minor units; null: none has. */
  readonly costMinor: number | null
  /** What the wood of each order costs, by number. */
  readonly orders: readonly OrderWood[]
  readonly whyOrders: readonly string[]
  readonly whyBoards: readonly string[]
}

export interface WoodToBuy {
  readonly wood: string
  readonly lines: readonly {
    readonly rough: string
    readonly thicknessNm: number
    readonly widthNm: number
    readonly lengthNm: number
    readonly count: number
    readonly boardFeet: number
    readonly cutFor: readonly number[]
    /** Id of the order where they are for one alone. */
    readonly onlyFor: string | null
  }[]
  /** Of the boards in the list. */
  readonly boardFeet: number
  /** What the yard’s tally makes of them, whole board feet; null: a metric yard measures. */
  readonly billedBoardFeet: number | null
  readonly withWasteBoardFeet: number
  readonly withWasteCubicMetres: number
  /** At the yard's price, with the waste, minor units; null: no price yet. */
  readonly costMinor: number | null
  /** What the yard asks, as the almanac has it: to be typed where it stands. */
  readonly price: AlmanacFact
  /** What was paid for earlier boards of it: `$9.10 a board foot for 3 boards`; null: nothing is known. */
  readonly paid: string | null
  readonly why: readonly string[]
}

/** Minor units that the wood of one order costs: out of boards on hand, and out of those to buy. */
export interface OrderWood {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly onHandMinor: number
  readonly toBuyMinor: number
  /** Ids of woods in it without a price: what they cost comes on top. */
  readonly unpriced: readonly string[]
}

export function toBuy(work: CuttingWork, everBoards: readonly Board[], locale: string): ToBuy {
  const { almanac } = work.moment
  const { yard, shop, woodPrices } = almanac
  const prices = new Map(work.boards.map(({ id, priceMinor }) => [id, priceMinor]))
  const cost = costOfParts(work.plan, {
    ofBoard: (id) => prices.get(id) ?? null,
    ofWood: (wood) => woodPrices[wood] ?? null,
    wasteOf: (wood, thicknessNm) => wasteOf(almanac, wood, thicknessNm),
  })
  const lines = shoppingList(work.plan)
  const woods = [...new Set(lines.map(({ wood }) => wood))]
  const facts = new Map(almanacFacts(almanac, almanac).map((fact) => [fact.key, fact]))
  return {
    costMinor: cost.toBuy.size === 0 ? null : [...cost.toBuy.values()].reduce((sum, minor) => sum + minor, 0),
    woods: woods.flatMap((wood): WoodToBuy[] => {
      const own = lines.filter((line) => line.wood === wood)
      const price = facts.get(priceKey(wood))
      if (price === undefined) return []
      const volume = own.reduce((sum, line) => sum + line.volumeNm3, 0n)
      const bought = sum(
        own.map((line) => withWaste(boardFeetOf(line.volumeNm3), wasteOf(almanac, wood, line.thicknessNm))),
      )
      const costMinor = cost.toBuy.get(wood) ?? null
      return [
        {
          wood,
          price,
          costMinor,
          paid: paidInWords(
            everBoards.filter((board) => board.wood === wood),
            shop.currency,
            locale,
          ),
          lines: own.map((line) => {
            const cutFor = cutForLine(line, work)
            return {
              rough: writeRoughThickness(line.thicknessNm, shop.units),
              thicknessNm: line.thicknessNm,
              widthNm: line.widthNm,
              lengthNm: line.lengthNm,
              count: line.count,
              boardFeet: boardFeetOf(line.volumeNm3),
              cutFor,
              onlyFor: onlyOrder(cutFor, work),
            }
          }),
          boardFeet: boardFeetOf(volume),
          billedBoardFeet: shop.units === 'inch' ? billedBoardFeet(own.flatMap(eachOf)) : null,
          withWasteBoardFeet: bought,
          withWasteCubicMetres: bought * CUBIC_METRES_PER_BOARD_FOOT,
          why: whyToBuy({ wood, volume, bought }, costMinor, price, almanac, locale),
        },
      ]
    }),
    orders: orderWoods(cost, work),
    whyOrders: [
      'A board on hand counts at its own price, or at the Almanac’s. Boards to buy count at the Almanac’s, with waste.',
      'What usable offcuts are worth stays with them, by their area. The rest of the board, kerfs and ends too, is shared out by area.',
    ],
    whyBoards: [
      `Sizes as the yard has them, from the Almanac: ${thicknessesInWords(work)} thick (${YARD_SOURCES.thicknessesNm}); ${inWords(yard.widthsNm, work)} wide (${YARD_SOURCES.widthsNm}); ${inWords(yard.lengthsNm, work)} long (${YARD_SOURCES.lengthsNm}).`,
      'Parts that fit no board on hand are laid out on these.',
    ],
  }
}

const eachOf = <Line extends { readonly count: number }>(line: Line): readonly Line[] =>
  Array.from({ length: line.count }, () => line)

const inWords = (sizesNm: readonly number[], work: TimberWork): string =>
  sizesNm.map((nm) => writeLength(nm, lengthUnitsOf(work))).join(', ')

const TALLY_RULE =
  'Billed: width times whole feet, over 12, rounded for each board (halves up and down in turn), summed and times the rough thickness; surfaced boards at what they were sawn as (NHLA rules).'

const whyToBuy = (
  { wood, volume, bought }: { readonly wood: string; readonly volume: bigint; readonly bought: number },
  costMinor: number | null,
  price: AlmanacFact,
  almanac: Almanac,
  locale: string,
): readonly string[] => {
  const feet = boardFeetOf(volume)
  const { shop, woodWaste } = almanac
  const own = woodWaste[wood]
  const share = own === undefined ? writeFraction(almanac.yard.waste) : writeWoodWaste(own, shop.units)
  return [
    `${feet.toFixed(1)} board feet of boards as listed; ends, kerfs and offcuts are in them. Taken as lost to knots, checks and sapwood: ${share} of what is bought, so buy ${bought.toFixed(1)}. The share is in the Almanac; it starts from: ${own === undefined ? YARD_SOURCES.waste : GRADE_SOURCE}.`,
    'One board foot is 144 cubic inches, 0.00236 m³.',
    ...(shop.units === 'inch' ? [TALLY_RULE] : []),
    costMinor === null
      ? 'No price yet: ask the yard, and type it here or in the Almanac.'
      : `Cost: that much at ${price.value} ${shop.currency.code} ${price.unit}, the price in the Almanac, rounded once: ${writeMoney(costMinor, shop.currency, locale)}.`,
  ]
}

function orderWoods({ parts, unpriced }: PartsCost, work: TimberWork): OrderWood[] {
  const orders = new Map<string, { onHandMinor: number; toBuyMinor: number; unpriced: Set<string> } & OrderLabel>()
  for (const [id, { cut, work: lot }] of work.parts) {
    const { commissionId, number, customer } = lot.lot.label
    const order = orders.get(commissionId) ?? {
      ...{ commissionId, number, customer, onHandMinor: 0, toBuyMinor: 0 },
      unpriced: new Set<string>(),
    }
    order.onHandMinor += parts.get(id)?.onHand ?? 0
    order.toBuyMinor += parts.get(id)?.toBuy ?? 0
    if (unpriced.has(id)) order.unpriced.add(cut.wood)
    orders.set(commissionId, order)
  }
  return [...orders.values()]
    .map((order) => ({ ...order, unpriced: [...order.unpriced] }))
    .toSorted((a, b) => a.number - b.number)
}

type OrderLabel = Pick<OrderWood, 'commissionId' | 'number' | 'customer'>

const cutForLine = (
  line: { readonly wood: string; readonly thicknessNm: number; readonly widthNm: number; readonly lengthNm: number },
  work: CuttingWork,
): number[] =>
  ordersCutFor(
    {
      parts: work.plan.boards.flatMap(({ bought, board, parts }) =>
        bought &&
        board.wood === line.wood &&
        board.thicknessNm === line.thicknessNm &&
        board.widthNm === line.widthNm &&
        board.lengthNm === line.lengthNm
          ? parts
          : [],
      ),
    },
    work,
  )

/** The one order that boards are bought for; null: several, they are for stock. */
const onlyOrder = (numbers: readonly number[], { moment }: TimberWork): string | null =>
  numbers.length === 1 ? (moment.book.commissions.find(({ number }) => number === numbers[0])?.id ?? null) : null

/** What was paid a board foot, over all boards bought with a price; null: none has one. */
function paidInWords(boards: readonly Board[], currency: Currency, locale: string): string | null {
  const priced = boards.filter((board) => board.priceMinor !== null && board.cutFrom === null)
  const feet = priced.reduce((sum, board) => sum + boardFeet(board.thicknessNm, board.widthNm, board.lengthNm), 0)
  if (feet === 0) return null
  const minor = Math.round(priced.reduce((sum, board) => sum + (board.priceMinor ?? 0), 0) / feet)
  return `${writeMoney(minor, currency, locale)} a board foot for ${priced.length === 1 ? 'one board' : `${priced.length} boards`}`
}

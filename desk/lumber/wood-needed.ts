import type { Almanac } from '../../core/almanac/almanac.ts'
import { YARD_SOURCES } from '../../core/almanac/defaults.ts'
import { PER_WORDS } from '../../core/almanac/wood-price.ts'
import { wasteInWords } from '../../core/almanac/read-wood-waste.ts'
import type { Part } from '../../core/constructions/construction.ts'
import { sum } from '../../core/money/exact.ts'
import { writeMoney } from '../../core/money/money.ts'
import { woodEstimate, type WoodEstimate } from '../../core/timber/wood-estimate.ts'
import { CUBIC_METRES_PER_BOARD_FOOT } from '../../core/wood/board-measure.ts'
import type { Moment } from '../moment.ts'

/** What an order takes of each wood and costs, whatever boards it will come from. */
export interface WoodNeeded {
  /** Boards to get, with the waste. */
  readonly boardFeet: number
  readonly cubicMetres: number
  /** Of the woods that have a price, minor units; null: none has. */
  readonly costMinor: number | null
  /** Ids of woods without a price. */
  readonly unpriced: readonly string[]
  readonly why: readonly string[]
}

/** What the parts of an order take of each wood and cost. */
export function woodNeeded(
  parts: readonly Part[],
  { almanac, wording }: Pick<Moment, 'almanac' | 'wording'>,
): WoodNeeded {
  const woods = woodEstimate(parts, almanac.allowances, almanac)
  const boardFeet = sum(woods.map(({ boughtFeet }) => boughtFeet))
  const priced = woods.flatMap(({ minor }) => minor ?? [])
  return {
    boardFeet,
    cubicMetres: boardFeet * CUBIC_METRES_PER_BOARD_FOOT,
    costMinor: priced.length === 0 ? null : priced.reduce((sum, minor) => sum + minor, 0),
    unpriced: woods.filter(({ minor }) => minor === null).map(({ wood }) => wood),
    why: [
      ...woods.map((wood) => woodLine(wood, almanac, wording.locale)),
      `Every part as cut, from the thinnest rough lumber that yields it. ${wasteInWords(almanac)} of what is bought is taken as lost (${YARD_SOURCES.waste}). Sizes, waste and prices of the yard are in the Almanac.`,
      'Whatever is on hand: a board that is there already counts here like one to buy. Lumber says which part comes from which board, and under To buy it says more: whole boards, for all orders together.',
    ],
  }
}

function woodLine({ wood, boughtFeet, minor }: WoodEstimate, almanac: Almanac, locale: string): string {
  const { woods, shop, woodPrices } = almanac
  const name = woods.find(({ id }) => id === wood)?.name ?? wood
  const price = woodPrices[wood]
  const amount = `${name}: ${boughtFeet.toFixed(1)} board feet with waste`
  if (price === undefined || minor === null) return `${amount}, no price yet.`
  const money = (some: number): string => writeMoney(some, shop.currency, locale)
  return `${amount} at ${money(price.minor)} ${PER_WORDS[price.per]} is ${money(minor)}.`
}

import type { LengthUnits } from '../lengths/length.ts'
import type { Currency } from '../money/currency.ts'
import { readPrice, typeMoney } from '../money/money.ts'
import { failed, ok, type Result } from '../problems.ts'
import type { Shop, WoodPrice } from './almanac.ts'

/** What rough wood is sold by where sizes are in inches, and where they are in millimetres. */
export const perOf = (units: LengthUnits): WoodPrice['per'] => (units === 'inch' ? 'board-foot' : 'cubic-metre')

export const PER_WORDS: Readonly<Record<WoodPrice['per'], string>> = {
  'board-foot': 'a board foot',
  'cubic-metre': 'a cubic meter',
}

const MEASURES: readonly { readonly per: WoodPrice['per']; readonly word: RegExp }[] = [
  { per: 'board-foot', word: /(?:\/|\bper\b|\ba\b)?\s*(?:bd\.?\s*ft\.?|bf|board\s*(?:foot|feet))\s*$/i },
  { per: 'cubic-metre', word: /(?:\/|\bper\b|\ba\b)?\s*(?:m3|m³|cubic\s*met(?:re|er)s?)\s*$/i },
]

/**
 * A price as the yard says it: `8.50`, `8.50 a board foot`, `1450 / m3`.
 * @param per what it counts for where that is not said; absent: as the shop's units have it
 */
export function readWoodPrice(
  text: string,
  wood: string,
  { currency, units }: Pick<Shop, 'currency' | 'units'>,
  per: WoodPrice['per'] = perOf(units),
): Result<WoodPrice> {
  const said = MEASURES.find(({ word }) => word.test(text))
  const money = readPrice(said === undefined ? text : text.replace(said.word, ''), currency)
  return money.ok
    ? ok({ minor: money.value, per: said?.per ?? per })
    : failed(...money.problems.map((one) => ({ ...one, message: `${wood}: ${one.message}` })))
}

/** As it is typed back; what it counts for stands behind the field. */
export const writeWoodPrice = ({ minor }: WoodPrice, currency: Currency): string => typeMoney(minor, currency)

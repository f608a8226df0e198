import type { LengthUnits } from '../../lengths/length.ts'
import type { FinishFacts, GlueFacts } from '../shop-facts.ts'

/** What is pressed out and stays in the brush, as a share of what holds. Common practice, no source: the label knows better. */
export const SQUEEZE_OUT = 0.1

/** @source NIST Handbook 44, appendix C: avoirdupois ounce, US fluid ounce */
const GRAMS_PER_OUNCE = 28.349523125
const MILLILITERS_PER_FLUID_OUNCE = 29.5735295625

/** How much glue a glue-up takes with its squeeze-out; empty where neither label nor class says how far it goes. */
export function glueInWords({ spread }: Pick<GlueFacts, 'spread'>, squareMetres: number, units: LengthUnits): string {
  if (spread === null || squareMetres === 0) return ''
  const grams = squareMetres * (spread.min + spread.max) * 0.5 * (1 + SQUEEZE_OUT)
  const amount = amountInWords(grams, units === 'inch' ? { name: 'oz', size: GRAMS_PER_OUNCE } : { name: 'g', size: 1 })
  return `${amount} of glue with squeeze-out.`
}

/** A gram or a milliliter is some twenty drops: less is never measured, nor a tenth of an ounce told apart. Common practice, no source. */
const DROPS_BELOW = 1
const LEAST_OUNCES = 0.1

function amountInWords(amount: number, unit: { readonly name: string; readonly size: number }): string {
  if (amount < DROPS_BELOW) return 'A few drops'
  const said = amount / unit.size
  const least = unit.size === 1 ? 0 : LEAST_OUNCES
  return said < least ? `Less than ${least} ${unit.name}` : `About ${Number(said.toPrecision(2))} ${unit.name}`
}

/**
 * How soon what was mixed must be on.
 * @source Gougeon Brothers, Warm Temperature Bonding: within half of the pot life
 */
export const mixInWords = ({ potLife }: Pick<GlueFacts, 'potLife'>): string =>
  potLife === null
    ? ''
    : `Mix what you spread in ${Math.max(1, Math.floor(potLife.typical / 2))} min, half its pot life.`

/** How much one coat takes on a surface; empty where neither label nor class says how far it goes. */
export function finishInWords(
  { coverage, flakes }: Pick<FinishFacts, 'coverage' | 'flakes'>,
  squareMetres: number,
  units: LengthUnits,
): string {
  if (coverage === null || squareMetres === 0) return ''
  const milliliters = (1000 * squareMetres) / coverage.typical
  const unit = units === 'inch' ? { name: 'fl oz', size: MILLILITERS_PER_FLUID_OUNCE } : { name: 'ml', size: 1 }
  const amount = amountInWords(milliliters, unit)
  return flakes === undefined ? `${amount}.` : `${amount}. ${flakesInWords(flakes, milliliters, units)}`
}

/** What goes into the alcohol where it is mixed here. */
function flakesInWords(
  { gramsPerLiter, cut }: NonNullable<FinishFacts['flakes']>,
  milliliters: number,
  units: LengthUnits,
): string {
  const grams = (gramsPerLiter * milliliters) / 1000
  const weight =
    units === 'inch' ? `${Number((grams / GRAMS_PER_OUNCE).toPrecision(2))} oz` : `${Number(grams.toPrecision(2))} g`
  return `From flakes: ${weight} in as much alcohol (${cut}).`
}

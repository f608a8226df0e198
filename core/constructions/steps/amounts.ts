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
  const amount =
    units === 'inch' ? `${Number((grams / GRAMS_PER_OUNCE).toPrecision(2))} oz` : `${Number(grams.toPrecision(2))} g`
  return `About ${amount} of glue with squeeze-out.`
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
  const amount =
    units === 'inch'
      ? `About ${Number((milliliters / MILLILITERS_PER_FLUID_OUNCE).toPrecision(2))} fl oz`
      : `About ${Number(milliliters.toPrecision(2))} ml`
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

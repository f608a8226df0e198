import type { SupplyKind } from '../book/supplies.ts'
import type { LengthUnits } from '../lengths/length.ts'
import { failed, ok, problem, type Result } from '../problems.ts'

/** @source NIST Handbook 44, appendix C: avoirdupois ounce and pound, US fluid ounce, pint, quart and gallon */
const GRAMS: Readonly<Record<string, number>> = { g: 1, kg: 1000, oz: 28.349523125, lb: 453.59237 }
const MILLILITERS: Readonly<Record<string, number>> = {
  ...{ ml: 1, l: 1000, 'fl oz': 29.5735295625, pt: 473.176473, qt: 946.352946, gal: 3785.411784 },
}
/** Wood glues weigh about a tenth more than water. @source common practice, no source */
const GRAMS_PER_MILLILITER_OF_GLUE = 1.1

const unitsOf = (kind: SupplyKind): Readonly<Record<string, number>> => {
  if (kind === 'finish') return MILLILITERS
  if (kind !== 'glue') return {}
  const bottles = Object.entries(MILLILITERS).map(([unit, ml]) => [unit, ml * GRAMS_PER_MILLILITER_OF_GLUE] as const)
  return { ...GRAMS, ...Object.fromEntries(bottles) }
}

const usualUnit = (kind: SupplyKind, units: LengthUnits): string =>
  kind === 'glue' ? (units === 'inch' ? 'oz' : 'g') : kind === 'finish' ? (units === 'inch' ? 'fl oz' : 'ml') : ''

/**
 * Reads how much there is: `16 oz`, `1/2 gal`, `500 ml`, or a bare number in the shop's usual unit; whole pieces of hardware.
 * @returns grams of glue, milliliters of finish, pieces of anything else; null for an empty text. Problem: `amount`
 */
export function readAmount(text: string, kind: SupplyKind, units: LengthUnits): Result<number | null> {
  const typed = text.trim().toLowerCase().replace(/\.$/, '')
  if (typed === '') return ok(null)
  const [, figure = '', unit = ''] = /^([\d.,/ ]*\d)\s*([a-z ]*)$/.exec(typed) ?? []
  const known = unitsOf(kind)
  const factor = unit === '' ? (known[usualUnit(kind, units)] ?? 1) : known[unit]
  const amount = numberOf(figure.trim())
  const isCount = kind === 'hardware' || kind === 'other'
  if (amount === null || factor === undefined || (isCount && !Number.isInteger(amount)))
    return failed(problem('amount', EXAMPLES[kind]))
  return amount * factor <= MOST
    ? ok(amount * factor)
    : failed(problem('amount', 'More than any shop has: check the unit.'))
}

const MOST = 10_000_000

const EXAMPLES: Readonly<Record<SupplyKind, string>> = {
  glue: 'Type how much, such as 16 oz or 500 g.',
  finish: 'Type how much, such as 1 qt or 500 ml.',
  hardware: 'Type how many, such as 12.',
  other: 'Type how many, such as 12.',
}

function numberOf(text: string): number | null {
  const parts = text.split(/\s+/).map((part) => {
    const fraction = /^(\d+)\/(\d+)$/.exec(part)
    return fraction === null ? Number(part.replace(',', '.')) : Number(fraction[1]) / Number(fraction[2])
  })
  const sum = parts.reduce((total, part) => total + part, 0)
  return text !== '' && Number.isFinite(sum) && sum >= 0 ? sum : null
}

/** As it is typed back, in the shop's usual unit: `15.9 oz`, `250 ml`, `12`. */
export function writeAmount(amount: number | null, kind: SupplyKind, units: LengthUnits): string {
  if (amount === null) return ''
  const unit = usualUnit(kind, units)
  const figure = amount / (unitsOf(kind)[unit] ?? 1)
  return `${Number(figure.toFixed(1))}${unit === '' ? '' : ` ${unit}`}`
}

import type { Fitting } from '../constructions/construction.ts'
import type { SupplyKind } from '../book/supplies.ts'
import type { LengthUnits } from '../lengths/length.ts'
import type { Currency } from '../money/currency.ts'
import { rounded } from '../money/exact.ts'
import { readPrice } from '../money/money.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import { readAmount } from './supply-amount.ts'

/** What so much of something costs: grams of glue, milliliters of finish, pieces of hardware. */
export interface SupplyPrice {
  readonly minor: number
  readonly amount: number
  /** As it was typed, to be typed back. */
  readonly typed: string
}

/** Hardware that constructions call for, each by how its name begins. */
export const FITTING_KINDS = [
  { id: 'screws', label: 'Screws', named: /^screws/i },
  { id: 'feet', label: 'Feet', named: /^feet/i },
  { id: 'hinges', label: 'Hinges', named: /^hinges/i },
  { id: 'fasteners', label: 'Figure-eights', named: /^figure-eights/i },
  { id: 'pegs', label: 'Pegs', named: /^pegs/i },
] as const

/** Where the price of a fitting is kept; null: it is of no kind that has one. */
export function priceKeyOf({ name }: Pick<Fitting, 'name'>): string | null {
  const kind = FITTING_KINDS.find(({ named }) => named.test(name))
  return kind === undefined ? null : `fitting:${kind.id}`
}

/**
 * Reads what it costs: `24 for 1 qt`, `13.20 per kg`, `0.85` for one piece of hardware.
 * @returns null for an empty text. Problems: those of amounts and money, `supply-price`
 */
export function readSupplyPrice(
  text: string,
  kind: SupplyKind,
  units: LengthUnits,
  currency: Currency,
): Result<SupplyPrice | null> {
  const typed = text.trim()
  if (typed === '') return ok(null)
  const [, price = typed, of = ''] = /^(.*?)\s*(?:\bfor\b|\bper\b|\/)\s*(.+)$/i.exec(typed) ?? []
  const isCounted = kind === 'hardware' || kind === 'other'
  if (of === '' && !isCounted) return failed(problem('supply-price', EXAMPLE[kind]))
  const minor = readPrice(price, currency)
  if (!minor.ok) return minor
  const amount = readAmount(of === '' ? '1' : /\d/.test(of) ? of : `1 ${of}`, kind, units)
  if (!amount.ok || amount.value === null || amount.value <= 0) return failed(problem('supply-price', EXAMPLE[kind]))
  return ok({ minor: minor.value, amount: amount.value, typed })
}

const EXAMPLE: Readonly<Record<SupplyKind, string>> = {
  glue: 'Type price and amount, like 24 for 16 oz.',
  finish: 'Type price and amount, like 30 for 1 qt.',
  hardware: 'Type price and number, like 6 for 12.',
  other: 'Type price and number, like 6 for 12.',
}

/** What this much of it costs, whole minor units, rounded once. */
export const costOfSupply = (amount: number, price: Pick<SupplyPrice, 'minor' | 'amount'>): number =>
  rounded(thousandths(amount) * BigInt(price.minor), thousandths(price.amount))

const thousandths = (amount: number): bigint => BigInt(Math.max(1, Math.round(amount * 1000)))

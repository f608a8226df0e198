import { rounded, sum, upToStep } from './exact.ts'
import { overheadFor, type Overhead } from './overhead.ts'
import { type Ppm, shareOf, WHOLE } from './rate.ts'

/** What goes into a price. Money in whole minor units; anything not known is null and named in `missing`. */
export interface PriceInput {
  /** Rough wood with its waste; the customer's own costs nothing. Null: a wood has no price yet. */
  readonly woodMinor: number | null
  /** Hinges, screws and other parts as bought. */
  readonly hardwareMinor: number
  /** Glue, finish, abrasives: priced, or a share of the other direct cost (wood, hardware, hours). */
  readonly consumables:
    { readonly kind: 'priced'; readonly minor: number } | { readonly kind: 'share'; readonly rate: Ppm }
  /** Hands-on minutes and what an hour of that person costs; null: no rate yet. Waits cost nothing. */
  readonly work: readonly { readonly who: string; readonly minutes: number; readonly perHourMinor: number | null }[]
  /** By hands-on hour, or as a share of materials and labor; null: not known. */
  readonly overhead: Overhead | { readonly rate: Ppm } | null
  /** Kept back for pieces that have to be made again, as a share of the cost so far. */
  readonly remakes: Ppm
  readonly profit: Profit
  /** Options that are charged by themselves: engraving, inlay, gift wrapping. */
  readonly options: readonly { readonly name: string; readonly minor: number }[]
  /** Taxes that are in the price as it is said, together; 0: none, or they are added to it. */
  readonly taxInside: Ppm
  readonly rounding: { readonly stepMinor: number; readonly to?: PriceRounding }
}

/** To which multiple of the step a price goes; nearest: exact halves up, and never to nothing. */
export type PriceRounding = 'up' | 'nearest'

/** A margin is a share of the price, a mark-up a share of the cost; the same figure makes two prices. */
export type Profit = { readonly kind: 'margin' | 'mark-up'; readonly rate: Ppm }

export type PriceLineKind =
  'wood' | 'hardware' | 'consumables' | 'labor' | 'overhead' | 'remakes' | 'profit' | 'option' | 'tax' | 'rounding'

export interface PriceLine {
  readonly kind: PriceLineKind
  /** Who works, or which option; empty where the kind says it. */
  readonly name: string
  readonly minor: number
  /** Hands-on minutes, of lines of labor. */
  readonly minutes?: number
}

export interface Price {
  /** They add up to `askedMinor` to the last minor unit. */
  readonly lines: readonly PriceLine[]
  /** Everything that it costs, before profit. */
  readonly costMinor: number
  /** What to ask, as it is said: with the tax that is in it, before the tax that is added. */
  readonly askedMinor: number
  readonly minutes: number
  readonly missing: readonly ('wood-price' | 'rate' | 'overhead')[]
}

/**
 * A price built up line by line, each rounded once.
 * @source materials, labor and overhead, then profit: the build-up of craft pricing guides (Louisiana Voices, *Pricing Your Craft*;
 *   Woodworker's Journal 2008), whose worked examples the tests repeat
 */
export function priceOf(input: PriceInput): Price {
  const minutes = sum(input.work.map((each) => each.minutes))
  const labor = input.work.map(({ who, minutes: worked, perHourMinor }): PriceLine => ({
    kind: 'labor',
    name: who,
    minor: laborFor(worked, perHourMinor ?? 0),
    minutes: worked,
  }))
  const woodMinor = input.woodMinor ?? 0
  const direct = woodMinor + input.hardwareMinor + sum(labor.map(({ minor }) => minor))
  const consumables =
    input.consumables.kind === 'priced' ? input.consumables.minor : shareOf(direct, input.consumables.rate)
  const overhead = overheadOf(input.overhead, minutes, direct + consumables)
  const optionsMinor = sum(input.options.map(({ minor }) => minor))
  const made = direct + consumables + overhead
  const remakes = shareOf(made, input.remakes)
  const costMinor = made + remakes
  const profit = profitOn(costMinor, input.profit)
  const net = costMinor + profit + optionsMinor
  const tax = shareOf(net, input.taxInside)
  const exact = net + tax
  const askedMinor = roundPrice(exact, input.rounding)
  const line = (kind: PriceLineKind, minor: number, name = ''): PriceLine => ({ kind, name, minor })
  return {
    lines: [
      line('wood', woodMinor),
      line('hardware', input.hardwareMinor),
      line('consumables', consumables),
      ...labor,
      line('overhead', overhead),
      line('remakes', remakes),
      line('profit', profit),
      ...input.options.map(({ name, minor }) => line('option', minor, name)),
      line('tax', tax),
      line('rounding', askedMinor - exact),
    ].filter(({ minor, minutes: worked }) => minor !== 0 || (worked ?? 0) > 0),
    costMinor,
    askedMinor,
    minutes,
    missing: [
      ...(input.woodMinor === null ? (['wood-price'] as const) : []),
      ...(input.work.some((each) => each.perHourMinor === null && each.minutes > 0) ? (['rate'] as const) : []),
      ...(input.overhead === null ? (['overhead'] as const) : []),
    ],
  }
}

function roundPrice(minor: number, { stepMinor, to = 'up' }: PriceInput['rounding']): number {
  if (to === 'up' || stepMinor <= 0 || minor <= 0) return upToStep(minor, stepMinor)
  return Math.max(stepMinor, Math.floor((2 * minor + stepMinor) / (2 * stepMinor)) * stepMinor)
}

/** Pay for hands-on minutes at a rate for the hour. */
export const laborFor = (minutes: number, perHourMinor: number): number =>
  rounded(BigInt(minutes) * BigInt(perHourMinor), 60n)

function overheadOf(overhead: PriceInput['overhead'], minutes: number, materialsAndLabor: number): number {
  if (overhead === null) return 0
  return 'rate' in overhead ? shareOf(materialsAndLabor, overhead.rate) : overheadFor(minutes, overhead)
}

/** @throws RangeError for a margin of the whole price or more */
export function profitOn(costMinor: number, { kind, rate }: Profit): number {
  if (kind === 'mark-up') return shareOf(costMinor, rate)
  if (rate >= WHOLE) throw new RangeError('A margin is less than the whole price')
  return rounded(BigInt(costMinor) * BigInt(WHOLE), BigInt(WHOLE - rate)) - costMinor
}

/** Margin and mark-up that a price really reaches over its cost, in parts per million; null where there is nothing to divide by. */
export const reached = (
  priceMinor: number,
  costMinor: number,
): { readonly margin: Ppm | null; readonly markUp: Ppm | null } => ({
  margin: priceMinor === 0 ? null : rounded(BigInt(priceMinor - costMinor) * BigInt(WHOLE), BigInt(priceMinor)),
  markUp: costMinor === 0 ? null : rounded(BigInt(priceMinor - costMinor) * BigInt(WHOLE), BigInt(costMinor)),
})

/** What an order leaves for hours and overhead, in all and by hands-on hour: the figure by which to choose when evenings are scarce. */
export interface Contribution {
  readonly minor: number
  /** Null while no hands-on minute is known. */
  readonly perHourMinor: number | null
}

/**
 * Price before tax less everything bought for it.
 * @source contribution per unit of the scarce resource (managerial accounting textbooks; from memory)
 */
export function contributionOf(priceMinor: number, boughtMinor: number, minutes: number): Contribution {
  const minor = priceMinor - boughtMinor
  return { minor, perHourMinor: minutes <= 0 ? null : rounded(BigInt(minor) * 60n, BigInt(minutes)) }
}

/** Wood, hardware, consumables: what was bought for a price, without hours, overhead and profit. */
export const boughtIn = ({ lines }: Price): number =>
  sum(lines.flatMap(({ kind, minor }) => (BOUGHT.has(kind) ? [minor] : [])))

const BOUGHT: ReadonlySet<PriceLineKind> = new Set(['wood', 'hardware', 'consumables'])

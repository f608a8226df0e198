import type { LocalDay } from '../time/local-day.ts'
import { sum } from '../money/exact.ts'
import { suppliesInYear, type SuppliesInYear, type YearSupply } from './supplies-in-year.ts'

/** A board as the year looks at it. */
export interface YearBoard {
  /** What it cost; null: nobody knows. */
  readonly minor: number | null
  readonly addedOn: LocalDay
  /** Day on which it was cut or used up; null: on hand. */
  readonly goneOn: LocalDay | null
  /** Of another board: bought with that one. */
  readonly isOffcut: boolean
}

/** What only the maker can say of a year, in minor units; what is not said is not there. */
export type YearFigures = Partial<Readonly<Record<YearFigure, number>>>

export const YEAR_FIGURES = [
  'inventory-begin',
  'purchases',
  'own-use',
  'paid-help',
  'supplies',
  'other-costs',
  'inventory-end',
  'overhead-spent',
] as const

export type YearFigure = (typeof YEAR_FIGURES)[number]

/**
 * Part III of Schedule C: what the goods cost that were sold.
 * @source IRS Schedule C (Form 1040), part III, lines 35 to 42; Publication 334, chapter 6. Own pay is in none of them.
 */
export interface GoodsSold {
  /** 35 */
  readonly beginMinor: number
  /** 36: purchases less what was taken for own use. */
  readonly purchasesMinor: number
  /** 37 */
  readonly paidHelpMinor: number
  /** 38 */
  readonly suppliesMinor: number
  /** 39 */
  readonly otherMinor: number
  /** 40: the sum of 35 to 39. */
  readonly sumMinor: number
  /** 41 */
  readonly endMinor: number
  /** 42: 40 less 41. */
  readonly costMinor: number
  /** Figures that come from boards and supplies in the book, because the maker has typed none. */
  readonly fromBook: readonly ('inventory-begin' | 'purchases' | 'supplies' | 'inventory-end')[]
  /** Boards bought in the year, or on hand at its begin or end, whose cost nobody knows. */
  readonly boardsWithoutCost: number
  /** Glue, finish and hardware that is counted: bought in line 38, on hand in lines 35 and 41. */
  readonly suppliesCounted: SuppliesInYear
}

/** From boards and supplies in the book, and what was typed instead. */
export function goodsSold(
  year: number,
  boards: readonly YearBoard[],
  supplies: readonly YearSupply[],
  typed: YearFigures,
): GoodsSold {
  const suppliesCounted = suppliesInYear(year, supplies)
  const first = `${year}-01-01`
  const last = `${year}-12-31`
  const atBegin = boards.filter(({ addedOn, goneOn }) => addedOn < first && (goneOn === null || goneOn >= first))
  const atEnd = boards.filter(({ addedOn, goneOn }) => addedOn <= last && (goneOn === null || goneOn > last))
  const bought = boards.filter(({ addedOn, isOffcut }) => !isOffcut && addedOn >= first && addedOn <= last)
  const beginMinor = typed['inventory-begin'] ?? cost(atBegin) + suppliesCounted.beginMinor
  const purchasesMinor = (typed.purchases ?? cost(bought)) - (typed['own-use'] ?? 0)
  const [paidHelpMinor, suppliesMinor] = [typed['paid-help'] ?? 0, typed.supplies ?? suppliesCounted.boughtMinor]
  const otherMinor = typed['other-costs'] ?? 0
  const sumMinor = sum([beginMinor, purchasesMinor, paidHelpMinor, suppliesMinor, otherMinor])
  const endMinor = typed['inventory-end'] ?? cost(atEnd) + suppliesCounted.endMinor
  return {
    ...{ beginMinor, purchasesMinor, paidHelpMinor, suppliesMinor, otherMinor, sumMinor, endMinor },
    costMinor: sumMinor - endMinor,
    fromBook: (['inventory-begin', 'purchases', 'supplies', 'inventory-end'] as const).filter(
      (name) => typed[name] === undefined,
    ),
    boardsWithoutCost: new Set([...atBegin, ...bought, ...atEnd].filter(({ minor }) => minor === null)).size,
    suppliesCounted,
  }
}

const cost = (boards: readonly YearBoard[]): number => sum(boards.map(({ minor }) => minor ?? 0))

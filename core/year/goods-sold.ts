import type { LocalDay } from '../time/local-day.ts'
import { sum } from '../money/exact.ts'

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
  /** Figures that come from the boards in the book, because the maker has typed none. */
  readonly fromBoards: readonly ('inventory-begin' | 'purchases' | 'inventory-end')[]
  /** Boards bought in the year, or on hand at its begin or end, whose cost nobody knows. */
  readonly boardsWithoutCost: number
}

/** From the boards in the book, and what was typed instead or besides. */
export function goodsSold(year: number, boards: readonly YearBoard[], typed: YearFigures): GoodsSold {
  const first = `${year}-01-01`
  const last = `${year}-12-31`
  const atBegin = boards.filter(({ addedOn, goneOn }) => addedOn < first && (goneOn === null || goneOn >= first))
  const atEnd = boards.filter(({ addedOn, goneOn }) => addedOn <= last && (goneOn === null || goneOn > last))
  const bought = boards.filter(({ addedOn, isOffcut }) => !isOffcut && addedOn >= first && addedOn <= last)
  const beginMinor = typed['inventory-begin'] ?? cost(atBegin)
  const purchasesMinor = (typed.purchases ?? cost(bought)) - (typed['own-use'] ?? 0)
  const [paidHelpMinor, suppliesMinor] = [typed['paid-help'] ?? 0, typed.supplies ?? 0]
  const otherMinor = typed['other-costs'] ?? 0
  const sumMinor = sum([beginMinor, purchasesMinor, paidHelpMinor, suppliesMinor, otherMinor])
  const endMinor = typed['inventory-end'] ?? cost(atEnd)
  return {
    ...{ beginMinor, purchasesMinor, paidHelpMinor, suppliesMinor, otherMinor, sumMinor, endMinor },
    costMinor: sumMinor - endMinor,
    fromBoards: (['inventory-begin', 'purchases', 'inventory-end'] as const).filter(
      (name) => typed[name] === undefined,
    ),
    boardsWithoutCost: new Set([...atBegin, ...bought, ...atEnd].filter(({ minor }) => minor === null)).size,
  }
}

const cost = (boards: readonly YearBoard[]): number => sum(boards.map(({ minor }) => minor ?? 0))

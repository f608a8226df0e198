import type { YearFigure } from './goods-sold.ts'
import type { Year } from './year.ts'

/** A line of the year's account. */
export interface AccountLine {
  /** Number of the line on Schedule C. */
  readonly line: string
  readonly label: string
  readonly minor: number
  /** What the maker may type for it; absent: it is worked out. */
  readonly figure?: YearFigure
  readonly isSum?: boolean
}

/**
 * The year under the headings of Schedule C, as far as the book knows them.
 * @source IRS Schedule C (Form 1040) 2024, part I lines 1 to 5 and part III lines 35 to 42
 */
export const accountOf = ({ grossMinor, returnsMinor, goods }: Year): readonly AccountLine[] => [
  { line: '1', label: 'Gross receipts or sales', minor: grossMinor },
  { line: '2', label: 'Returns and allowances', minor: returnsMinor },
  { line: '3', label: 'Line 1 less line 2', minor: grossMinor - returnsMinor, isSum: true },
  { line: '35', label: 'Inventory at beginning of year', minor: goods.beginMinor, figure: 'inventory-begin' },
  { line: '36', label: 'Purchases less items for personal use', minor: goods.purchasesMinor, figure: 'purchases' },
  { line: '37', label: 'Cost of labor, not your own pay', minor: goods.paidHelpMinor, figure: 'paid-help' },
  { line: '38', label: 'Materials and supplies', minor: goods.suppliesMinor, figure: 'supplies' },
  { line: '39', label: 'Other costs', minor: goods.otherMinor, figure: 'other-costs' },
  { line: '40', label: 'Lines 35 to 39', minor: goods.sumMinor, isSum: true },
  { line: '41', label: 'Inventory at end of year', minor: goods.endMinor, figure: 'inventory-end' },
  { line: '42', label: 'Cost of goods sold', minor: goods.costMinor, isSum: true },
  { line: '5', label: 'Gross profit', minor: grossMinor - returnsMinor - goods.costMinor, isSum: true },
]

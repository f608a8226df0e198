import { stringify } from 'csv-stringify/sync'
import { plainMoney } from '../../core/money/money.ts'

/** A field: text, a plain number, or (as a bigint) an amount in minor units; null is empty. */
export type CsvField = string | number | bigint | null

export interface CsvTable {
  readonly columns: readonly string[]
  readonly rows: readonly (readonly CsvField[])[]
}

/**
 * A table as CSV: a line of names, CRLF after each line, quotes where a field needs them, and a byte order mark so that spreadsheets
 * take it for UTF-8. Text that a spreadsheet would run as a formula gets an apostrophe in front; numbers never do.
 * @param decimals of the amounts
 * @source RFC 4180; OWASP ASVS 1.2.10 (formula injection)
 */
export const writeCsv = ({ columns, rows }: CsvTable, decimals: number): string =>
  stringify([[...columns], ...rows.map((row) => [...row])], {
    bom: true,
    record_delimiter: '\r\n',
    // A single CR or LF inside a field is a line break to spreadsheets, too.
    quoted_match: /[\r\n]/,
    escape_formulas: true,
    cast: {
      bigint: (minor) => plainMoney(Number(minor), decimals),
      // The library lets a line feed in front of a formula pass.
      string: (text) => (text.startsWith('\n') ? `'${text}` : text),
    },
  })

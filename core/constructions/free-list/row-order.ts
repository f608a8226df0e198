import { problem, type Problem } from '../../problems.ts'
import type { SpecReader } from '../design/spec-reader.ts'

/** What row order needs to know of a row. */
export interface OrderedRow {
  readonly name: string
  /** Positions of the rows that come directly before it, from 0. */
  readonly after: readonly number[]
}

/**
 * Reads which rows come directly before one, as numbers from 1 in its field `after`: empty is the row above, 0 is none.
 * @param where the row in words, to begin a refusal with
 */
export function readAfter(form: SpecReader, where: string, index: number, rows: number): readonly number[] {
  const text = form.text('after')
  if (text === '') return index === 0 ? [] : [index - 1]
  const numbers = text.split(/[\s,;]+/).filter((word) => word !== '')
  if (numbers.length === 1 && numbers[0] === '0') return []
  const after: number[] = []
  for (const word of numbers) {
    const number = /^\d{1,4}$/.test(word) ? Number(word) : NaN
    if (!(number >= 1 && number <= rows))
      form.refuse('row-after', `${where}: “${word}” is not a row of this list (1 to ${rows}).`, 'after')
    else if (number === index + 1) form.refuse('row-after', `${where}: it cannot come after itself.`, 'after')
    else after.push(number - 1)
  }
  return [...new Set(after)]
}

/** The inverse of `readAfter`. */
export function writeAfter(after: readonly number[], index: number): string {
  if (after.length === 0) return index === 0 ? '' : '0'
  if (after.length === 1 && after[0] === index - 1) return ''
  return after.map((before) => before + 1).join(', ')
}

interface RowText {
  readonly [key: string]: string | boolean
}

/** The rows without one; numbers of rows that others come after follow, and what came after it comes after the row above. */
export const rowsWithout = <Row extends RowText>(rows: readonly Row[], index: number): Row[] =>
  renumbered(
    rows.filter((_, at) => at !== index),
    (number) => (number === index + 1 ? null : number > index + 1 ? number - 1 : number),
  )

/** The rows with one and the row above it changed over; numbers of rows that others come after follow. */
export function rowsWithMovedUp<Row extends RowText>(rows: readonly Row[], index: number): Row[] {
  const [above, row] = [rows[index - 1], rows[index]]
  if (above === undefined || row === undefined) return [...rows]
  return renumbered([...rows.slice(0, index - 1), row, above, ...rows.slice(index + 1)], (number) =>
    number === index + 1 ? index : number === index ? index + 1 : number,
  )
}

function renumbered<Row extends RowText>(rows: readonly Row[], newNumber: (number: number) => number | null): Row[] {
  return rows.map((row) => {
    const { after } = row
    if (typeof after !== 'string') return { ...row }
    const moved = after.replaceAll(/\d+/g, (digits) => (digits === '0' ? '0' : String(newNumber(Number(digits)) ?? '')))
    const kept = moved.split(/[\s,;]+/).filter((word) => word !== '')
    return { ...row, after: kept.join(', ') }
  })
}

/** The rows of one circle, if any: each waits for another of them, so none could ever start. */
export function circlesOf(rows: readonly OrderedRow[]): Problem[] {
  const free = new Set<number>()
  for (let changed = true; changed;) {
    changed = false
    for (const [index, row] of rows.entries()) {
      if (free.has(index) || !row.after.every((before) => free.has(before))) continue
      free.add(index)
      changed = true
    }
  }
  const stuck = rows.flatMap((_, index) => (free.has(index) ? [] : [index]))
  const circle = circleAmong(rows, stuck)
  if (circle.length === 0) return []
  const names = circle.map((index) => `row ${index + 1} (${rows[index]?.name ?? ''})`)
  const message = `These rows wait for each other in a circle: ${names.join(', then ')}, then row ${(circle[0] ?? 0) + 1} again. Change what one of them comes after.`
  return [problem('cycle', message, `rows.${circle[0] ?? 0}.after`)]
}

/** In the order in which the rows wait for each other, from the uppermost. */
function circleAmong(rows: readonly OrderedRow[], stuck: readonly number[]): readonly number[] {
  const path: number[] = []
  let at = stuck[0]
  while (at !== undefined && !path.includes(at)) {
    path.push(at)
    at = rows[at]?.after.find((before) => stuck.includes(before))
  }
  if (at === undefined) return []
  const circle = path.slice(path.indexOf(at)).toReversed()
  const first = circle.indexOf(Math.min(...circle))
  return [...circle.slice(first), ...circle.slice(0, first)]
}

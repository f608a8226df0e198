import type { BookStep } from '../../core/book/book.ts'
import { tooWetToGlue } from '../../core/timber/too-wet.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'
import { partsOfLot } from './lumber-ahead.ts'

/** Steps at which it must be known what the wood holds: before it is milled, and before glue goes on. */
const MINDS_MOISTURE = /^(mill-stock|glue-up)/

/** Boards that may go into a piece and were too wet or too dry when they were last measured; null: none that is known of. */
export function wetBoards(step: BookStep, moment: Moment): string | null {
  const lot = moment.lotOf(step.id)
  if (lot === undefined || !MINDS_MOISTURE.test(step.operation)) return null
  const measured = moment.stock.boards.filter(
    ({ moisture, boughtFor }) =>
      moisture !== null &&
      tooWetToGlue(moisture.pct) !== null &&
      (boughtFor === null || boughtFor === lot.commission.id),
  )
  if (measured.length === 0) return null
  const woods = new Set(
    (partsOfLot(lot.piece, lot.label.count, lot.commission, moment.almanac) ?? []).map(({ wood }) => wood),
  )
  const [first] = measured.filter(({ wood }) => woods.has(wood))
  if (first?.moisture == null) return null
  const { pct, day } = first.moisture
  return `Board ${first.number} read ${pct}% on ${writeLocalDay(day, moment.wording.locale)}: ${tooWetToGlue(pct) ?? ''}. Measure again before it goes in.`
}

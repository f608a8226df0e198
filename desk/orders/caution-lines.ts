import type { BookStep, Customer } from '../../core/book/book.ts'
import { isAfterLongDay, worstFirst } from '../../core/cautions/cautions-for-step.ts'
import type { Moment } from '../moment.ts'

/**
 * Cautions of a step as they are shown, worst first: those of the work, and what the buyer was asked about. A small child brings the
 * small parts up before the piece leaves; an allergy that was told is named where something is put on or handed over.
 */
export function cautionLines(step: BookStep, moment: Moment): { readonly id: string; readonly text: string }[] {
  const customer = moment.lotOf(step.id)?.commission.customer
  const ids = new Set(step.cautions)
  const told = toldAllergies(customer)
  if (customer?.childUnder3 === 'yes' && moment.lagsFrom(step.id).length === 0) ids.add('small_parts')
  if (isAfterLongDay(step.cautions, moment.workedTodayMin)) ids.add('alone')
  if (told !== '' && (/(^|-)coat$/.test(step.operation) || ids.has('handover'))) ids.add('nut')
  return worstFirst(ids).map(({ id, title, whatToDo }) => ({
    id,
    text: `${title}. ${whatToDo}${tells(id, told) ? ` This buyer told of: ${told}.` : ''}`,
  }))
}

/** What was told stands beside the caution that it is about. */
const tells = (id: string, told: string): boolean =>
  told !== '' && (id === 'nut' || (id === 'dust_allergy' && /wood|dust/i.test(told)))

const toldAllergies = (customer: Customer | undefined): string => {
  const told = customer?.allergies.trim().replace(/[.]$/, '') ?? ''
  return /^(none|no|-)?$/i.test(told) ? '' : told
}

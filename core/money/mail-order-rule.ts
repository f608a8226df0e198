import { addDays } from 'date-fns/addDays'
import { formatISO } from 'date-fns/formatISO'
import { parseISO } from 'date-fns/parseISO'

/**
 * Days that the US rule on mail, internet and telephone orders sets. A caution for orders that were not taken face to face and that
 * money was paid for; local law decides.
 * @source 16 CFR 435.2, as others quote it: ship by the day that was said, else within 30 days of the order; after a notice of a delay of up to 30 days
 *   silence is consent, beyond that only an express yes is
 * @param paidDay local day on which the order was complete: agreed, and paid in full or in part
 * @param saidDay the day that was said; null: none
 */
export function mailOrderDays(
  paidDay: string,
  saidDay: string | null,
): { readonly shipBy: string; readonly silenceUntil: string } {
  const shipBy = saidDay ?? daysAfter(paidDay, 30)
  return { shipBy, silenceUntil: daysAfter(shipBy, 30) }
}

const daysAfter = (day: string, days: number): string =>
  formatISO(addDays(parseISO(day), days), { representation: 'date' })

import { mailOrderDays } from '../../core/money/mail-order-rule.ts'
import { standingEntries } from '../../core/money/ledger.ts'
import type { Paper } from '../../core/papers/paper.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { isLocalDay } from '../../core/time/local-day.ts'
import { writeLocalDayInFull } from '../../core/time/write-instant.ts'
import type { PaperSource } from './paper-source.ts'

/** Days of the rule on orders by mail, telephone and internet; null where it does not touch this order: taken face to face, or nothing paid. */
export function mailOrderRule({
  commission,
  entries,
}: Pick<PaperSource, 'commission' | 'entries'>): ReturnType<typeof mailOrderDays> | null {
  const isFar = commission.takenWhere === 'phone' || commission.takenWhere === 'mail'
  const firstPaid = standingEntries(entries).find(({ kind }) => kind === 'payment')?.day
  return isFar && firstPaid !== undefined ? mailOrderDays(firstPaid, commission.promisedFor) : null
}

/**
 * The days of a note of delay, and which choice it gives: where the rule takes silence for a yes, or where an answer is needed.
 * Problems: `day`, `past`, both about `newDay`.
 */
export function delayOf(
  source: PaperSource,
  newDay: string,
): Result<{ readonly facts: Paper['facts']; readonly choice: 'silence' | 'answer' }> {
  const { commission, moment } = source
  const known = newDay.trim()
  if (known !== '' && !isLocalDay(known))
    return failed(problem('day', 'Enter a day like 2026-12-12, or leave it blank.', 'newDay'))
  if (known !== '' && known < moment.today)
    return failed(problem('past', 'That day is past: enter today or later.', 'newDay'))
  const day = (of: string): string => writeLocalDayInFull(of, moment.wording.locale)
  const rule = mailOrderRule(source)
  return ok({
    facts: [
      { label: 'Promised before', text: commission.promisedFor === null ? 'no day' : day(commission.promisedFor) },
      { label: 'New day', text: known === '' ? 'not known yet' : day(known) },
    ],
    choice: rule !== null && known !== '' && known <= rule.silenceUntil ? 'silence' : 'answer',
  })
}

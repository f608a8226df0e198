import { sum } from '../money/exact.ts'
import { dayNumber, type LocalDay } from '../time/local-day.ts'

/** An order on which money is due. */
export interface Due {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly reach: string
  readonly kind: 'deposit' | 'balance'
  readonly minor: number
  /** Civil day since when it is due. */
  readonly since: LocalDay
}

export interface AgedDue extends Due {
  /** Whole days that it has been due. */
  readonly days: number
}

/** Up to so many days; null: longer than the one before. */
export const AGES = [30, 60, null] as const

/** What is owed, by how long: the longest due first. @source aging by 30 days: common practice, no source */
export function agedDues(
  dues: readonly Due[],
  today: LocalDay,
): readonly { readonly upTo: (typeof AGES)[number]; readonly totalMinor: number; readonly dues: readonly AgedDue[] }[] {
  const aged = dues
    .map((due) => ({ ...due, days: Math.max(0, dayNumber(today) - dayNumber(due.since)) }))
    .toSorted((a, b) => b.days - a.days || b.minor - a.minor)
  return AGES.map((upTo, index) => {
    const from = index === 0 ? 0 : (AGES[index - 1] ?? 0) + 1
    const here = aged.filter(({ days }) => days >= from && days <= (upTo ?? Infinity))
    return { upTo, totalMinor: sum(here.map(({ minor }) => minor)), dues: here }
  })
}

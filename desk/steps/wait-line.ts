import type { BookLag } from '../../core/book/book.ts'
import type { WaitKind } from '../../core/planning/index.ts'
import type { Moment } from '../moment.ts'
import { waitHere } from './wait-here.ts'

export interface WaitLine {
  readonly kind: WaitKind
  readonly name: string
  /** At about 21 °C and 50 % humidity. */
  readonly minutes: number
  /** In this shop's air at the time when it was or will be; null where that is not known, or never over. */
  readonly hereMinutes: number | null
  /** Why it takes as long as it does here, as sentences. */
  readonly because: readonly string[]
  readonly rangeMinutes: readonly [number, number]
  /** How long the window stays open after the wait; null: it does not close. */
  readonly openForMinutes: number | null
  readonly source: string
}

/**
 * The wait after a step that is worth telling: the longest one.
 * @param endAt when the step ended or is planned to; null: nobody knows yet
 */
export function longestWait(
  lags: readonly (Omit<BookLag, 'pieceId' | 'fromStep' | 'toStep'> & { readonly fromStep?: string })[],
  endAt: number | null,
  moment: Pick<Moment, 'setting' | 'almanac' | 'stays'>,
): WaitLine | null {
  const longest = lags.filter((lag) => lag.wait !== 'none').sort((a, b) => b.minMin - a.minMin)[0]
  if (longest === undefined) return null
  const here = endAt === null ? null : waitHere(longest, endAt, moment)
  return {
    kind: longest.wait,
    name: longest.name,
    minutes: longest.minMin,
    hereMinutes: here === null || here.overAt === null || endAt === null ? null : here.overAt - endAt,
    because: here?.because ?? [],
    rangeMinutes: [longest.optimisticMin, longest.pessimisticMin],
    openForMinutes: longest.maxMin === null ? null : longest.maxMin - Math.max(0, longest.minMin),
    source: longest.source,
  }
}

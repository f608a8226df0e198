import { tenthsOf } from '../book/chance.ts'
import type { PromiseRecord } from '../book/promise.ts'
import { dayNumber, type LocalDay } from '../time/local-day.ts'

/** An order that was promised, as far as the tally asks. */
export interface PromisedOrder {
  readonly commissionId: string
  /** Instant in milliseconds since the Unix epoch at which it was handed over; null: not yet. */
  readonly handedOverAtMs: number | null
  /** The local day on which its last step was done; null: work is left. */
  readonly finishedOn: LocalDay | null
}

/** A promise that came true or did not. */
export interface JudgedPromise {
  readonly commissionId: string
  readonly day: LocalDay
  /** Chance of the day as stated with it, 0..1; null: nobody worked it out. */
  readonly stated: number | null
  readonly finishedOn: LocalDay | null
  readonly kept: boolean
  /** Whole days past the promised one, so far where work is left; 0 when kept. */
  readonly daysLate: number
  /** Earlier days that the maker took back by giving a later one. */
  readonly movedByMaker: number
  /** What was written down about it: why another day was given. */
  readonly why: readonly string[]
}

/**
 * Judges each order by the promise in force when it was handed over, or now. Kept: everything finished by the end of that day. An
 * order that is still worked on is judged once its day is past. Orders without a promise are left out.
 * @param records of these orders, oldest first, only those that count
 * @param today local day; the shop's time zone
 */
export function judgedPromises(
  orders: readonly PromisedOrder[],
  records: readonly PromiseRecord[],
  today: LocalDay,
): JudgedPromise[] {
  const byOrder = Map.groupBy(
    records.filter(({ kind }) => kind === 'promise'),
    ({ commissionId }) => commissionId,
  )
  return orders.flatMap((order) => {
    const { commissionId, finishedOn, handedOverAtMs } = order
    const given = (byOrder.get(commissionId) ?? []).filter(
      ({ givenAtMs }) => handedOverAtMs === null || givenAtMs <= handedOverAtMs,
    )
    const inForce = given.at(-1)
    if (inForce === undefined || inForce.day === null) return []
    const { day, chance } = inForce
    if (finishedOn === null && day >= today) return []
    const daysLate = Math.max(0, dayNumber(finishedOn ?? today) - dayNumber(day))
    return [
      {
        ...{ commissionId, day, stated: chance, finishedOn, daysLate },
        kept: daysLate === 0,
        movedByMaker: given.filter((record, at) => movesLater(given[at - 1], record)).length,
        why: given.flatMap(({ why }) => (why === '' ? [] : [why])),
      },
    ]
  })
}

const movesLater = (before: PromiseRecord | undefined, { day, wantedBy }: PromiseRecord): boolean =>
  wantedBy === 'maker' && before !== undefined && before.day !== null && day !== null && day > before.day

/** Promises of one stated chance: how many came true, beside how many should have. */
export interface TenthOfPromises {
  /** Stated chance in whole tenths, 0..10. */
  readonly tenth: number
  readonly count: number
  readonly kept: number
  /** Sum of the stated chances. */
  readonly expected: number
}

/** More of one tenth are too long ago to say how dates are now. */
export const NEWEST_OF_A_TENTH = 40

/**
 * The newest promises of each stated tenth, the surest first; those without a stated chance are left out.
 * @param promises in any order; the day tells which are newest
 */
export function tenthsOfPromises(promises: readonly JudgedPromise[]): TenthOfPromises[] {
  const stated = promises.flatMap((promise) =>
    promise.stated === null ? [] : [{ ...promise, stated: promise.stated }],
  )
  const groups = Map.groupBy(stated, (promise) => tenthsOf(promise.stated))
  return [...groups]
    .map(([tenth, all]) => {
      const newest = all.toSorted((a, b) => b.day.localeCompare(a.day)).slice(0, NEWEST_OF_A_TENTH)
      return {
        tenth,
        count: newest.length,
        kept: newest.filter(({ kept }) => kept).length,
        expected: newest.reduce((sum, promise) => sum + promise.stated, 0),
      }
    })
    .sort((a, b) => b.tenth - a.tenth)
}

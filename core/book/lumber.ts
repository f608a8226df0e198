import { daysLater, isoWeekday, type IsoWeekday, type LocalDay } from '../time/local-day.ts'

/** Where the wood of an order comes from, and how far it is, as people said. */
export interface Lumber {
  /** `counted`: from the boards on hand as far as they go, the rest from the yard. The others were said for this order. */
  readonly from: LumberSource
  /** The day on which it is expected; null: on the next buying day. */
  readonly expectedOn: LocalDay | null
  /** The day on which it came; null: it is not here. */
  readonly hereOn: LocalDay | null
  /** Somebody said that it may be cut, whether its days to rest are over or not. */
  readonly rested: boolean
}

export type LumberSource = 'counted' | 'shop' | 'yard' | 'customer'

/** Nobody said anything. */
export const LUMBER_AS_COUNTED: Lumber = { from: 'counted', expectedOn: null, hereOn: null, rested: false }

/** How the shop buys and rests its lumber. */
export interface LumberHabits {
  /** ISO weekday of the trip to the yard. */
  readonly buyingDay: IsoWeekday
  /** Days in the shop before the first cut. */
  readonly restDays: number
}

/** What the wood of an order has ahead of it before the first cut. */
export type LumberAhead =
  | { readonly kind: 'ready' }
  /** Not in the shop. `overdue`: the day that was said is past. */
  | {
      readonly kind: 'coming'
      readonly from: 'yard' | 'customer'
      readonly on: LocalDay
      readonly cutFrom: LocalDay
      readonly overdue: boolean
    }
  | { readonly kind: 'resting'; readonly since: LocalDay; readonly cutFrom: LocalDay }
  /** A customer's own wood, and nobody knows when it comes. */
  | { readonly kind: 'unknown' }

/** What the boards on hand give for an order: all of it, some of it, or boards that still rest. */
export type OnHand = 'enough' | 'short' | { readonly restingSince: LocalDay }

/**
 * When the wood of an order may be cut. A day that has passed without a word does not count as kept: it is expected today then.
 * @param takenOn the day the order was taken: its wood is bought on the first buying day after it, and on that day itself the trip is
 * still ahead
 */
export function lumberAhead(
  lumber: Lumber,
  onHand: OnHand,
  { takenOn, today, habits }: { readonly takenOn: LocalDay; readonly today: LocalDay; readonly habits: LumberHabits },
): LumberAhead {
  const { from, hereOn, expectedOn, rested } = lumber
  if (from === 'shop' || rested) return { kind: 'ready' }
  if (hereOn !== null) return restingFrom(hereOn, today, habits)
  if (from === 'counted' && onHand !== 'short')
    return onHand === 'enough' ? { kind: 'ready' } : restingFrom(onHand.restingSince, today, habits)
  const comesFrom = from === 'customer' ? 'customer' : 'yard'
  if (comesFrom === 'customer' && expectedOn === null) return { kind: 'unknown' }
  const on = expectedOn ?? nextBuyingDay(takenOn, today, habits.buyingDay)
  const comes = on < today ? today : on
  return { kind: 'coming', from: comesFrom, on, cutFrom: daysLater(comes, habits.restDays), overdue: on < today }
}

function restingFrom(since: LocalDay, today: LocalDay, { restDays }: LumberHabits): LumberAhead {
  const cutFrom = daysLater(since, restDays)
  return cutFrom <= today ? { kind: 'ready' } : { kind: 'resting', since, cutFrom }
}

/** The first buying day after the order was taken; where that is past, the next one from today on. */
export function nextBuyingDay(takenOn: LocalDay, today: LocalDay, weekday: IsoWeekday): LocalDay {
  const first = daysLater(takenOn, 1)
  const from = first > today ? first : today
  return daysLater(from, (weekday - isoWeekday(from) + 7) % 7)
}

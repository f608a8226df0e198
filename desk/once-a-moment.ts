import type { Commission } from '../core/book/book.ts'
import type { Moment } from './moment.ts'

/**
 * What follows from book, almanac and plan at one instant, worked out when it is first asked for and kept for as long as that moment is
 * the shop's: a screen that is opened again finds it.
 */
export function onceAMoment<T>(find: (moment: Moment) => T): (moment: Moment) => T {
  const found = new WeakMap<Moment, { readonly value: T }>()
  return (moment) => {
    const known = found.get(moment) ?? { value: find(moment) }
    found.set(moment, known)
    return known.value
  }
}

/** The same for each order by itself. */
export function onceAnOrder<T>(find: (commission: Commission, moment: Moment) => T) {
  const found = onceAMoment(() => new Map<Commission, { readonly value: T }>())
  return (commission: Commission, moment: Moment): T => {
    const known = found(moment).get(commission) ?? { value: find(commission, moment) }
    found(moment).set(commission, known)
    return known.value
  }
}

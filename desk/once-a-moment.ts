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

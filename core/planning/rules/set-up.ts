/**
 * Whether a maker's machine is still set up: what the maker last worked at with a set-up was of the same family, and ended in the
 * session in which the next step starts.
 * @param last family of that work, -1: there was none
 * @param opened when the session opened
 * @param at start of the next step
 */
export const isStillSetUp = (family: number, last: number, ended: number, opened: number, at: number): boolean =>
  last === family && ended > opened && ended <= at

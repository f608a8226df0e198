/** How a promise stands by its chance: in time from 3 in 4 on, tight from 1 in 2 on, below that likely late. */
export type PromiseMark = 'none' | 'tight' | 'late'

const IN_TIME = 0.75
const TIGHT = 0.5

/** @param chance that it is done by the end of the promised day, 0..1 */
export const markOf = (chance: number): PromiseMark => (chance >= IN_TIME ? 'none' : chance >= TIGHT ? 'tight' : 'late')

/** Whole tenths, 0..10; less than even is never told as even. */
export const tenthsOf = (chance: number): number => Math.min(Math.round(chance * 10), chance < TIGHT ? 4 : 10)

/** `8 chances in 10`, as people say it; at the ends in words, as nothing is certain. */
export function sayChance(chance: number): string {
  const tenths = tenthsOf(chance)
  if (tenths >= 10) return 'nearly certain'
  if (tenths <= 0) return 'hardly a chance'
  return tenths === 1 ? '1 chance in 10' : `${tenths} chances in 10`
}

/** The same in a narrow place: `8 in 10`; at the ends not the whole of it, as nothing is certain. */
export function sayChanceShort(chance: number): string {
  const tenths = tenthsOf(chance)
  return tenths >= 10 ? 'over 9 in 10' : tenths <= 0 ? 'under 1 in 10' : `${tenths} in 10`
}

/** A promised day that is over has no chance any more. */
export const sayDaysLate = (days: number): string => (days === 1 ? 'a day late' : `${days} days late`)

/** The same in a narrow place, beside the word "late". */
export const sayDaysLateShort = (days: number): string => (days === 1 ? '1 day' : `${days} days`)

/** Chances that differ by less than this are the same news. */
const FELL_BY = 0.2

/** Whether a chance has fallen so far since it was stated that the maker is told why. */
export const hasFallen = (stated: number | null, chance: number): boolean =>
  stated !== null && stated - chance >= FELL_BY - 1e-9

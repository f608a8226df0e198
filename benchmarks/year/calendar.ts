// A year of the benchmark: shops stand in UTC, so that a local day is 1440 minutes and civil time needs no thought.

export const DAY_MIN = 1440
const MS_PER_DAY = 86_400_000

/** Days since 1970-01-01 of the first day on which a shop is open that has so many years of history before the judged one. */
export const firstDayWith = (yearsOfHistory: number): number => Date.UTC(2026 - yearsOfHistory, 0, 1) / MS_PER_DAY
/** The year that is judged, and what runs out after it. */
export const FIRST_JUDGED_DAY = Date.UTC(2026, 0, 1) / MS_PER_DAY
export const LAST_JUDGED_DAY = Date.UTC(2026, 11, 31) / MS_PER_DAY
export const LAST_DAY = LAST_JUDGED_DAY + 26 * 7

/** Customers come, and the maker looks at the book, when the evening is over. */
export const CUSTOMERS_COME_MIN = 22 * 60

export const dayOf = (instant: number): number => Math.floor(instant / DAY_MIN)
/** A day is over: what is promised for it is finished before. */
export const endOfDay = (day: number): number => (day + 1) * DAY_MIN
export const dayText = (day: number): string => new Date(day * MS_PER_DAY).toISOString().slice(0, 10)
export const dayOfYear = (day: number): number =>
  day - Date.UTC(new Date(day * MS_PER_DAY).getUTCFullYear()) / MS_PER_DAY
export const dayOfText = (text: string): number => Date.parse(`${text}T00:00:00Z`) / MS_PER_DAY

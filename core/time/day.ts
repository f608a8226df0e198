/** Minutes of a day of 24 hours; a civil day may be longer or shorter by an hour, see local-day.ts. */
export const DAY_MIN = 24 * 60

/** What is known of a promise from when it was given. All instants. */
export interface GivenPromise {
  readonly promise: number
  readonly givenAt: number
  /** Done by then 4 times in 5, and by the plan of that moment; null: nobody worked it out. */
  readonly fourInFive: number | null
  readonly planned: number | null
}

/** This part of a promise's safety is kept from the planner, which would spend it on others. Measured in years of the benchmark. */
const HIDDEN = 0.5
/** The safety of a promise that was given without odds, as a share of the time that it leaves. Common practice, no source. */
const SAFETY_UNTOLD = 0.25

/**
 * What the planner aims at for a promise: sooner than promised by a part of the time that lay between the plan's day and the day of
 * 4 in 5. As the time to the promise runs out, so does what may go wrong until then, and the aim comes nearer to the promise.
 */
export function aimOf({ promise, givenAt, fourInFive, planned }: GivenPromise, now: number): number {
  const time = Math.max(1, promise - givenAt)
  const left = Math.min(1, Math.max(0, (promise - now) / time))
  const safety = fourInFive === null || planned === null ? SAFETY_UNTOLD * time : Math.max(0, fourInFive - planned)
  return promise - Math.round(HIDDEN * safety * left)
}

/** An order may be late by three days before that counts more than by the minute. Measured in years of the benchmark. */
export const PATIENCE_MIN = 3 * 1440

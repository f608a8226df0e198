/** Jobs for one machine that does one at a time, all there from the beginning. */
export interface OneMachineJobs {
  readonly durations: readonly number[]
  readonly weights: readonly number[]
  readonly dues: readonly number[]
}

/** Reads one instance: three rows of equal length, durations, weights, due dates (numbers may wrap over lines). */
export function readWeightedTardiness(text: string): OneMachineJobs {
  const numbers = text.trim().split(/\s+/).map(Number)
  const count = numbers.length / 3
  if (!Number.isInteger(count)) throw new Error('The number of values is not three times a number of jobs.')
  return {
    durations: numbers.slice(0, count),
    weights: numbers.slice(count, 2 * count),
    dues: numbers.slice(2 * count),
  }
}

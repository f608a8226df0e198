import type { StandardTime } from './shop-facts.ts'
import type { NetworkStep } from './step-network.ts'

/**
 * How the hands-on minutes of a step came about, as sentences: standard time, how many of its units, spread, set-up, source.
 * @param time of its operation, as the almanac has it now; undefined: this version does not know the operation
 */
export function whyMinutes(
  {
    minutes,
    optimisticMin,
    pessimisticMin,
    setUp,
  }: Pick<NetworkStep, 'minutes' | 'optimisticMin' | 'pessimisticMin' | 'setUp'>,
  time: StandardTime | undefined,
): string[] {
  const range =
    optimisticMin === pessimisticMin ? [] : [`On a good day ${optimisticMin} min, on a bad one ${pessimisticMin}.`]
  const shared =
    setUp === null ? [] : [`The machine’s set-up, ${setUp.minutes} min, comes once for steps that share it.`]
  return [...(time === undefined ? [] : [howMany(minutes, time)]), ...range, ...shared, ...sourceOf(time)]
}

function howMany(minutes: number, { name, setUpMin, family, perUnitMin, unit }: StandardTime): string {
  if (unit === 'minute') return `${minutes} min as written down for it.`
  const own = family === null ? setUpMin : 0
  const units = Number(((minutes - own) / perUnitMin).toPrecision(2))
  const begin = own === 0 ? '' : `${own} min to begin with, and `
  return `${name}: ${begin}${Number(perUnitMin.toFixed(2))} min for each ${unit}, of which there are about ${units}: ${minutes} min.`
}

const sourceOf = (time: StandardTime | undefined): string[] =>
  time === undefined || time.unit === 'minute' ? [] : [`Source: ${time.source}`]

import type { StandardTime } from './shop-facts.ts'
import type { NetworkStep, StepUnits } from './step-network.ts'

/**
 * How the hands-on minutes of a step came about, as sentences: standard time, how many of its units, spread, setup, source.
 * @param time of its operation, as the almanac has it now; undefined: this version does not know the operation
 * @param planned minutes that it is planned with, where times were changed since
 */
export function whyMinutes(
  {
    minutes,
    optimisticMin,
    pessimisticMin,
    setUp,
    units,
  }: Pick<NetworkStep, 'minutes' | 'optimisticMin' | 'pessimisticMin' | 'setUp' | 'units'>,
  time: StandardTime | undefined,
  planned: number = minutes,
): string[] {
  const range =
    optimisticMin === pessimisticMin ? [] : [`On a good day ${optimisticMin} min, on a bad one ${pessimisticMin}.`]
  const shared =
    setUp === null ? [] : [`The machine’s setup, ${setUp.minutes} min, comes once for steps that share it.`]
  const own = planned === minutes ? [] : [`Planned as ${planned} min: your times were changed since it was drawn up.`]
  return [
    ...(time === undefined ? [] : [howMany(minutes, units, time)]),
    ...range,
    ...shared,
    ...sourceOf(time),
    ...own,
  ]
}

function howMany(
  minutes: number,
  kept: StepUnits | null,
  { name, setUpMin, family, perUnitMin, unit }: StandardTime,
): string {
  if (unit === 'minute') return `${minutes} min as written down for it.`
  const eachMin = kept?.eachMin ?? perUnitMin
  const own =
    family !== null ? 0 : kept === null ? setUpMin : Math.max(0, Math.round(minutes - kept.count * kept.eachMin))
  const units = kept === null ? Number(((minutes - own) / perUnitMin).toPrecision(2)) : Number(kept.count.toFixed(2))
  const begin = own === 0 ? '' : `${own} min to begin with, and `
  return `${name}: ${begin}${Number(eachMin.toFixed(2))} min for each ${unit}, of which there are ${kept === null ? 'about ' : ''}${units}: ${minutes} min.`
}

const sourceOf = (time: StandardTime | undefined): string[] =>
  time === undefined || time.unit === 'minute' ? [] : [`Source: ${time.source}`]

import type { Figure, Provenance } from './figure.ts'

/**
 * How long something takes at reference conditions, in whole minutes, as a range: min <= typical <= max. `typical` is what is
 * planned with. Where a source leaves an end open, the nearest figure that it does give stands in for it.
 */
export interface Clock {
  readonly min: number
  readonly typical: number
  readonly max: number
  readonly conditions: string
  readonly source: string
  readonly standing: Provenance
}

/**
 * A wait: something must not happen sooner. Where no typical value is printed, the slower end is planned with, as sources of
 * one class disagree by two to eight times.
 */
export const waitClock = (figure: Figure): Clock =>
  clock(figure, figure.typical ?? figure.max ?? figure.min, `a wait needs a figure`)

/** A deadline: something must have happened by then. Where no typical value is printed, the sooner end is planned with. */
export const deadlineClock = (figure: Figure): Clock =>
  clock(figure, figure.typical ?? figure.min ?? figure.max, `a deadline needs a figure`)

const MINUTES_PER_UNIT: Readonly<Record<string, number>> = { s: 1 / 60, min: 1, h: 60, d: 1440, week: 10080 }

function clock(figure: Figure, planned: number | null, missing: string): Clock {
  const perUnit = MINUTES_PER_UNIT[figure.unit]
  if (planned === null || perUnit === undefined)
    throw new Error(`${missing} in a unit of time: ${JSON.stringify(figure)}`)
  const minutes = (value: number): number => Math.ceil(value * perUnit - 1e-9)
  return {
    min: minutes(figure.min ?? planned),
    typical: minutes(planned),
    max: minutes(figure.max ?? planned),
    conditions: figure.conditions,
    source: figure.source,
    standing: figure.provenance,
  }
}

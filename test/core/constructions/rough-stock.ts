import { startingAlmanac } from '../../../core/almanac/defaults.ts'

const yardIn = (units: 'inch' | 'millimetre') =>
  startingAlmanac({ timeZone: 'America/Chicago', units, currency: 'USD' }).yard.thicknessesNm

/** Rough thicknesses of a new shop's yard. */
export const USUAL_QUARTERS = yardIn('inch')
export const METRIC_QUARTERS = yardIn('millimetre')

import type { LengthUnits } from '../lengths/length.ts'

/** A temperature in the one scale of the shop, to a degree: `55 °F`, `13 °C`. */
export const writeCelsius = (celsius: number, units: LengthUnits): string =>
  units === 'inch' ? `${Math.round(celsius * 1.8 + 32)} °F` : `${Math.round(celsius)} °C`

/** The air that figures of glues and finishes are given for. */
export const referenceAir = (units: LengthUnits): string => `about ${writeCelsius(21, units)} and 50% humidity`

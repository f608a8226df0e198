/** A temperature in both scales, since shops read one and labels print the other: `13 °C (55 °F)`. */
export const writeCelsius = (celsius: number): string =>
  `${Math.round(celsius)} °C (${Math.round(celsius * 1.8 + 32)} °F)`

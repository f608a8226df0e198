/**
 * Equilibrium moisture content of wood in air, percent of ovendry weight: what wood comes to rest at, whatever its species.
 * @param celsius air temperature, valid -1..93; a shop's and a house's air lies in 0..50
 * @param rh relative humidity as a fraction, 0..1; it has no meaning at 1 and little above 0.95
 * @source Wood Handbook, FPL-GTR-282 (2021), Eq. 4-5 with the coefficients for degrees Celsius; checked against Table 4-2 in
 * test/core/wood. Drying wood comes to rest a little higher, wetting wood a little lower.
 */
export function equilibriumMoisture(celsius: number, rh: number): number {
  const t = celsius
  const w = 349 + 1.29 * t + 0.0135 * t ** 2
  const k = 0.805 + 0.000736 * t - 0.00000273 * t ** 2
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t ** 2
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t ** 2
  const kh = k * rh
  const dissolved = (k1 * kh + 2 * k1 * k2 * kh ** 2) / (1 + k1 * kh + k1 * k2 * kh ** 2)
  return (1800 / w) * (kh / (1 - kh) + dissolved)
}

/** Relative humidity (fraction) in which wood of this moisture rests, by bisection of `equilibriumMoisture`; 0..0.98. */
export function humidityFor(moisturePct: number, celsius: number): number {
  let [dry, damp] = [0, 0.98]
  for (let halving = 0; halving < 50; halving++) {
    const middle = (dry + damp) / 2
    if (equilibriumMoisture(celsius, middle) < moisturePct) dry = middle
    else damp = middle
  }
  return (dry + damp) / 2
}

/** What to doubt about a moisture computed from this air; empty within 0-50 C and 5-95 %. */
export function airDoubts(celsius: number, rh: number): readonly string[] {
  const doubts: string[] = []
  if (celsius < 0 || celsius > 50) doubts.push('The formula was checked for air between 0 and 50 °C.')
  if (rh < 0.05 || rh > 0.95) doubts.push('The formula was checked for humidity between 5 and 95%.')
  return doubts
}

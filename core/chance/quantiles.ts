/**
 * The standard normal value that is not exceeded with this chance.
 * @param chance 0 < chance < 1
 * @source P. J. Acklam's rational approximation (2003), relative error below 1.2e-9
 */
export function normalQuantile(chance: number): number {
  if (chance < TAIL) {
    const q = Math.sqrt(-2 * Math.log(chance))
    return polynomial(C, q) / (polynomial(D, q) * q + 1)
  }
  if (chance > 1 - TAIL) return -normalQuantile(1 - chance)
  const q = chance - 0.5
  const r = q * q
  return (polynomial(A, r) * q) / (polynomial(B, r) * r + 1)
}

/**
 * The share of a standard normal that does not exceed a value.
 * @source M. Abramowitz, I. A. Stegun, "Handbook of Mathematical Functions" (1964), 26.2.17, error below 7.5e-8
 */
export function normalShare(value: number): number {
  if (value < 0) return 1 - normalShare(-value)
  const t = 1 / (1 + 0.2316419 * value)
  return 1 - (Math.exp((-value * value) / 2) / Math.sqrt(2 * Math.PI)) * t * polynomial(UPPER, t)
}

/**
 * The value of Student's t with 4 degrees of freedom that is not exceeded with this chance; exact.
 * @param chance 0 < chance < 1
 * @source W. T. Shaw, "Sampling Student's T distribution", J. Computational Finance 9 (2006)
 */
export function student4Quantile(chance: number): number {
  const spread = Math.sqrt(4 * chance * (1 - chance))
  const q = Math.cos(Math.acos(Math.min(1, spread)) / 3) / spread
  return Math.sign(chance - 0.5) * 2 * Math.sqrt(Math.max(0, q - 1))
}

/** The value of a Beta distribution that is not exceeded with this chance, to 1e-9. Both parameters > 0, 0 < chance < 1. */
export function betaQuantile({ alpha, beta }: Beta, chance: number): number {
  let [low, high] = [0, 1]
  for (let round = 0; round < 30; round++) {
    const middle = (low + high) / 2
    if (betaShare(middle, alpha, beta) < chance) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** A rate between 0 and 1 that is not known for certain: `alpha` counts what came about, `beta` what did not. */
export interface Beta {
  readonly alpha: number
  readonly beta: number
}

/** The regularized incomplete beta function by its continued fraction (Abramowitz & Stegun 26.5.8), evaluated by Lentz's method. */
function betaShare(x: number, a: number, b: number): number {
  if (x > (a + 1) / (a + b + 2)) return 1 - betaShare(1 - x, b, a)
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b)) / a
  let [c, d, sum] = [1, 1 / nonZero(1 - ((a + b) * x) / (a + 1)), 1]
  sum = d
  for (let m = 1; m <= 200; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    let step = 1
    for (const part of [even, odd]) {
      d = 1 / nonZero(1 + part * d)
      c = nonZero(1 + part / c)
      step = c * d
      sum *= step
    }
    if (Math.abs(step - 1) < 1e-12) break
  }
  return front * sum
}

const nonZero = (value: number): number => (Math.abs(value) < 1e-300 ? 1e-300 : value)

/** Stirling's series, shifted up to where it is exact to 1e-12 (Abramowitz & Stegun 6.1.40). */
function logGamma(value: number): number {
  let [shifted, product] = [value, 1]
  while (shifted < 10) product *= shifted++
  const inverse = 1 / (shifted * shifted)
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse / 1680))) / shifted
  return (shifted - 0.5) * Math.log(shifted) - shifted + 0.5 * Math.log(2 * Math.PI) + series - Math.log(product)
}

const polynomial = (coefficients: readonly number[], at: number): number =>
  coefficients.reduce((sum, coefficient) => sum * at + coefficient, 0)

const TAIL = 0.02425
const UPPER = [1.330274429, -1.821255978, 1.781477937, -0.356563782, 0.31938153]
const A = [
  -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716, 2.506628277459239,
]
const B = [-54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572]
const C = [
  -0.007784894002400293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
]
const D = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416]

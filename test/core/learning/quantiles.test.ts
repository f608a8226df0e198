import { expect, test } from 'vitest'
import { betaQuantile, normalQuantile, student4Quantile } from '../../../core/chance/quantiles.ts'

// Tables of the normal and of Student's t: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1 and 1.3.6.7.2.
test.each([
  [0.5, 0],
  [0.8, 0.8416],
  [0.975, 1.96],
  [0.001, -3.0902],
  [0.99, 2.3263],
])('the normal value not exceeded with chance %f is %f', (chance, value) => {
  expect(normalQuantile(chance)).toBeCloseTo(value, 4)
})

test.each([
  [0.9, 1.533],
  [0.95, 2.132],
  [0.975, 2.776],
  [0.99, 3.747],
  [0.999, 7.173],
  [0.1, -1.533],
  [0.5, 0],
])('the value of t with 4 degrees not exceeded with chance %f is %f', (chance, value) => {
  expect(student4Quantile(chance)).toBeCloseTo(value, 3)
})

// Beta(a, 1) has the closed form p^(1/a), Beta(1, b) 1 - (1-p)^(1/b), Beta(2, 2) the cubic 3x^2 - 2x^3.
test.each([0.05, 0.3, 0.5, 0.8, 0.99])('rates agree with the closed forms at %f', (chance) => {
  expect(betaQuantile({ alpha: 18, beta: 1 }, chance)).toBeCloseTo(chance ** (1 / 18), 7)
  expect(betaQuantile({ alpha: 1, beta: 39 }, chance)).toBeCloseTo(1 - (1 - chance) ** (1 / 39), 7)
  const x = betaQuantile({ alpha: 2, beta: 2 }, chance)
  expect(3 * x ** 2 - 2 * x ** 3).toBeCloseTo(chance, 7)
})

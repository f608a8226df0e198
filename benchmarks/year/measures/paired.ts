import { mean } from './judged.ts'

/** A mean of ratios over shops with the half width of its 95 % interval, which comes from the shops, not from their orders. */
export interface Paired {
  readonly ratio: number
  /** Factor up and down; NaN with a single shop. */
  readonly within: number
}

/** How many times as large values are as others, shop by shop: geometric mean. */
export function pairedRatio(values: readonly number[], others: readonly number[]): Paired {
  const logs = values.map((value, shop) => Math.log(value / others[shop]!)).filter(Number.isFinite)
  const middle = mean(logs)
  const spread = Math.sqrt(logs.reduce((sum, log) => sum + (log - middle) ** 2, 0) / (logs.length - 1))
  return { ratio: Math.exp(middle), within: Math.exp((tAt975(logs.length - 1) * spread) / Math.sqrt(logs.length)) }
}

/** 97.5 % point of Student's t. @source the usual table, from memory; beyond it an interpolation in 1 / degrees */
function tAt975(degrees: number): number {
  const table = [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228]
  return degrees < 1 ? NaN : (table[degrees - 1] ?? 1.96 + 2.68 / degrees)
}

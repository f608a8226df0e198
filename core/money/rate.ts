import { failed, ok, problem, type Result } from '../problems.ts'
import { rounded } from './exact.ts'

/** A share in whole parts per million, so that no rate is a binary fraction: 8.875 % is 88,750. */
export type Ppm = number

export const WHOLE: Ppm = 1_000_000

/** A share of an amount, in whole minor units, exact halves away from zero. */
export const shareOf = (minor: number, rate: Ppm): number => rounded(BigInt(minor) * BigInt(rate), BigInt(WHOLE))

/** `8.875`, `8.875 %` or `8,875%` as parts per million; at most four decimals of a percent. */
export function readRate(text: string, { least = 0, most = 100 } = {}): Result<Ppm> {
  const match = /^\s*(\d{1,3})(?:[.,](\d{1,4}))?\s*%?\s*$/.exec(text)
  const ppm = match === null ? NaN : Number(match[1]) * 10_000 + Number((match[2] ?? '').padEnd(4, '0'))
  return Number.isNaN(ppm) || ppm < least * 10_000 || ppm > most * 10_000
    ? failed(problem('rate', `Enter a percentage from ${least} to ${most}, like 8.875.`))
    : ok(ppm)
}

/** As a percentage without needless zeros: `8.875%`. */
export const writeRate = (rate: Ppm): string => `${rate / 10_000}%`

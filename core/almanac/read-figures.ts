import type { Units } from '../constructions/construction.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import { readDuration, writeDuration } from '../time/duration.ts'
import type { LabelRange } from '../waits/product.ts'

/** A figure as it is typed in the almanac; a comma may stand for the decimal point. */
export function readNumber(text: string, label: string, least: number, most: number): Result<number> {
  const number = Number(text.trim().replace(',', '.'))
  if (text.trim() === '' || !Number.isFinite(number))
    return failed(problem('number', `${label}: “${text.trim()}” is not a number like 12.`))
  if (number < least || number > most)
    return failed(problem('out-of-range', `${label}: ${number} does not work, ${least} to ${most} do.`))
  return ok(number)
}

export function readWhole(text: string, label: string, least: number, most: number): Result<number> {
  const number = readNumber(text, label, least, most)
  if (!number.ok || Number.isInteger(number.value)) return number
  return failed(problem('number', `${label}: ${number.value} is not a whole number like 12.`))
}

/** `50%`, `50` and `0.5` are all a half. */
export function readFraction(text: string, label: string, least: number): Result<number> {
  const number = readNumber(text.replace('%', ''), label, 0, Infinity)
  if (!number.ok) return number
  const fraction = number.value > 1 || text.includes('%') ? number.value / 100 : number.value
  if (fraction > 1)
    return failed(problem('out-of-range', `${label}: ${text.trim()} is more than all there is, 100% is the most.`))
  if (fraction < least)
    return failed(problem('out-of-range', `${label}: ${text.trim()} is too little, at least ${writeFraction(least)}.`))
  return ok(fraction)
}

export const writeFraction = (fraction: number): string => `${Number((fraction * 100).toFixed(1))}%`

/** `68`, `68 °F`, `20 C`; without a letter in the scale of the shop's units. */
export function readTemperature(text: string, label: string, units: Units): Result<number> {
  const found = /^(-?\d+(?:[.,]\d+)?)\s*°?\s*([cf])?$/i.exec(text.trim())
  if (found === null)
    return failed(
      problem('temperature', `${label}: “${text.trim()}” is not a temperature: type it like 68 °F or 20 °C.`),
    )
  const degrees = Number((found[1] ?? '').replace(',', '.'))
  const scale = (found[2] ?? temperatureScale(units)).toUpperCase()
  const celsius = Math.round((scale === 'F' ? (degrees - 32) / 1.8 : degrees) * 100) / 100
  if (celsius < -30 || celsius > 50) {
    return failed(
      problem(
        'out-of-range',
        `${label}: ${text.trim()} is no shop anybody works in; ${writeTemperature(-30, units)} to ${writeTemperature(50, units)} do.`,
      ),
    )
  }
  return ok(celsius)
}

export const writeTemperature = (celsius: number, units: Units): string =>
  temperatureScale(units) === 'F' ? `${Math.round(celsius * 1.8 + 32)} °F` : `${Number(celsius.toFixed(1))} °C`

/** What is typed as it was shown keeps its exact figure, of which only the rounded one was shown. */
export const sameOr = (
  text: string,
  now: number | undefined,
  write: (value: number) => string,
  label: string,
  read: (text: string, label: string) => Result<number>,
): Result<number> => (now !== undefined && text.trim() === write(now) ? ok(now) : read(text, label))

const temperatureScale = (units: Units): 'C' | 'F' => (units === 'inch' ? 'F' : 'C')

/**
 * Elapsed time of a label: one figure, or the shortest, the usual and the longest, `30 min, 1 h, 2 h`. Two figures are the
 * shortest and the longest; a wait is planned with the longest, a deadline with the shortest.
 */
export function readRange(text: string, label: string, what: 'wait' | 'deadline'): Result<LabelRange> {
  const figures: number[] = []
  for (const part of text.split(/[,;]| to |–/)) {
    const duration = readDuration(part, 'h')
    if (!duration.ok)
      return failed(...duration.problems.map((one) => ({ ...one, message: `${label}: ${one.message}` })))
    figures.push(duration.value)
  }
  const [min = 0, second = min] = figures
  const third = figures[2] ?? second
  if (figures.length > 3 || min > second || second > third) {
    return failed(
      problem(
        'range',
        `${label}: write one time, or the shortest, the usual and the longest in that order: 30 min, 1 h, 2 h.`,
      ),
    )
  }
  const typical = figures.length === 2 && what === 'deadline' ? min : second
  return ok({ min, typical, max: third })
}

export function writeRange({ min, typical, max }: LabelRange): string {
  if (min === max) return writeDuration(typical)
  return [min, typical, max].map(writeDuration).join(', ')
}

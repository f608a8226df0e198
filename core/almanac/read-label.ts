import type { Units } from '../constructions/construction.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import { readDuration, writeDuration } from '../time/duration.ts'
import type { LabelRange } from '../waits/product.ts'
import type { TablePoint } from '../waits/temperature-response.ts'
import { readTemperature, writeTemperature } from './read-figures.ts'

/** @source arithmetic: 1 lb = 453.59237 g, 1 oz = 28.349523125 g, 1 sq ft = 0.09290304 m2 */
const GRAMS_PER_SQUARE_METRE = { 'lb/1000 ft2': 4.882427636383, 'oz/ft2': 305.15172727, 'g/m2': 1 } as const

/**
 * How far a glue goes, as its label prints it: `35-50 lb/1000 ft2`, `1 oz/ft2`, `150-200 g/m2`.
 * @returns grams per square metre; problem: `spread`
 */
export function readSpread(text: string): Result<LabelRange> {
  const typed = text
    .toLowerCase()
    .replaceAll(/\s+|\bper\b|,(?=\d{3}\b)/g, '')
    .replace(/²/g, '2')
    .replace(/sq\.?ft\.?|square(?:feet|foot)/, 'ft2')
  const [, low, high, unit = ''] =
    /^(\d+(?:\.\d+)?)(?:(?:-|–|to)(\d+(?:\.\d+)?))?(lb|lbs|oz|g)?\/?.*$/.exec(typed) ?? []
  const perArea = /1000ft2|msf/.test(typed) ? 'lb/1000 ft2' : /ft2/.test(typed) ? 'oz/ft2' : 'g/m2'
  const fits =
    (perArea === 'lb/1000 ft2' && unit.startsWith('lb')) ||
    (perArea === 'oz/ft2' && unit === 'oz') ||
    (perArea === 'g/m2' && unit === 'g' && /m2$/.test(typed))
  const factor = GRAMS_PER_SQUARE_METRE[perArea]
  const [min, max] = [Number(low) * factor, Number(high ?? low) * factor]
  if (!fits || !(min > 0 && min <= max && max <= 2000))
    return failed(problem('spread', 'Type how far it goes, like 40 lb/1000 ft2, 1 oz/ft2 or 180 g/m2.'))
  return ok({ min, typical: (min + max) / 2, max })
}

/** A difference of temperature, in degrees of the shop's scale: `10`, `18 F`, `10 C`. @returns degrees Celsius */
export function readInterval(text: string, units: Units): Result<number> {
  const [, figure, scale] = /^(\d+(?:[.,]\d+)?)\s*°?\s*([cf])?$/i.exec(text.trim()) ?? []
  const degrees = Number((figure ?? '').replace(',', '.'))
  const inF = (scale ?? (units === 'inch' ? 'f' : 'c')).toLowerCase() === 'f'
  const celsius = inF ? degrees / 1.8 : degrees
  return figure !== undefined && celsius >= 1 && celsius <= 30
    ? ok(celsius)
    : failed(problem('interval', 'Type the step that doubles its time, like 18 °F or 10 °C.'))
}

/**
 * Clamp times as a label prints them by temperature, warmer ones shorter: `50 F 2 h, 70 F 1 h`. Empty: none.
 * @returns cold to warm; problem: `table`
 */
export function readTable(text: string, units: Units): Result<readonly TablePoint[]> {
  if (text.trim() === '') return ok([])
  const points: TablePoint[] = []
  for (const entry of text.split(/[,;\n]/)) {
    const [, degrees = '', time = ''] = /^\s*(-?\d+(?:\.\d+)?\s*°?\s*[cf]?)\s*[:=]?\s+(\S.*)$/i.exec(entry) ?? []
    const [celsius, minutes] = [readTemperature(degrees, 'Table', units), readDuration(time, 'h')]
    if (!celsius.ok || !minutes.ok) return failed(problem('table', TABLE_EXAMPLE))
    points.push({ celsius: celsius.value, minutes: minutes.value })
  }
  const sorted = points.toSorted((a, b) => a.celsius - b.celsius)
  const falls = sorted.every(
    ({ celsius, minutes }, index) =>
      minutes > 0 &&
      (index === 0 || (celsius > (sorted[index - 1]?.celsius ?? 0) && minutes <= (sorted[index - 1]?.minutes ?? 0))),
  )
  return points.length >= 2 && falls
    ? ok(sorted)
    : failed(problem('table', 'Two or more, each warmer one no longer, like 50 °F 2 h, 70 °F 1 h.'))
}

const TABLE_EXAMPLE = 'Type temperature and time in pairs, like 50 °F 2 h, 70 °F 1 h.'

export const writeTable = (table: readonly TablePoint[] | undefined, units: Units): string =>
  (table ?? [])
    .map(
      ({ celsius, minutes }) =>
        `${units === 'inch' ? writeTemperature(celsius, units) : `${celsius} °C`} ${writeDuration(minutes)}`,
    )
    .join(', ')

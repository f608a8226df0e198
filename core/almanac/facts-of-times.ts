import type { StandardTime } from '../constructions/shop-facts.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { OWN, type FactKind, type Slot } from './fact.ts'
import { readNumber } from './read-figures.ts'

/** Setup, time per unit and spread of every operation. */
export const standardTimeSlots = (almanac: Almanac): Slot[] =>
  almanac.standardTimes.flatMap((time) => {
    const set = (change: Partial<StandardTime>): Result<Almanac> =>
      ok({
        ...almanac,
        standardTimes: almanac.standardTimes.map((one) =>
          one.operation === time.operation ? { ...one, ...change, source: OWN } : one,
        ),
      })
    const slot = (
      key: string,
      label: string,
      kind: FactKind,
      unit: string,
      value: string,
      change: Slot['change'],
    ): Slot => ({
      key: `standard-times.${time.operation}.${key}`,
      group: 'standard-times',
      about: time.name,
      label,
      kind,
      unit,
      value,
      source: time.source,
      choices: [],
      change,
    })
    const minutes = (text: string, label: string, least: number): Result<number> =>
      readNumber(text.replace(/\s*min$/, ''), label, least, 10_000)
    return [
      slot('setUp', 'Setup', 'minutes', 'min', figure(time.setUpMin), (text) => {
        const read = minutes(text, `${time.name}, setup`, 0)
        return read.ok ? set({ setUpMin: Math.round(read.value) }) : read
      }),
      slot('perUnit', `Each ${time.unit}`, 'minutes', 'min', figure(time.perUnitMin), (text) => {
        const read = minutes(text, `${time.name}, each ${time.unit}`, 0.01)
        return read.ok ? set({ perUnitMin: read.value }) : read
      }),
      slot(
        'spread',
        'Between',
        'spread',
        'times that',
        `${figure(time.optimisticFactor)} to ${figure(time.pessimisticFactor)}`,
        (text) => {
          const read = readSpread(text, time.name)
          return read.ok ? set({ optimisticFactor: read.value.best, pessimisticFactor: read.value.worst }) : read
        },
      ),
    ]
  })

function readSpread(text: string, name: string): Result<{ readonly best: number; readonly worst: number }> {
  const [best, worst, ...more] = text.split(/\s*(?:to|-|–|;)\s*/).map((part) => Number(part.trim().replace(',', '.')))
  if (
    best === undefined ||
    worst === undefined ||
    more.length > 0 ||
    !(best > 0) ||
    !(best <= 1) ||
    !(worst >= 1) ||
    worst > 20
  ) {
    return failed(
      problem(
        'spread',
        `${name}, between: write the best and the worst day as parts of the usual, such as 0.75 to 1.5.`,
      ),
    )
  }
  return ok({ best, worst })
}

const figure = (value: number): string => String(Number(value.toFixed(2)))

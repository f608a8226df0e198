import { isDeepStrictEqual } from 'node:util'
import type { StandardTime } from '../core/constructions/shop-facts.ts'
import type { StandardTimeRow } from './almanac-tables.ts'

/** Before the temperature of a point of a label's own table, among its figures. */
export const TABLE_AT = 'clamps at C '

export const alone = (minutes: number) => ({ min: minutes, typical: minutes, max: minutes })

export function ownStandardTimes(times: readonly StandardTime[], starting: readonly StandardTime[]): StandardTimeRow[] {
  const built = new Map(starting.map((time) => [time.operation, time]))
  return times
    .filter((time) => !isDeepStrictEqual(time, built.get(time.operation)))
    .map((time) => ({
      operation: time.operation,
      name: time.name,
      set_up_min: time.setUpMin,
      family: time.family,
      per_unit_min: time.perUnitMin,
      unit: time.unit,
      optimistic_factor: time.optimisticFactor,
      pessimistic_factor: time.pessimisticFactor,
      source: time.source,
    }))
}

/** The built-in times in their order, each as the maker has it, and then the maker's own operations. */
export function standardTimesOfRows(
  rows: readonly StandardTimeRow[],
  starting: readonly StandardTime[],
): StandardTime[] {
  const own = new Map(rows.map((row) => [row.operation, standardTimeOf(row)]))
  const builtIn = new Set(starting.map((time) => time.operation))
  return [
    ...starting.map((time) => own.get(time.operation) ?? time),
    ...[...own.values()].filter((time) => !builtIn.has(time.operation)),
  ]
}

const standardTimeOf = (row: StandardTimeRow): StandardTime => ({
  operation: row.operation,
  name: row.name,
  setUpMin: row.set_up_min,
  family: row.family,
  perUnitMin: row.per_unit_min,
  unit: row.unit,
  optimisticFactor: row.optimistic_factor,
  pessimisticFactor: row.pessimistic_factor,
  source: row.source,
})

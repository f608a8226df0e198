import { problem, type Problem, type Result } from '../problems.ts'
import type { Almanac, Station, StationKind } from './almanac.ts'
import { readWhole } from './read-figures.ts'
import { unlessProblems, idOf, requiredName, refuseTwice, take } from './read-listed.ts'

export interface StationInput {
  readonly id: string
  readonly name: string
  readonly kind: string
  readonly capacity: string
}

export const STATION_KINDS: readonly { readonly kind: StationKind; readonly name: string; readonly counted: string }[] =
  [
    { kind: 'clamps', name: 'Clamps', counted: 'clamps' },
    { kind: 'rack', name: 'Drying rack', counted: 'places' },
    { kind: 'glue-up-bench', name: 'Glue-up bench', counted: 'glue-ups at once' },
    { kind: 'finishing-corner', name: 'Finishing corner', counted: 'coats at once' },
    { kind: 'other', name: 'Other', counted: 'at once' },
  ]

/** Of each kind but 'other' there is one: constructions ask for it by what it is for. */
export function readStation(input: StationInput, almanac: Almanac): Result<Station> {
  const problems: Problem[] = []
  const name = requiredName(input.name, 'What is it called? Type a name.', problems)
  refuseTwice(almanac.stations, input.id, name, problems)
  const kind = STATION_KINDS.find((one) => one.kind === input.kind)
  if (kind === undefined) problems.push(problem('kind', 'Choose what it is for.', 'kind'))
  const same = almanac.stations.find((one) => one.kind === kind?.kind && one.kind !== 'other' && one.id !== input.id)
  if (same !== undefined)
    problems.push(problem('kind', `“${same.name}” is that already: change its number instead.`, 'kind'))
  const capacity =
    take(readWhole(input.capacity, `How many ${kind?.counted ?? 'at once'}`, 1, 9999), 'capacity', problems) ?? 1
  return unlessProblems(
    { id: idOf(input.id, name, almanac.stations), name, kind: kind?.kind ?? 'other', capacity },
    problems,
  )
}

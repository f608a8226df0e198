import { problem, type Problem, type Result } from '../problems.ts'
import { species } from '../wood/species.ts'
import type { Almanac, WoodOnOffer } from './almanac.ts'
import { unlessProblems, idOf, requiredName, refuseTwice } from './read-listed.ts'

export interface WoodInput {
  readonly id: string
  readonly name: string
  readonly species: string
}

export function readWood(input: WoodInput, almanac: Almanac): Result<WoodOnOffer> {
  const problems: Problem[] = []
  const name = requiredName(input.name, 'What are customers told? Type a name.', problems)
  refuseTwice(almanac.woods, input.id, name, problems)
  if (species(input.species) === null) {
    problems.push(problem('species', 'Choose the nearest species: movement and weight follow it.', 'species'))
  }
  return unlessProblems({ id: idOf(input.id, name, almanac.woods), name, species: input.species }, problems)
}

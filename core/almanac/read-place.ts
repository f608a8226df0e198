import { problem, type Problem, type Result } from '../problems.ts'
import { readDuration, writeDuration } from '../time/duration.ts'
import type { PlaceKind } from '../waits/drying-place.ts'
import type { Almanac, DryingPlace } from './almanac.ts'
import { readFraction, readTemperature, readWhole, writeFraction, writeTemperature } from './read-figures.ts'
import { unlessProblems, idOf, requiredName, refuseTwice, take } from './read-listed.ts'

/** A place to dry as its form holds it. */
export interface PlaceInput {
  readonly id: string
  readonly name: string
  readonly kind: string
  readonly temperature: string
  readonly humidity: string
  readonly capacity: string
  readonly carry: string
  readonly inPlans: boolean
}

export const PLACE_KINDS: readonly { readonly kind: PlaceKind; readonly name: string; readonly about: string }[] = [
  { kind: 'room', name: 'Heated room', about: 'Nobody lives or eats there.' },
  { kind: 'house', name: 'House', about: 'No solvent, no formaldehyde: people live there.' },
  { kind: 'warm-box', name: 'Warm box', about: 'Closed, with a heater: no solvent near it.' },
]

/** Problems: `name-missing`, `name-twice`, `kind`, and those of its figures, each with its field. */
export function readPlace(input: PlaceInput, almanac: Almanac): Result<DryingPlace> {
  const problems: Problem[] = []
  const { units } = almanac.shop
  const known = almanac.places.find(({ id }) => id === input.id)
  const name = requiredName(input.name, 'What do you call it? Like: Boiler room.', problems)
  refuseTwice(almanac.places, input.id, name, problems)
  const kind = PLACE_KINDS.find((one) => one.kind === input.kind)?.kind
  if (kind === undefined) problems.push(problem('kind', 'Choose a room, the house or a box.', 'kind'))
  const typed = input.temperature.trim()
  const celsius =
    known !== undefined && typed === writeTemperature(known.celsius, units)
      ? known.celsius
      : take(readTemperature(typed, 'Temperature', units), 'temperature', problems)
  const rh = take(readFraction(input.humidity, 'Humidity', 0.05), 'humidity', problems)
  const capacity = take(readWhole(input.capacity, 'Pieces at once', 1, 999), 'capacity', problems)
  const carryMin = take(readDuration(input.carry, 'min'), 'carry', problems)
  if (carryMin !== null && carryMin > MOST_CARRYING_MIN)
    problems.push(problem('too-far', `Too far to carry: ${writeDuration(MOST_CARRYING_MIN)} at most.`, 'carry'))
  return unlessProblems(
    {
      ...{ id: idOf(input.id, name, almanac.places), name, kind: kind ?? 'room' },
      ...{ celsius: celsius ?? 20, rh: Math.min(0.95, rh ?? 0.5), capacity: capacity ?? 1 },
      ...{ carryMin: carryMin ?? 0, inPlans: input.inPlans },
    },
    problems,
  )
}

/** An hour each way is a trip, not a walk. */
const MOST_CARRYING_MIN = 60

/** A place as its form starts with it; read back unchanged, it is the same place. */
export const placeInput = (place: DryingPlace | null, units: Almanac['shop']['units']): PlaceInput =>
  place === null
    ? {
        ...{ id: '', name: '', kind: 'room', temperature: writeTemperature(20, units), humidity: writeFraction(0.45) },
        ...{ capacity: '4', carry: writeDuration(5), inPlans: true },
      }
    : {
        ...{ id: place.id, name: place.name, kind: place.kind, inPlans: place.inPlans },
        temperature: writeTemperature(place.celsius, units),
        humidity: writeFraction(place.rh),
        capacity: String(place.capacity),
        carry: writeDuration(place.carryMin),
      }

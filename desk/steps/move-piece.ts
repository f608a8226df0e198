import type { OpenWait } from '../../core/book/open-waits.ts'
import { placeAt } from '../../core/book/stays.ts'
import { placeStation, type PlaceForWaits } from '../../core/book/where-it-dries.ts'
import { failed, problem, type Problem, type Result } from '../../core/problems.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { waitHere } from './wait-here.ts'
import { pressStep } from './log-step.ts'
import type { Moved } from '../moved.ts'

/** A place where a waiting piece may be carried; `place` null: back into the shop. */
export interface MoveOffered {
  readonly place: string | null
  readonly name: string
  readonly readyAt: number | null
}

/**
 * What waits after a step is carried to a place of the almanac, or back into the shop (null). What the glue or finish gives off may
 * forbid it, and a full place.
 * Problems: `nothing-waits`, `unknown-place`, `there-already`, `place-full`, `not-in-the-house`, `not-near-a-heater`.
 */
export function movePiece(shop: OpenShop, stepId: string, placeId: string | null): Promise<Result<Moved>> {
  const moment = shop.moment()
  const wait = moment.lotOf(stepId)?.waits.find(({ from }) => from.id === stepId)
  if (wait === undefined)
    return Promise.resolve(failed(problem('nothing-waits', 'Nothing waits there any more. Look at the Rack again.')))
  const place = moment.setting.places.find(({ id }) => id === placeId)
  if (placeId !== null && place === undefined)
    return Promise.resolve(failed(problem('unknown-place', 'The Almanac has no such place. Add it under Stations.')))
  const against = place === undefined ? null : holdOf(wait, place, moment)
  if (against !== null) return Promise.resolve(failed(against))
  const word = place === undefined ? 'Carried back into the shop, after' : `Carried off to dry (${place.name}), after`
  return pressStep(shop, { stepId, makerId: null }, { kind: 'moved', place: placeId }, word, () =>
    placeOf(wait, moment) === placeId ? problem('there-already', 'It is there already.') : null,
  )
}

/** Where a waiting piece could be carried with one press, and when it would be ready there; best first. */
export function movesOf(wait: OpenWait, moment: Moment): readonly MoveOffered[] {
  const here = placeOf(wait, moment)
  if (wait.lag.product === null) return []
  const back = here === null ? [] : [{ place: null, name: 'Shop', readyAt: readyIf(wait, null, moment) }]
  const elsewhere = moment.setting.places
    .filter((place) => place.id !== here && holdOf(wait, place, moment) === null)
    .map((place) => ({ place: place.id, name: place.name, readyAt: readyIf(wait, place.id, moment) }))
    .sort((a, b) => (a.readyAt ?? Infinity) - (b.readyAt ?? Infinity))
  return [...elsewhere, ...back]
}

/** Place of the almanac in which it is now; null: in the shop. */
const placeOf = ({ from }: OpenWait, moment: Moment): string | null => placeAt(moment.stays(from.id), moment.now)

function holdOf({ lag, from }: OpenWait, place: PlaceForWaits, moment: Moment): Problem | null {
  const fumes = lag.product === null ? null : place.holdOf(lag.product)
  if (fumes !== null) return fumes
  const free = place.capacity - moment.used(placeStation(place.id))
  if (free >= moment.piecesLeft(from)) return null
  return problem('place-full', `No room there: ${place.name} takes ${place.capacity}. Bring one back first.`)
}

function readyIf(wait: OpenWait, place: string | null, moment: Moment): number | null {
  const stays = [...moment.stays(wait.from.id), { from: moment.now, place }]
  return waitHere(wait.lag, wait.sinceAt, { ...moment, stays: () => stays }).overAt
}

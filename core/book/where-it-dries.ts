import type { CureClock, WaitKind } from '../planning/index.ts'
import type { Problem } from '../problems.ts'
import type { Application } from '../almanac/application.ts'
import type { BookLag, BookStep } from './book.ts'
import { endOfWait } from './wait-over.ts'
import type { Stay } from './stays.ts'
import { placeAt } from './stays.ts'
import { untouched, type StepProgress } from './step-progress.ts'

/** A place beside the shop as plans and the Rack need it. */
export interface PlaceForWaits {
  readonly id: string
  readonly name: string
  /** Pieces that stand there at once. */
  readonly capacity: number
  /** Minutes there, and as many back. */
  readonly carryMin: number
  readonly inPlans: boolean
  /** The shop's dust does not get there. */
  readonly dustFree: boolean
  /** Why this glue or finish should not dry there; null: nothing speaks against it. */
  readonly holdOf: (product: string) => Problem | null
}

/** What is asked of the shop to choose a place. */
export interface AirOfPlaces {
  readonly now: number
  readonly places: readonly PlaceForWaits[]
  readonly clockOf: (product: string, wait: WaitKind, stays?: readonly Stay[]) => CureClock
  readonly applicationOf: (product: string, dryingIn?: string | null) => Application | null
}

/** Plans carry a piece where it is ready so much sooner: less is not worth a walk. @source our own reading: one night */
export const WORTH_CARRYING_MIN = 12 * 60

/** Id under which the room in a place is planned with; never that of a station. */
export const placeStation = (place: string): string => `place ${place}`

/**
 * The place where each step's piece dries after it, by step: where it stands by the log, else where the plan has it carried, because
 * the maker allows it, the glue or finish may dry there, and it is ready half a day sooner than in the shop. Others stay in the shop.
 */
export function placesOfWaits(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  progress: ReadonlyMap<string, StepProgress>,
  setting: AirOfPlaces,
): ReadonlyMap<string, PlaceForWaits> {
  const found = new Map<string, PlaceForWaits>()
  if (setting.places.length === 0) return found
  const waits = Map.groupBy(
    lags.filter(({ product, wait, minMin }) => product !== null && wait !== 'none' && minMin > 0),
    ({ fromStep }) => fromStep,
  )
  for (const step of steps) {
    const after = waits.get(step.id)
    if (after === undefined) continue
    const own = progress.get(step.id) ?? untouched
    const place =
      own.kind === 'done'
        ? setting.places.find(({ id }) => id === placeAt(own.stays, Infinity))
        : placeWorthIt(step, after, setting)
    if (place !== undefined) found.set(step.id, place)
  }
  return found
}

function placeWorthIt(step: BookStep, waits: readonly BookLag[], setting: AirOfPlaces): PlaceForWaits | undefined {
  const inShop = readyFrom(waits, setting, null)
  return setting.places
    .filter(({ inPlans, capacity, holdOf }) => inPlans && capacity >= step.lotCount && mayDry(waits, holdOf))
    .map((place) => ({ place, at: readyFrom(waits, setting, place.id) + 2 * place.carryMin }))
    .filter(({ at }) => inShop - at >= WORTH_CARRYING_MIN)
    .reduce<{ place: PlaceForWaits; at: number } | undefined>(
      (best, one) => (best === undefined || one.at < best.at ? one : best),
      undefined,
    )?.place
}

const mayDry = (waits: readonly BookLag[], holdOf: PlaceForWaits['holdOf']): boolean =>
  waits.every(({ product }) => product === null || holdOf(product) === null)

/** When the longest of these waits would be over, were it put on as soon as the air allows. */
function readyFrom(waits: readonly BookLag[], setting: AirOfPlaces, place: string | null): number {
  const stays = place === null ? [] : [{ from: 0, place }]
  return Math.max(
    ...waits.map(({ product, wait, minMin }) => {
      if (product === null) return setting.now + minMin
      const windows = setting.applicationOf(product, place)?.windows
      const open = windows === undefined ? setting.now : windows.find(({ to }) => to > setting.now)?.from
      if (open === undefined) return Infinity
      return endOfWait(Math.max(open, setting.now), minMin, setting.clockOf(product, wait, stays)) ?? Infinity
    }),
  )
}

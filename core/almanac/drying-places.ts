import type { PlaceForWaits } from '../book/where-it-dries.ts'
import { placeHold } from '../waits/drying-place.ts'
import type { Almanac } from './almanac.ts'

/** The places of the almanac, each with what may dry in it. */
export const dryingPlaces = ({ places, glues, finishes }: Almanac): readonly PlaceForWaits[] =>
  places.map(({ id, name, kind, capacity, carryMin, inPlans }) => ({
    ...{ id, name, capacity, carryMin, inPlans },
    dustFree: kind !== 'warm-box',
    holdOf: (product) => {
      const found = [...glues, ...finishes].find((one) => one.id === product)
      return found === undefined ? null : placeHold(found, kind)
    },
  }))

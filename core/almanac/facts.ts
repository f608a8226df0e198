import { failed, problem, within, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import type { AlmanacFact, Slot } from './fact.ts'
import { airSlots } from './facts-of-air.ts'
import { allowanceSlots } from './facts-of-allowances.ts'
import { peopleSlots } from './facts-of-people.ts'
import { productSlots } from './facts-of-products.ts'
import { shopSlots } from './facts-of-shop.ts'
import { moneySlots } from './facts-of-money.ts'
import { stationSlots } from './facts-of-stations.ts'
import { standardTimeSlots } from './facts-of-times.ts'
import { yardSlots } from './facts-of-yard.ts'

/**
 * Every single figure of the almanac. Makers, special days and what is on the shelves are lists; see `lists.ts`.
 * @param starting the almanac of a new shop in the same place, for the defaults
 */
export function almanacFacts(almanac: Almanac, starting: Almanac): readonly AlmanacFact[] {
  const defaults = new Map(slotsOf(starting).map((slot) => [slot.key, slot.value]))
  return slotsOf(almanac).map(({ change: _, ownDefault, ...slot }) => ({
    ...slot,
    default: ownDefault ?? defaults.get(slot.key) ?? null,
  }))
}

/** The almanac with one fact as typed; an empty text on a clock of a product goes back to its class. */
export function changeFact(almanac: Almanac, key: string, input: string): Result<Almanac> {
  const slot = slotsOf(almanac).find((one) => one.key === key)
  if (slot === undefined) return failed(problem('fact-unknown', 'The almanac has no such fact.', key))
  const changed = slot.change(input)
  return changed.ok
    ? changed
    : failed(...changed.problems.map((one) => within(key, { code: one.code, message: one.message })))
}

const slotsOf = (almanac: Almanac): Slot[] => [
  ...shopSlots(almanac),
  ...airSlots(almanac),
  ...stationSlots(almanac),
  ...peopleSlots(almanac),
  ...productSlots(almanac, 'glues'),
  ...productSlots(almanac, 'finishes'),
  ...yardSlots(almanac),
  ...moneySlots(almanac),
  ...standardTimeSlots(almanac),
  ...allowanceSlots(almanac),
]

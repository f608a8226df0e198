import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import type { Units } from '../../../core/constructions/construction.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'

/** A new shop's facts, changed where a test says so. */
export function aShop({
  units = 'inch',
  with: change = (almanac) => almanac,
  builtAt = 0,
}: { units?: Units; with?: (almanac: Almanac) => Almanac; builtAt?: number } = {}): ShopFacts {
  return shopFactsOf(change(startingAlmanac({ timeZone: 'America/Chicago', units, currency: 'USD' })), builtAt)
}

export const withClamps =
  (capacity: number) =>
  (almanac: Almanac): Almanac =>
    withStation(almanac, 'clamps', capacity)

export const withRack =
  (capacity: number) =>
  (almanac: Almanac): Almanac =>
    withStation(almanac, 'rack', capacity)

const withStation = (almanac: Almanac, kind: string, capacity: number): Almanac => ({
  ...almanac,
  stations: almanac.stations.map((station) => (station.kind === kind ? { ...station, capacity } : station)),
})

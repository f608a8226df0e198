import { ok } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { OWN, PRACTICE, type Slot } from './fact.ts'
import { readWhole } from './read-figures.ts'
import { STATION_KINDS } from './read-station.ts'

/** How many clamps, places on the rack and so on. */
export const stationSlots = (almanac: Almanac): Slot[] => [
  ...almanac.stations.map((station): Slot => {
    const counted = STATION_KINDS.find((one) => one.kind === station.kind)?.counted ?? 'at once'
    return {
      key: `stations.${station.id}.capacity`,
      group: 'stations',
      about: '',
      label: station.name,
      kind: 'count',
      unit: counted,
      value: String(station.capacity),
      source: OWN,
      choices: [],
      change: (text) => {
        const capacity = readWhole(text, station.name, 1, 9999)
        if (!capacity.ok) return capacity
        const stations = almanac.stations.map((one) =>
          one.id === station.id ? { ...one, capacity: capacity.value } : one,
        )
        return ok({ ...almanac, stations })
      },
    }
  }),
  clampForce(almanac),
]

const NEWTONS_PER_POUND = 4.448222

/** In pounds where sizes are in inches, else in newtons. @source common practice, no source: a bar clamp tightened by hand */
function clampForce(almanac: Almanac): Slot {
  const label = 'One clamp presses with'
  const perUnit = almanac.shop.units === 'inch' ? NEWTONS_PER_POUND : 1
  const value = String(Math.round(almanac.clampForceN / perUnit))
  return {
    ...{ key: 'stations.clampForce', group: 'stations', about: '', label, kind: 'count', value, choices: [] },
    unit: perUnit === 1 ? 'newtons' : 'pounds',
    source: PRACTICE,
    change: (text) => {
      if (text.trim() === value) return ok(almanac)
      const force = readWhole(text, label, 20, 100_000)
      return force.ok ? ok({ ...almanac, clampForceN: Math.round(force.value * perUnit) }) : force
    },
  }
}

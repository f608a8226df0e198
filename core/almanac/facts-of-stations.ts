import { ok } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { OWN, type Slot } from './fact.ts'
import { readWhole } from './read-figures.ts'
import { STATION_KINDS } from './read-station.ts'

/** How many clamps, places on the rack and so on. */
export const stationSlots = (almanac: Almanac): Slot[] =>
  almanac.stations.map((station) => {
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
  })

import type { Moment } from '../moment.ts'

/** The places that are held in the name of these steps: `Clamps 1–4, Drying rack 3`; empty: none. */
export function placesInWords(steps: Iterable<string>, moment: Moment): string {
  const stepIds = new Set(steps)
  const byStation = Map.groupBy(
    moment.places.filter((place) => stepIds.has(place.stepId)),
    (place) => place.station,
  )
  return moment.almanac.stations
    .flatMap((station) => {
      const units = (byStation.get(station.id) ?? []).flatMap((place) => place.units).sort((a, b) => a - b)
      if (units.length === 0) return []
      const there = units.filter((unit) => unit <= station.capacity)
      const more = units.length - there.length
      const [numbers, beyond] = [writeRuns(there), `${more} more than there are`]
      if (more > 0) return [there.length === 0 ? `${station.name}: ${beyond}` : `${station.name} ${numbers}, ${beyond}`]
      return [station.capacity === 1 ? station.name : `${station.name} ${numbers}`]
    })
    .join(', ')
}

/** Runs of neighbours: 1, 2, 3, 5 is `1–3, 5`. */
function writeRuns(numbers: readonly number[]): string {
  const runs: [number, number][] = []
  for (const number of numbers) {
    const last = runs.at(-1)
    if (last && last[1] === number - 1) last[1] = number
    else runs.push([number, number])
  }
  return runs.map(([from, to]) => (from === to ? String(from) : `${from}–${to}`)).join(', ')
}

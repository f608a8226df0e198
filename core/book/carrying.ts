import { untouched, type StepProgress } from './step-progress.ts'
import type { BookLag, BookStep } from './book.ts'
import type { Stay } from './stays.ts'
import { placeStation, type PlaceForWaits } from './where-it-dries.ts'

/** Pieces carried about: where each step's piece dries after it, and the minutes that carrying adds to steps. */
export interface Carrying {
  readonly place: ReadonlyMap<string, PlaceForWaits>
  readonly minutes: ReadonlyMap<string, number>
  /** The step that takes the piece up again: the first that its waits lead to. */
  readonly backAt: ReadonlyMap<string, BookStep>
}

/** A step carries its piece away at its end; the first one that waits for it fetches the piece before it begins. */
export function carriedBy(
  steps: readonly BookStep[],
  lags: readonly Pick<BookLag, 'fromStep' | 'toStep' | 'wait'>[],
  place: ReadonlyMap<string, PlaceForWaits>,
): Carrying {
  const minutes = new Map<string, number>()
  const backAt = new Map<string, BookStep>()
  if (place.size === 0) return { place, minutes, backAt }
  const byId = new Map(steps.map((step) => [step.id, step]))
  for (const { fromStep, toStep, wait } of lags) {
    const to = byId.get(toStep)
    if (to === undefined || wait === 'none' || !place.has(fromStep)) continue
    if (to.position < (backAt.get(fromStep)?.position ?? Infinity)) backAt.set(fromStep, to)
  }
  const add = (step: string, more: number): unknown => minutes.set(step, (minutes.get(step) ?? 0) + more)
  for (const [step, { carryMin }] of place) {
    add(step, carryMin)
    const back = backAt.get(step)
    if (back !== undefined) add(back.id, carryMin)
  }
  return { place, minutes, backAt }
}

/** Where the piece of a step is until what follows: as it was carried by the log, else as it is planned. */
export function staysOf(
  step: string,
  progress: ReadonlyMap<string, StepProgress>,
  { place }: Pick<Carrying, 'place'>,
): readonly Stay[] {
  const own = progress.get(step) ?? untouched
  if (own.kind === 'done') return own.stays
  const planned = place.get(step)
  return planned === undefined ? [] : [{ from: 0, place: planned.id }]
}

/** What a step holds; a piece that dries elsewhere leaves the rack free and takes its room there. @param rack station of the shop's rack */
export function dryingHolds(step: BookStep, { place, backAt }: Carrying, rack: string | null): BookStep['holds'] {
  const there = place.get(step.id)
  const back = backAt.get(step.id)
  if (there === undefined || back === undefined) return step.holds
  const station = placeStation(there.id)
  const inClamps = step.holds.filter((hold) => hold.station !== rack)
  const onRack = step.holds.find((hold) => hold.station === rack)
  return [
    ...inClamps,
    onRack === undefined
      ? { station, units: step.lotCount, until: { kind: 'start-of' as const, step: back.key } }
      : { ...onRack, station },
  ]
}

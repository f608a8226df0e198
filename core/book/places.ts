import type { BookStep } from './book.ts'
import type { Stay } from './stays.ts'
import type { StepProgress } from './step-progress.ts'

/** Where a step's piece stands: numbered units of a station, from 1. */
export interface PlaceHeld {
  readonly station: string
  readonly stepId: string
  readonly units: readonly number[]
}

/**
 * Numbers every unit that is held now. Who came first took the lowest free numbers, so a piece keeps its place for as
 * long as it stays; replayed from the log, nothing is stored. What was carried elsewhere leaves the rack free.
 * @param rack station on which coats dry in the shop
 */
export function placesHeld(
  steps: readonly BookStep[],
  progress: ReadonlyMap<string, StepProgress>,
  now: number,
  rack: string | null = null,
): PlaceHeld[] {
  const stays = steps
    .flatMap((step) =>
      step.holds.flatMap((hold) => {
        const held = heldBy(step, hold, steps, progress, now)
        return held === null || hold.station !== rack ? (held ?? []) : inShop(held, progress.get(step.id)?.stays ?? [])
      }),
    )
    .sort((a, b) => a.from - b.from || a.to - b.to)
  const placed: (PlaceHeld & { readonly to: number })[] = []
  for (const stay of stays) {
    const taken = new Set(
      placed.filter((other) => other.station === stay.station && other.to > stay.from).flatMap((other) => other.units),
    )
    const units: number[] = []
    for (let unit = 1; units.length < stay.units; unit++) if (!taken.has(unit)) units.push(unit)
    placed.push({ station: stay.station, stepId: stay.stepId, units, to: stay.to })
  }
  return placed.filter((place) => place.to > now).map(({ station, stepId, units }) => ({ station, stepId, units }))
}

/**
 * Units of a station that a step finds free: what is taken by nobody, and what it frees itself by being started. The pieces that it
 * takes up stand in places of their own until then, so those are never in its way.
 * @param holders the steps that the places are held for, by id
 */
export function unitsFreeFor(
  step: Pick<BookStep, 'pieceId' | 'lot' | 'key'>,
  station: { readonly id: string; readonly capacity: number },
  places: readonly PlaceHeld[],
  holders: (stepId: string) => BookStep | undefined,
): number {
  const taken = places
    .filter((place) => place.station === station.id)
    .reduce((sum, place) => sum + place.units.length, 0)
  const freed = new Set(places.filter((place) => place.station === station.id).map(({ stepId }) => stepId))
  const own = [...freed].flatMap((stepId) => {
    const holder = holders(stepId)
    return holder !== undefined && holder.pieceId === step.pieceId && holder.lot === step.lot ? holder.holds : []
  })
  return own
    .filter(({ station: id, until }) => id === station.id && until.kind === 'start-of' && until.step === step.key)
    .reduce((free, { units }) => free + units, station.capacity - taken)
}

interface Held {
  readonly station: string
  readonly stepId: string
  readonly units: number
  readonly from: number
  readonly to: number
}

/** The stretches of it that were spent in the shop. */
const inShop = (held: Held, stays: readonly Stay[]): Held[] =>
  [{ from: held.from, place: null }, ...stays].flatMap(({ from, place }, index) => {
    const to = Math.min(held.to, stays[index]?.from ?? held.to)
    return place === null && from < to ? [{ ...held, from, to }] : []
  })

function heldBy(
  step: BookStep,
  hold: BookStep['holds'][number],
  steps: readonly BookStep[],
  progress: ReadonlyMap<string, StepProgress>,
  now: number,
): Held | null {
  const own = progress.get(step.id)
  if (!own || own.kind === 'to-do') return null
  const { until } = hold
  const other =
    until.kind === 'start-of' || until.kind === 'end-of' ? keyed(step, until.step, steps, progress) : undefined
  const freed =
    until.kind === 'end'
      ? own.kind === 'done'
        ? own.endedAt
        : null
      : until.kind === 'after'
        ? own.kind === 'done'
          ? own.endedAt + until.minutes
          : null
        : until.kind === 'start-of'
          ? other && other.kind !== 'to-do'
            ? other.startedAt
            : null
          : other?.kind === 'done'
            ? other.endedAt
            : null
  const to = freed ?? Infinity
  return to <= own.startedAt && to <= now
    ? null
    : { station: hold.station, stepId: step.id, units: hold.units, from: own.startedAt, to }
}

const keyed = (
  step: BookStep,
  key: string,
  steps: readonly BookStep[],
  progress: ReadonlyMap<string, StepProgress>,
): StepProgress | undefined => {
  const ofPiece = steps.filter((other) => other.pieceId === step.pieceId && other.key === key)
  const found = ofPiece.find((other) => other.lot === step.lot) ?? ofPiece[0]
  return found && progress.get(found.id)
}

import type { OpenWait } from '../../core/book/open-waits.ts'
import type { Lot, Moment } from '../moment.ts'
import { placesInWords } from './places-in-words.ts'
import { reachedFrom } from '../../core/book/remake.ts'
import { overfullStations, type Overfull } from './overfull.ts'
import { referenceAir } from '../../core/waits/write-celsius.ts'
import { placeAt } from '../../core/book/stays.ts'
import { placeStation } from '../../core/book/where-it-dries.ts'
import { movesOf, type MoveOffered } from '../steps/move-piece.ts'
import { spoiledAfter } from '../steps/air-for-step.ts'
import { standsStillNow, waitHere } from '../steps/wait-here.ts'
import { durationWords } from '../../core/time/duration.ts'
import type { PieceState } from '../../core/book/piece-state.ts'
import type { Interval } from '../../core/planning/index.ts'
import { labelAt, type PieceLabel } from '../piece-label.ts'

export interface RackView {
  /** Ready ones first, then by when they are ready. */
  readonly waiting: readonly RackRow[]
  readonly stations: readonly {
    readonly id: string
    readonly name: string
    readonly used: number
    readonly capacity: number
  }[]
  readonly overfull: readonly Overfull[]
}

export interface RackRow {
  readonly piece: PieceLabel
  readonly state: PieceState
  /** "glue in clamps", "second coat drying". */
  readonly waitName: string
  /** "Clamps 1-4", "Rack, place 3"; empty when it holds nothing. */
  readonly place: string
  readonly sinceAt: number
  /** When the wait is over; null: it stands still (too cold, too damp). */
  readonly readyAt: number | null
  /** For "why?": the reference wait, what slows it, the source. */
  readonly why: readonly string[]
  /** When it stands still between its beginning and its end: nights that are too cold. */
  readonly still: readonly Interval[]
  /** What cold or damp did to it while it was wet, and what to do; null: nothing. */
  readonly spoiled: string | null
  /** 'wait': too early; 'ready'; 'stands-still': too cold or damp at this moment, why, and when it goes on (null: never). */
  readonly advice:
    | { readonly kind: 'wait' }
    | { readonly kind: 'ready' }
    | { readonly kind: 'stands-still'; readonly reason: string; readonly goesOnAt: number | null }
  readonly next: { readonly stepId: string; readonly name: string; readonly plannedAt: number | null } | null
  /** When the recoat window (or another longest wait) closes, and what to do after that. */
  readonly window: { readonly closesAt: number; readonly remedy: string | null } | null
  /** Step after which it waits: what is carried elsewhere is carried in its name. */
  readonly afterStepId: string
  /** Place of the almanac in which it stands; null: the shop. */
  readonly standsIn: string | null
  /** Where it may be carried with one press, the soonest ready first; when it would be ready there, null: never. */
  readonly moves: readonly MoveOffered[]
  /** Step that "still tacky" pushes back; null when there is nothing to push. */
  readonly tackyStepId: string | null
}

/** What is in clamps, curing or drying, where, since when, ready when, what comes next. */
export function rackView(moment: Moment): RackView {
  const rows = moment.lots.flatMap((lot) => whereItIs(lot, moment).map((wait) => rowOf(lot, wait, moment)))
  return {
    waiting: rows.sort((a, b) => whenReady(a) - whenReady(b) || a.sinceAt - b.sinceAt),
    stations: [
      ...moment.almanac.stations.map(({ id, name, capacity }) => ({ id, name, capacity })),
      ...moment.almanac.places.map(({ id, name, capacity }) => ({ id: placeStation(id), name, capacity })),
    ].map((station) => ({ ...station, used: moment.used(station.id) })),
    overfull: overfullStations(moment),
  }
}

/**
 * A step that was entered as done before steps that come before it would have its piece wait twice: it is where it was put last. Parts of a
 * piece may well wait beside each other.
 */
function whereItIs({ steps, waits }: Lot, moment: Moment): readonly OpenWait[] {
  if (waits.length < 2) return waits
  const lags = steps.flatMap(({ id }) => moment.lagsFrom(id))
  const ahead = new Map(waits.map((wait) => [wait, reachedFrom(wait.to.id, steps, lags)]))
  const isAhead = (one: OpenWait, of: OpenWait): boolean => ahead.get(of)?.has(one.from.id) === true
  return waits.filter(
    (wait) =>
      !waits.some(
        (other) =>
          (isAhead(other, wait) && other.sinceAt >= wait.sinceAt) ||
          (isAhead(wait, other) && other.sinceAt > wait.sinceAt),
      ),
  )
}

const whenReady = (row: RackRow): number => row.readyAt ?? Infinity

function rowOf(lot: Lot, wait: OpenWait, moment: Moment): RackRow {
  const { lag, to } = wait
  const ready = wait.readyAt !== null && wait.readyAt <= moment.now
  const placeId = placeAt(moment.stays(wait.from.id), moment.now)
  const standsIn = moment.setting.places.find(({ id }) => id === placeId)?.name ?? null
  return {
    piece: { ...labelAt(wait.from, lot), count: moment.piecesLeft(wait.from) },
    state: lag.wait === 'none' ? 'waiting-its-turn' : lag.wait,
    waitName: lag.name,
    place: [
      placesInWords(
        lot.steps.map(({ id }) => id),
        moment,
      ),
      standsIn ?? '',
    ]
      .filter((word) => word !== '')
      .join(', '),
    sinceAt: wait.sinceAt,
    readyAt: wait.readyAt,
    why: whyWait(wait, moment),
    still: waitHere(lag, wait.sinceAt, moment).still,
    spoiled: spoiledAfter(wait.from, wait.sinceAt, moment)?.message(moment.almanac.shop.units) ?? null,
    advice: ready ? { kind: 'ready' } : adviceOn(wait, moment),
    next: { stepId: to.id, name: to.name, plannedAt: moment.planned(to.id)?.start ?? null },
    window: wait.window && { closesAt: wait.window.closesAt, remedy: wait.window.remedy },
    afterStepId: wait.from.id,
    standsIn,
    moves: movesOf(wait, moment),
    tackyStepId: lag.wait === 'in-clamps' ? null : to.id,
  }
}

function adviceOn({ lag, sinceAt, readyAt, to }: OpenWait, moment: Moment): RackRow['advice'] {
  const still = standsStillNow(lag, moment)
  if (readyAt === null) {
    const reason = [still?.reason, moment.asked.undated.get(to.id)].find((each) => each !== undefined)
    return { kind: 'stands-still', reason: reason ?? 'It does not cure in these conditions.', goesOnAt: null }
  }
  // What has cured and was pushed back by hand does not wait for the air.
  const cured = (waitHere(lag, sinceAt, moment).overAt ?? Infinity) <= moment.now
  if (still === null || cured) return { kind: 'wait' }
  const reason = `${still.word}, will not ${lag.wait === 'drying' ? 'dry' : 'cure'} now`
  return { kind: 'stands-still', reason, goesOnAt: still.goesOnAt }
}

function whyWait({ lag, sinceAt, readyAt }: OpenWait, moment: Moment): string[] {
  const range =
    lag.optimisticMin === lag.pessimisticMin
      ? ''
      : `, give or take: ${durationWords(lag.optimisticMin)} to ${durationWords(lag.pessimisticMin)}`
  const lines = [`${lag.name}: ${durationWords(lag.minMin)} at ${referenceAir(moment.almanac.shop.units)}${range}.`]
  const here = waitHere(lag, sinceAt, moment)
  lines.push(...here.because)
  if (readyAt !== null && here.overAt !== null && readyAt > here.overAt)
    lines.push(`Pushed back by hand, by ${durationWords(readyAt - here.overAt)}.`)
  lines.push(`Source: ${lag.source}. The label on the can or bottle wins.`)
  return lines
}

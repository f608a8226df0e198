import type { OpenWait } from '../../core/book/open-waits.ts'
import type { Lot, Moment } from '../moment.ts'
import type { RackRow, RackView } from '../views.ts'
import { placeAt } from '../../core/book/stays.ts'
import { placeStation } from '../../core/book/where-it-dries.ts'
import { movesOf } from '../steps/move-piece.ts'
import { spoiledAfter } from '../steps/air-for-step.ts'
import { standsStillNow, waitHere } from '../steps/wait-here.ts'
import { writeMinutes } from '../words.ts'

/** What is in clamps, curing or drying, where, since when, ready when, what comes next. */
export function rackView(moment: Moment): RackView {
  const rows = moment.lots.flatMap((lot) => lot.waits.map((wait) => rowOf(lot, wait, moment)))
  return {
    waiting: rows.sort((a, b) => whenReady(a) - whenReady(b) || a.sinceAt - b.sinceAt),
    stations: [
      ...moment.almanac.stations.map(({ id, name, capacity }) => ({ id, name, capacity })),
      ...moment.almanac.places.map(({ id, name, capacity }) => ({ id: placeStation(id), name, capacity })),
    ].map((station) => ({ ...station, used: moment.used(station.id) })),
  }
}

const whenReady = (row: RackRow): number => row.readyAt ?? Infinity

function rowOf(lot: Lot, wait: OpenWait, moment: Moment): RackRow {
  const { lag, to } = wait
  const ready = wait.readyAt !== null && wait.readyAt <= moment.now
  const placeId = placeAt(moment.stays(wait.from.id), moment.now)
  const standsIn = moment.setting.places.find(({ id }) => id === placeId)?.name ?? null
  return {
    piece: lot.label,
    state: lag.wait === 'none' ? 'waiting-its-turn' : lag.wait,
    waitName: lag.name,
    place: [writePlaces(lot, moment), standsIn ?? ''].filter((word) => word !== '').join(', '),
    sinceAt: wait.sinceAt,
    readyAt: wait.readyAt,
    why: whyWait(wait, moment),
    still: waitHere(lag, wait.sinceAt, moment).still,
    spoiled: spoiledAfter(wait.from, wait.sinceAt, moment)?.message ?? null,
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
      : `, give or take: ${writeMinutes(lag.optimisticMin)} to ${writeMinutes(lag.pessimisticMin)}`
  const lines = [`${lag.name}: ${writeMinutes(lag.minMin)} at about 21 °C and 50 % humidity${range}.`]
  const here = waitHere(lag, sinceAt, moment)
  lines.push(...here.because)
  if (readyAt !== null && here.overAt !== null && readyAt > here.overAt)
    lines.push(`Pushed back by hand, by ${writeMinutes(readyAt - here.overAt)}.`)
  lines.push(`Source: ${lag.source}. The label on the tin or bottle wins.`)
  return lines
}

/** `Clamps 1–4`, `Drying rack 3`. */
function writePlaces(lot: Lot, moment: Moment): string {
  const stepIds = new Set(lot.steps.map((step) => step.id))
  const byStation = Map.groupBy(
    moment.places.filter((place) => stepIds.has(place.stepId)),
    (place) => place.station,
  )
  return moment.almanac.stations
    .flatMap((station) => {
      const units = (byStation.get(station.id) ?? []).flatMap((place) => place.units).sort((a, b) => a - b)
      return units.length === 0 ? [] : [station.capacity === 1 ? station.name : `${station.name} ${writeRuns(units)}`]
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

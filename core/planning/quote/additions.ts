import type { Addition } from './answers.ts'
import type { BindingChain, Interval, PlanMaker, PlanningProblem } from '../problem/model.ts'
import { forMaker } from '../problem/maker-words.ts'
import { sessionsOf } from '../schedule/sessions.ts'

const HOUR = 60
const DAY = 1440
/** Sessions that are made longer in one addition: about two weeks of evenings. */
const LONGER_SESSIONS = 10
/** How far ahead a free day is looked for. */
const DAYS_AHEAD = 28

/** An addition that brings a date less nearer than half a day is not worth telling. */
export const LEAST_GAIN_MIN = 12 * HOUR

/** The shop with something added to it. */
export function withAddition(problem: PlanningProblem, addition: Addition): PlanningProblem {
  switch (addition.kind) {
    case 'station':
      return {
        ...problem,
        stations: problem.stations.map((station) =>
          station.id === addition.station ? { ...station, capacity: station.capacity + addition.units } : station,
        ),
      }
    case 'warmth':
      return {
        ...problem,
        clocks: problem.clocks.map(({ id }) => ({ id, segments: [{ from: 0, rate: 1 }] })),
        steps: problem.steps.map(({ allowed: _, ...step }) => step),
      }
    case 'otherwise':
      return addition.problem
    case 'hand':
      return { ...problem, makers: [...problem.makers, { id: 'a helper', name: 'a helper', hours: addition.hours }] }
    case 'hours':
      return {
        ...problem,
        makers: problem.makers.map((maker) =>
          maker.id === addition.maker ? { ...maker, hours: joined([...maker.hours, ...addition.hours]) } : maker,
        ),
      }
  }
}

/**
 * What could be added so that a date comes nearer, going by what decides it: another set of a station that is waited for,
 * longer sessions or one more long day for the maker whose hands or hours are. Tried out by whoever asks; this only proposes.
 */
export function likelyAdditions(problem: PlanningProblem, chain: BindingChain): readonly Addition[] {
  const stations = new Set<string>()
  const makers = new Set<string>()
  let isHeldByAir = false
  for (const { cause } of chain.links) {
    if (cause.kind === 'station') stations.add(cause.station)
    if (cause.kind === 'air') isHeldByAir = true
    // A cold night that makes a wait longer than its figure.
    if (cause.kind === 'wait' && cause.lag.clock !== undefined) isHeldByAir ||= slows(problem, cause.lag.clock)
    if (cause.kind === 'hands' || cause.kind === 'closed') makers.add(cause.maker)
  }
  return [
    ...problem.stations.filter(({ id }) => stations.has(id)).map((station) => moreOf(problem, station)),
    ...problem.makers.filter(({ id }) => makers.has(id)).flatMap((maker) => moreHours(problem, maker)),
    ...(isHeldByAir ? [{ kind: 'warmth', name: 'keep the shop warm, or dry it in a warm room' } as const] : []),
  ]
}

const slows = ({ clocks }: PlanningProblem, id: string): boolean =>
  clocks.find((clock) => clock.id === id)?.segments.some(({ rate }) => rate < 1) === true

/** A second pair of hands in the next sessions of whoever has most of them; null: nobody has any. */
export function anotherHand({ makers, now }: PlanningProblem): Addition | null {
  const ahead = makers.map(({ hours }) => hours.filter(({ to }) => to > now).slice(0, LONGER_SESSIONS))
  const longest = ahead.reduce<readonly Interval[]>((most, hours) => (hours.length > most.length ? hours : most), [])
  return longest.length === 0
    ? null
    : { kind: 'hand', name: `a second pair of hands, ${longest.length} times`, hours: longest }
}

/** As many units as one step takes at most: one set of clamps, one place on the rack. */
function moreOf({ steps }: PlanningProblem, { id, name }: { readonly id: string; readonly name: string }): Addition {
  const units = Math.max(
    1,
    ...steps.flatMap(({ holds }) => holds.filter(({ station }) => station === id).map((hold) => hold.units)),
  )
  return {
    kind: 'station',
    name: units === 1 ? `one more of ${name}` : `${units} more ${name.toLowerCase()}`,
    station: id,
    units,
  }
}

function moreHours({ now, makers }: PlanningProblem, maker: PlanMaker): Addition[] {
  const { count, from, to } = sessionsOf(maker.hours)
  const ahead: Interval[] = []
  for (let session = 0; session < count; session++) {
    if (to[session]! > now) ahead.push({ from: from[session]!, to: to[session]! })
  }
  const next = ahead.slice(0, LONGER_SESSIONS)
  const longer = next
    .map((session, index) => ({
      from: session.to,
      to: Math.min(session.to + HOUR, ahead[index + 1]?.from ?? Infinity),
    }))
    .filter((hours) => hours.from < hours.to)
  const found: Addition[] = []
  if (longer.length > 0) {
    found.push({
      kind: 'hours',
      name: `one more hour${forMaker(maker, makers)} on the next ${longer.length} shop days`,
      maker: maker.id,
      hours: longer,
    })
  }
  const day = freeDay(ahead, now)
  if (day !== null)
    found.push({ kind: 'hours', name: `one more long day${forMaker(maker, makers)}`, maker: maker.id, hours: [day] })
  return found
}

/** The hours of the longest session of the weeks ahead, on the first day that has none. */
function freeDay(ahead: readonly Interval[], now: number): Interval | null {
  const near = ahead.filter(({ from }) => from < now + DAYS_AHEAD * DAY)
  const longest = near.reduce<Interval | null>(
    (best, each) => (best === null || each.to - each.from > best.to - best.from ? each : best),
    null,
  )
  if (longest === null) return null
  const first = longest.from - Math.floor((longest.from - now) / DAY) * DAY
  for (let from = first; from < now + DAYS_AHEAD * DAY; from += DAY) {
    const day = { from, to: from + longest.to - longest.from }
    const middle = (day.from + day.to) / 2
    if (!near.some((session) => session.from < middle + DAY / 2 && middle - DAY / 2 < session.to)) return day
  }
  return null
}

/** Sorted, with those that overlap or touch made one. */
function joined(hours: readonly Interval[]): Interval[] {
  const merged: { from: number; to: number }[] = []
  for (const { from, to } of [...hours].sort((a, b) => a.from - b.from)) {
    const last = merged[merged.length - 1]
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to)
    else merged.push({ from, to })
  }
  return merged
}

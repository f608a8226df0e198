import { problem, type Problem } from '../../problems.ts'
import { EARLIEST, LATEST } from './instants.ts'
import type { Hold, Interval, Lag, PlanningProblem, PlanStep } from './model.ts'
import { positionsOf } from './positions.ts'
import { isInstant, isMinutes, isWhole } from './sound-numbers.ts'
import { stepProblem } from './step-problem.ts'
import { durationWords } from '../../time/duration.ts'
import { stepWords } from '../reasons/step-words.ts'

type Ids = ReadonlyMap<string, number>

/** The ids that steps and lags may name. */
export interface KnownIds {
  readonly steps: Ids
  readonly makers: Ids
  readonly stations: Ids
  readonly clocks: Ids
  readonly commissions: Ids
}

export const idsOf = ({ steps, makers, stations, clocks, commissions }: PlanningProblem): KnownIds => ({
  steps: positionsOf(steps),
  makers: positionsOf(makers),
  stations: positionsOf(stations),
  clocks: positionsOf(clocks),
  commissions: positionsOf(commissions),
})
/** Windows are shared by many steps, and looked over once. */
const soundWindows = new WeakSet<readonly Interval[]>()

function areSoundWindows(windows: readonly Interval[]): boolean {
  if (soundWindows.has(windows)) return true
  const isSound = windows.every(
    ({ from, to }, index) =>
      isInstant(from) && isInstant(to) && from < to && (windows[index - 1]?.to ?? EARLIEST) <= from,
  )
  if (isSound) soundWindows.add(windows)
  return isSound
}

export function findStepShapeProblems(found: Problem[], ids: KnownIds, step: PlanStep, now: number): void {
  const add = (code: string, what: string): void =>
    void found.push(stepProblem(step, code, `${stepWords(step)} ${what}`))
  const { state, pinned } = step

  const isTimed =
    isMinutes(step.minutes) &&
    isMinutes(step.tackyMin) &&
    isMinutes(step.smallestStretchMin) &&
    isMinutes(step.setUp?.minutes ?? 0)
  if (!isTimed) add('bad-minutes', 'needs its minutes as whole numbers, 0 or more.')
  if (!isWhole(step.hands, step.minutes > 0 ? 1 : 0, 1000)) add('no-hands', 'needs at least one maker: say how many.')
  if (!ids.commissions.has(step.commissionId)) add('unknown-commission', 'belongs to a commission that is not there.')
  if (step.makers?.some((id) => !ids.makers.has(id)) === true)
    add('unknown-maker', 'names a maker who is not in the almanac: choose somebody else.')
  if (step.release !== undefined && !isInstant(step.release))
    add('bad-release', 'waits for something that is not a date.')
  if (pinned !== undefined && !(isInstant(pinned.from) && isInstant(pinned.to) && pinned.from < pinned.to)) {
    add('bad-pin', 'is pinned to a day that ends before it begins.')
  }
  if (step.allowed !== undefined && !areSoundWindows(step.allowed))
    add('bad-windows', 'may be done only within times that overlap or are out of order.')
  if (step.dusty && step.tackyMin > 0) add('dust-on-wet', 'raises dust and leaves wet finish: make two steps of it.')
  if (step.tackyClock !== undefined && !ids.clocks.has(step.tackyClock))
    add('unknown-clock', 'dries on a clock that is not there.')
  if (state.kind !== 'to-do' && !isInstant(state.startedAt)) add('bad-log', 'was started at a time that is not a date.')
  if (state.kind === 'running' && state.startedAt > now)
    add(
      'bad-log',
      'was started at a time that is still to come: say on the Bench how long you worked on it, or take the start back.',
    )
  if (state.kind === 'done' && !(isInstant(state.endedAt) && state.startedAt <= state.endedAt)) {
    add('bad-log', 'was finished before it was started: correct the log.')
  }
  if (state.kind === 'running' && state.maker !== null && !ids.makers.has(state.maker)) {
    add('unknown-maker', 'is on the bench of a maker who is not in the almanac.')
  }
  for (const hold of step.holds) findHoldShapeProblems(add, ids, hold)
}

const isSpread = (
  { optimistic, pessimistic }: { readonly optimistic: number; readonly pessimistic: number },
  typical: number,
): boolean =>
  Number.isFinite(optimistic) &&
  Number.isFinite(pessimistic) &&
  optimistic <= typical &&
  typical <= pessimistic &&
  pessimistic <= LATEST

function findHoldShapeProblems(
  add: (code: string, what: string) => void,
  ids: KnownIds,
  { station, units, until }: Hold,
): void {
  if (!ids.stations.has(station))
    add('unknown-station', 'needs a station that is not in the almanac: add it, or choose another.')
  if (!isMinutes(units)) add('bad-units', `must take a whole number of units, not ${units}.`)
  if (until.kind === 'after' && !isMinutes(until.minutes))
    add('bad-minutes', 'holds on for a time that is not a whole number of minutes.')
  if (until.kind === 'after' && until.clock !== undefined && !ids.clocks.has(until.clock))
    add('unknown-clock', 'holds on by a clock that is not there.')
  if ('step' in until && !ids.steps.has(until.step)) add('unknown-step', 'holds on until a step that is not there.')
}

export function findLagShapeProblems(found: Problem[], input: PlanningProblem, ids: KnownIds, lag: Lag): void {
  const { name, minMin, maxMin, clock, remedy, spread } = lag
  const from = ids.steps.get(lag.from)
  const to = ids.steps.get(lag.to)
  if (from === undefined || to === undefined) {
    const message = `The wait “${name}” leads from or to a step that is not there.`
    const known = input.steps[to ?? from ?? -1]
    found.push(
      known === undefined
        ? problem('unknown-step', message, `steps.${lag.to}`)
        : stepProblem(known, 'unknown-step', message),
    )
    return
  }
  const add = (code: string, message: string): void => void found.push(stepProblem(input.steps[to]!, code, message))
  const before = (what: string): string => `${what} “${name}” before ${stepWords(input.steps[to]!)}`
  if (!isWhole(minMin, -LATEST)) add('bad-minutes', `${before('The wait')} must be a whole number of minutes.`)
  if (maxMin !== null && !isWhole(maxMin, -LATEST))
    add('bad-minutes', `${before('The window')} must be a whole number of minutes.`)
  if (maxMin !== null && maxMin < minMin) {
    const [first, second] = [stepWords(input.steps[from]!), stepWords(input.steps[to]!)]
    add(
      'empty-window',
      `${second} may start ${signed(minMin)} after ${first} at the earliest and ${signed(maxMin)} at the latest: nothing lies between. Correct the window “${name}”.`,
    )
  }
  if (clock !== undefined && minMin < 0)
    add('negative-cure', `${before('The wait')} runs on a cure clock and cannot be negative.`)
  if (clock !== undefined && !ids.clocks.has(clock))
    add('unknown-clock', `${before('The wait')} runs on a clock that is not there.`)
  if (remedy !== undefined && !isMinutes(remedy.minutes))
    add('bad-minutes', `“${remedy.name}” before ${stepWords(input.steps[to]!)} must take a whole number of minutes.`)
  if (spread !== undefined && !isSpread(spread, minMin))
    add('bad-spread', `${before('The wait')} must lie between its shortest and its longest.`)
}

const signed = (minutes: number): string => `${minutes < 0 ? '-' : ''}${durationWords(Math.abs(minutes))}`

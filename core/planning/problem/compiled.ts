import { cureTimeOf, type CureTime } from '../rules/cure-time.ts'
import { NEVER } from './instants.ts'
import { groupedBy, type Grouped } from './grouped.ts'
import type { HoldEnd, PlanningProblem } from './model.ts'
import { CrewList, type Crew } from './crews.ts'
import { positionsOf } from './positions.ts'
import { sessionsOf, type Sessions } from '../schedule/sessions.ts'

export const TO_DO = 0
export const RUNNING = 1
export const DONE = 2

export const UNTIL_END = 0
export const UNTIL_AFTER = 1
export const UNTIL_START_OF = 2
export const UNTIL_END_OF = 3

/** A problem as typed arrays: steps, lags, holds, commissions by their position. -1 stands for "none". */
export interface Compiled {
  readonly problem: PlanningProblem
  readonly now: number
  readonly stepCount: number
  readonly indexOfStep: ReadonlyMap<string, number>
  readonly state: Uint8Array
  readonly minutes: Int32Array
  readonly interruptible: Uint8Array
  /** 0 where there is no smallest stretch. */
  readonly smallest: Int32Array
  readonly earliest: Int32Array
  /** End of the day for which it is pinned; NEVER where it is not. */
  readonly pinnedTo: Int32Array
  readonly family: Int32Array
  readonly setUpMinutes: Int32Array
  readonly dusty: Uint8Array
  readonly room: Int32Array
  readonly roomCount: number
  readonly tackyMin: Int32Array
  readonly tackyClock: Int32Array
  readonly commission: Int32Array
  readonly crews: readonly Crew[]
  /** Crews that may do each step. */
  readonly crewsOf: readonly (readonly number[])[]
  readonly makerSessions: readonly Sessions[]
  readonly clocks: readonly CureTime[]
  readonly capacity: Int32Array

  readonly lagCount: number
  readonly lagFrom: Int32Array
  readonly lagTo: Int32Array
  readonly lagMin: Int32Array
  /** NEVER where there is no limit. */
  readonly lagMax: Int32Array
  readonly lagClock: Int32Array
  /** Minutes of the remedy, -1 where the window is hard. */
  readonly lagRemedy: Int32Array
  readonly lagsInto: Grouped
  readonly lagsOutOf: Grouped

  readonly holdStep: Int32Array
  readonly holdStation: Int32Array
  readonly holdUnits: Int32Array
  readonly holdUntil: Uint8Array
  readonly holdMin: Int32Array
  readonly holdClock: Int32Array
  readonly holdTarget: Int32Array
  readonly holdsOf: Grouped
  /** Holds that end at the start or end of a step. */
  readonly holdsClosedBy: Grouped

  readonly commissionCount: number
  /** What is aimed at for each commission: its promise, or sooner. NEVER where nothing is promised. */
  readonly promise: Int32Array
  readonly weight: Float64Array
  /** NEVER where lateness counts by the minute alone. */
  readonly patienceMin: number
  readonly stepsOfCommission: Grouped
  /** Announced start of each step, -1 where nothing was announced. */
  readonly announced: Int32Array
  /** Commissions with an announced step of theirs still to do. */
  readonly announcedSteps: Int32Array
}

/** @param problem without refusals, see refusals.ts */
export function compile(problem: PlanningProblem): Compiled {
  const { now, steps, commissions, makers, stations, clocks } = problem
  const indexOfStep = positionsOf(steps)
  const makerSessions = makers.map((maker) => sessionsOf(maker.hours))
  const crews = new CrewList(makerSessions, positionsOf(makers))
  const ofSteps = compileSteps(problem, crews)
  const ofLags = compileLags(problem)
  const ofHolds = compileHolds(problem)

  const announced = new Int32Array(steps.length).fill(-1)
  const announcedSteps = new Set<number>()
  for (const { step, start } of problem.announced) {
    const index = indexOfStep.get(step)
    if (index === undefined || ofSteps.state[index] !== TO_DO) continue
    announced[index] = start
    announcedSteps.add(index)
  }

  return {
    problem,
    now,
    stepCount: steps.length,
    indexOfStep,
    ...ofSteps,
    crews: crews.all,
    makerSessions,
    clocks: clocks.map(cureTimeOf),
    capacity: Int32Array.from(stations, (station) => station.capacity),
    lagCount: problem.lags.length,
    ...ofLags,
    ...ofHolds,
    commissionCount: commissions.length,
    promise: Int32Array.from(commissions, (each) => each.aim ?? each.promise ?? NEVER),
    weight: Float64Array.from(commissions, (each) => each.weight),
    patienceMin: problem.patienceMin ?? NEVER,
    stepsOfCommission: groupedBy(ofSteps.commission, commissions.length),
    announced,
    announcedSteps: Int32Array.from(announcedSteps).filter((step) => announced[step]! >= 0),
  }
}

// One pass over the steps, the lags, the holds: a book is compiled for every question that is asked of it.

function compileSteps({ now, steps, commissions, clocks }: PlanningProblem, crewList: CrewList) {
  const count = steps.length
  const commissionOf = positionsOf(commissions)
  const clockOf = positionsOf(clocks)
  const rooms = new Map<string, number>()
  const families = new Map<string, number>()
  const state = new Uint8Array(count)
  const minutes = new Int32Array(count)
  const interruptible = new Uint8Array(count)
  const smallest = new Int32Array(count)
  const earliest = new Int32Array(count)
  const pinnedTo = new Int32Array(count).fill(NEVER)
  const family = new Int32Array(count).fill(-1)
  const setUpMinutes = new Int32Array(count)
  const dusty = new Uint8Array(count)
  const room = new Int32Array(count)
  const tackyMin = new Int32Array(count)
  const tackyClock = new Int32Array(count).fill(-1)
  const commission = new Int32Array(count)
  const crewsOf = new Array<readonly number[]>(count)
  for (let index = 0; index < count; index++) {
    const step = steps[index]!
    const isToDo = step.state.kind === 'to-do'
    state[index] = isToDo ? TO_DO : step.state.kind === 'running' ? RUNNING : DONE
    minutes[index] = step.minutes
    if (step.interruptible) {
      interruptible[index] = 1
      if (isToDo) smallest[index] = step.smallestStretchMin
    }
    earliest[index] = Math.max(now, step.release ?? 0)
    if (step.pinned !== undefined && step.pinned.to > now) {
      earliest[index] = Math.max(earliest[index]!, step.pinned.from)
      pinnedTo[index] = step.pinned.to
    }
    if (step.setUp !== undefined && step.minutes > 0) {
      family[index] = numbered(families, step.setUp.family)
      setUpMinutes[index] = step.setUp.minutes
    }
    if (step.dusty) dusty[index] = 1
    room[index] = numbered(rooms, step.room)
    tackyMin[index] = step.tackyMin
    if (step.tackyClock !== undefined) tackyClock[index] = clockOf.get(step.tackyClock)!
    commission[index] = commissionOf.get(step.commissionId)!
    crewsOf[index] = crewList.forStep(step)
  }
  const roomCount = rooms.size
  return {
    ...{ state, minutes, interruptible, smallest, earliest, pinnedTo, family, setUpMinutes },
    ...{ dusty, room, roomCount, tackyMin, tackyClock, commission, crewsOf },
  }
}

function compileLags({ steps, lags, clocks }: PlanningProblem) {
  const stepOf = positionsOf(steps)
  const clockOf = positionsOf(clocks)
  const count = lags.length
  const lagFrom = new Int32Array(count)
  const lagTo = new Int32Array(count)
  const lagMin = new Int32Array(count)
  const lagMax = new Int32Array(count).fill(NEVER)
  const lagClock = new Int32Array(count).fill(-1)
  const lagRemedy = new Int32Array(count).fill(-1)
  for (let index = 0; index < count; index++) {
    const lag = lags[index]!
    lagFrom[index] = stepOf.get(lag.from)!
    lagTo[index] = stepOf.get(lag.to)!
    lagMin[index] = lag.minMin
    if (lag.maxMin !== null) lagMax[index] = lag.maxMin
    if (lag.clock !== undefined) lagClock[index] = clockOf.get(lag.clock)!
    if (lag.remedy !== undefined) lagRemedy[index] = lag.remedy.minutes
  }
  const lagsInto = groupedBy(lagTo, steps.length)
  const lagsOutOf = groupedBy(lagFrom, steps.length)
  return { lagFrom, lagTo, lagMin, lagMax, lagClock, lagRemedy, lagsInto, lagsOutOf }
}

function compileHolds({ steps, stations, clocks }: PlanningProblem) {
  const stepOf = positionsOf(steps)
  const stationOf = positionsOf(stations)
  const clockOf = positionsOf(clocks)
  let count = 0
  for (const { holds } of steps) count += holds.length
  const holdStep = new Int32Array(count)
  const holdStation = new Int32Array(count)
  const holdUnits = new Int32Array(count)
  const holdUntil = new Uint8Array(count)
  const holdMin = new Int32Array(count)
  const holdClock = new Int32Array(count).fill(-1)
  const holdTarget = new Int32Array(count).fill(-1)
  let hold = 0
  for (let index = 0; index < steps.length; index++) {
    for (const { station, units, until } of steps[index]!.holds) {
      holdStep[hold] = index
      holdStation[hold] = stationOf.get(station)!
      holdUnits[hold] = units
      holdUntil[hold] = UNTIL[until.kind]
      if ('step' in until) holdTarget[hold] = stepOf.get(until.step)!
      if (until.kind === 'after') {
        holdMin[hold] = until.minutes
        if (until.clock !== undefined) holdClock[hold] = clockOf.get(until.clock)!
      }
      hold += 1
    }
  }
  const holdsOf = groupedBy(holdStep, steps.length)
  const holdsClosedBy = groupedBy(holdTarget, steps.length)
  return { holdStep, holdStation, holdUnits, holdUntil, holdMin, holdClock, holdTarget, holdsOf, holdsClosedBy }
}

const UNTIL = {
  end: UNTIL_END,
  after: UNTIL_AFTER,
  'start-of': UNTIL_START_OF,
  'end-of': UNTIL_END_OF,
} as const satisfies Record<HoldEnd['kind'], number>

function numbered(numbers: Map<string, number>, name: string): number {
  const known = numbers.get(name)
  if (known !== undefined) return known
  numbers.set(name, numbers.size)
  return numbers.size - 1
}

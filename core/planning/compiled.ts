import { cureTimeOf, type CureTime } from './cure-time.ts'
import { NEVER } from './instants.ts'
import { groupedBy, type Grouped } from './grouped.ts'
import type { PlanningProblem, PlanStep } from './model.ts'
import { commonSessions, sessionsOf, type Sessions } from './sessions.ts'

/** Makers who do a step together, and when they are all in the shop. */
export interface Crew {
  readonly makers: readonly number[]
  readonly sessions: Sessions
}

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
  readonly promise: Int32Array
  readonly weight: Float64Array
  readonly stepsOfCommission: Grouped
  /** Announced start of each step, -1 where nothing was announced. */
  readonly announced: Int32Array
  /** Commissions with an announced step of theirs still to do. */
  readonly announcedSteps: Int32Array
}

/** Combinations of makers that are looked at for a step of several hands; more than that and the later ones are left out. */
const MOST_CREWS = 64

/** @param problem without refusals, see refusals.ts */
export function compile(problem: PlanningProblem): Compiled {
  const { steps, lags, commissions, makers, stations, clocks } = problem
  const stepIndex = positions(steps)
  const makerIndex = positions(makers)
  const stationIndex = positions(stations)
  const clockIndex = positions(clocks)
  const commissionIndex = positions(commissions)
  const rooms = numbered(steps.map((step) => step.room))
  const families = numbered(steps.flatMap((step) => (step.setUp === undefined ? [] : [step.setUp.family])))
  const clockOf = (id: string | undefined): number => (id === undefined ? -1 : clockIndex.get(id)!)
  const ofSteps = (value: (step: PlanStep, index: number) => number): Int32Array => Int32Array.from(steps, value)

  const makerSessions = makers.map((maker) => sessionsOf(maker.hours))
  const crews = new CrewList(makerSessions)
  const pinnedAhead = (step: PlanStep): boolean => step.pinned !== undefined && step.pinned.to > problem.now

  const holds = steps.flatMap((step, index) => step.holds.map((hold) => ({ hold, index })))
  const holdTarget = Int32Array.from(holds, ({ hold }) => ('step' in hold.until ? stepIndex.get(hold.until.step)! : -1))
  const lagFrom = Int32Array.from(lags, (lag) => stepIndex.get(lag.from)!)
  const lagTo = Int32Array.from(lags, (lag) => stepIndex.get(lag.to)!)
  const holdStep = Int32Array.from(holds, ({ index }) => index)
  const commission = ofSteps((step) => commissionIndex.get(step.commissionId)!)

  const announced = new Int32Array(steps.length).fill(-1)
  for (const { step, start } of problem.announced) {
    const index = stepIndex.get(step)
    if (index !== undefined && steps[index]!.state.kind === 'to-do') announced[index] = start
  }

  return {
    problem,
    now: problem.now,
    stepCount: steps.length,
    indexOfStep: stepIndex,
    state: Uint8Array.from(steps, (step) => ({ 'to-do': TO_DO, running: RUNNING, done: DONE })[step.state.kind]),
    minutes: ofSteps((step) => step.minutes),
    interruptible: Uint8Array.from(steps, (step) => Number(step.interruptible)),
    smallest: ofSteps((step) => (step.interruptible && step.state.kind === 'to-do' ? step.smallestStretchMin : 0)),
    earliest: ofSteps((step) => Math.max(problem.now, step.release ?? 0, pinnedAhead(step) ? step.pinned!.from : 0)),
    pinnedTo: ofSteps((step) => (pinnedAhead(step) ? step.pinned!.to : NEVER)),
    family: ofSteps((step) => (step.setUp === undefined || step.minutes === 0 ? -1 : families.get(step.setUp.family)!)),
    setUpMinutes: ofSteps((step) => (step.minutes === 0 ? 0 : (step.setUp?.minutes ?? 0))),
    dusty: Uint8Array.from(steps, (step) => Number(step.dusty)),
    room: ofSteps((step) => rooms.get(step.room)!),
    roomCount: rooms.size,
    tackyMin: ofSteps((step) => step.tackyMin),
    tackyClock: ofSteps((step) => clockOf(step.tackyClock)),
    commission,
    crewsOf: steps.map((step) => crews.forStep(step, makerIndex)),
    crews: crews.all,
    makerSessions,
    clocks: clocks.map(cureTimeOf),
    capacity: Int32Array.from(stations, (station) => station.capacity),

    lagCount: lags.length,
    lagFrom,
    lagTo,
    lagMin: Int32Array.from(lags, (lag) => lag.minMin),
    lagMax: Int32Array.from(lags, (lag) => lag.maxMin ?? NEVER),
    lagClock: Int32Array.from(lags, (lag) => clockOf(lag.clock)),
    lagRemedy: Int32Array.from(lags, (lag) => lag.remedy?.minutes ?? -1),
    lagsInto: groupedBy(lagTo, steps.length),
    lagsOutOf: groupedBy(lagFrom, steps.length),

    holdStep,
    holdStation: Int32Array.from(holds, ({ hold }) => stationIndex.get(hold.station)!),
    holdUnits: Int32Array.from(holds, ({ hold }) => hold.units),
    holdUntil: Uint8Array.from(
      holds,
      ({ hold }) =>
        ({ end: UNTIL_END, after: UNTIL_AFTER, 'start-of': UNTIL_START_OF, 'end-of': UNTIL_END_OF })[hold.until.kind],
    ),
    holdMin: Int32Array.from(holds, ({ hold }) => (hold.until.kind === 'after' ? hold.until.minutes : 0)),
    holdClock: Int32Array.from(holds, ({ hold }) =>
      clockOf(hold.until.kind === 'after' ? hold.until.clock : undefined),
    ),
    holdTarget,
    holdsOf: groupedBy(holdStep, steps.length),
    holdsClosedBy: groupedBy(holdTarget, steps.length),

    commissionCount: commissions.length,
    promise: Int32Array.from(commissions, (each) => each.promise ?? NEVER),
    weight: Float64Array.from(commissions, (each) => each.weight),
    stepsOfCommission: groupedBy(commission, commissions.length),
    announced,
    announcedSteps: Int32Array.from([...announced.keys()].filter((step) => announced[step]! >= 0)),
  }
}

const positions = (all: readonly { readonly id: string }[]): Map<string, number> =>
  new Map(all.map(({ id }, index) => [id, index]))

function numbered(names: readonly string[]): Map<string, number> {
  const numbers = new Map<string, number>()
  for (const name of names) if (!numbers.has(name)) numbers.set(name, numbers.size)
  return numbers
}

/** The crews of a shop, each once, whoever asks. */
class CrewList {
  readonly all: Crew[] = []
  readonly #byMakers = new Map<string, number>()
  readonly #byDemand = new Map<string, readonly number[]>()
  readonly #sessions: readonly Sessions[]

  constructor(sessions: readonly Sessions[]) {
    this.#sessions = sessions
  }

  forStep(step: PlanStep, makerIndex: ReadonlyMap<string, number>): readonly number[] {
    const hands = Math.max(1, step.hands)
    const demand = `${hands}:${step.makers?.join('\n') ?? '*'}`
    const known = this.#byDemand.get(demand)
    if (known !== undefined) return known
    const able = step.makers?.map((id) => makerIndex.get(id)!) ?? [...this.#sessions.keys()]
    const found = combinations(
      [...new Set(able)].sort((a, b) => a - b),
      hands,
      MOST_CREWS,
    ).map((crew) => this.#crew(crew))
    this.#byDemand.set(demand, found)
    return found
  }

  #crew(makers: readonly number[]): number {
    const key = makers.join(' ')
    const known = this.#byMakers.get(key)
    if (known !== undefined) return known
    const sessions =
      makers.length === 1 ? this.#sessions[makers[0]!]! : commonSessions(makers.map((maker) => this.#sessions[maker]!))
    this.#byMakers.set(key, this.all.length)
    return this.all.push({ makers, sessions }) - 1
  }
}

/** Ways to choose `size` of the items, in order, at most `most` of them. */
function combinations(items: readonly number[], size: number, most: number): number[][] {
  const found: number[][] = []
  const choose = (from: number, chosen: readonly number[]): void => {
    if (found.length >= most) return
    if (chosen.length === size) {
      found.push([...chosen])
      return
    }
    for (let next = from; next <= items.length - (size - chosen.length); next++)
      choose(next + 1, [...chosen, items[next]!])
  }
  choose(0, [])
  return found
}

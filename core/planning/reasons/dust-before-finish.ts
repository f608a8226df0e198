import type { Interval, Lag, PlannedStep, PlanningProblem, PlanStep } from '../problem/model.ts'
import { cureBegun, cureOver, cureTimeOf, type CureTime } from '../rules/cure-time.ts'

/** Finish that is tacky for less than this holds up no session. */
const LEAST_TACKY_MIN = 60
/** Dusty work that goes first may take longer by this share, and the coat still goes on before the session is over. Common practice, no source. */
const RESERVE = 0.25

export const keepsDustDown = ({ tackyMin }: PlanStep): boolean => tackyMin >= LEAST_TACKY_MIN

export interface Session {
  /** What the plan has for it, in the order in which it is done; and what it has for later ones, soonest wanted first. */
  readonly now: readonly PlannedStep[]
  readonly later: readonly PlannedStep[]
  readonly hours: Interval
  /** Whether the order of a step has days to spare. */
  readonly hasTime: (step: string) => boolean
}

/**
 * Dusty work of later sessions goes before this session's first coat, because nothing may raise dust once that is on; and with it what the
 * plan has behind the coat. As much as leaves the coat enough of the session, and starts nothing that follows the coat later than the plan
 * has it, unless its order has days to spare. Not a step whose wait has a longest time: it would be done too soon.
 * @returns all of `now` and `later` in the order in which they are done
 */
export function dustBeforeFinish(problem: PlanningProblem, session: Session): readonly PlannedStep[] {
  const { now, later, hours } = session
  const steps = new Map(problem.steps.map((step) => [step.id, step]))
  const isCoat = ({ id }: PlannedStep): boolean => keepsDustDown(steps.get(id)!)
  const at = now.findIndex(isCoat)
  const coat = now[at]
  if (coat === undefined) return [...now, ...later]
  const waits = new Waits(problem)
  const minutesOf = (some: readonly PlannedStep[]): number =>
    some.reduce((sum, step) => sum + minutesIn(step, hours), 0)
  const fromCoat = now.slice(at)
  const coats: PlannedStep[] = []
  for (const step of fromCoat) if (isCoat(step) || waits.follows(step.id, coats)) coats.push(step)
  const others = fromCoat.filter((step) => !coats.includes(step))
  const latest = Math.min(
    hours.to - minutesOf(fromCoat),
    ...coats
      .filter(isCoat)
      .map((each) => waits.latestStart(each, session) - (each.start - coat.start) - minutesOf(others)),
  )
  const isHere = new Map([...now.slice(0, at), ...others].map(({ id, end }) => [id, Math.min(end, coat.start)]))
  const first = new Set<PlannedStep>()
  let spareMin = latest - coat.start
  for (const planned of later) {
    const step = steps.get(planned.id)!
    const minutes = (step.minutes + (step.setUp?.minutes ?? 0)) * (1 + RESERVE)
    if (minutes > spareMin || !mayGoFirst(step, planned, coat, steps.get(coat.id)!.room)) continue
    if (waits.opensWindow(step.id) || waits.readyAt(step.id, isHere) > coat.start) continue
    first.add(planned)
    isHere.set(step.id, coat.start)
    spareMin -= minutes
  }
  if (first.size === 0) return [...now, ...later]
  return [...now.slice(0, at), ...others, ...first, ...coats, ...later.filter((step) => !first.has(step))]
}

/** Dust of the same hands in the same room, that nothing but its place in the plan keeps for later. */
function mayGoFirst(step: PlanStep, planned: PlannedStep, coat: PlannedStep, room: string): boolean {
  return (
    step.dusty &&
    step.minutes > 0 &&
    step.room === room &&
    step.holds.length === 0 &&
    step.allowed === undefined &&
    step.pinned === undefined &&
    (step.release ?? 0) <= coat.start &&
    planned.makers.every((maker) => coat.makers.includes(maker))
  )
}

const minutesIn = ({ stretches }: PlannedStep, { from, to }: Interval): number =>
  stretches.reduce((sum, each) => sum + Math.max(0, Math.min(each.to, to) - Math.max(each.from, from)), 0)

/** The waits between steps. Not read from what the plan occupies (occupancy.ts): that must know every step, and the Bench’s may be of the book before. */
class Waits {
  readonly #endOf: ReadonlyMap<string, number>
  readonly #into: Partial<Record<string, Lag[]>>
  readonly #outOf: Partial<Record<string, Lag[]>>
  readonly #clocks: ReadonlyMap<string, CureTime>

  constructor({ steps, lags, clocks }: PlanningProblem) {
    this.#endOf = new Map(steps.flatMap(({ id, state }) => (state.kind === 'done' ? [[id, state.endedAt]] : [])))
    this.#into = Object.groupBy(lags, ({ to }) => to)
    this.#outOf = Object.groupBy(lags, ({ from }) => from)
    this.#clocks = new Map(clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
  }

  opensWindow(step: string): boolean {
    return (this.#outOf[step] ?? []).some(({ maxMin }) => maxMin !== null)
  }

  /** Whether a wait leads from one of these to the step. */
  follows(step: string, some: readonly PlannedStep[]): boolean {
    return (this.#into[step] ?? []).some(({ from }) => some.some(({ id }) => id === from))
  }

  /** When all that leads to a step is over; Infinity: something is to be done first. @param here ends of steps that are done in this session */
  readyAt(step: string, here: ReadonlyMap<string, number>): number {
    return Math.max(
      0,
      ...(this.#into[step] ?? []).map((lag) => {
        const end = this.#endOf.get(lag.from) ?? here.get(lag.from)
        return end === undefined ? Infinity : this.#over(lag, end)
      }),
    )
  }

  /** The latest start of a coat that misses no window and delays nothing in this session nor, where its order has no time to spare, later. */
  latestStart(coat: PlannedStep, { now, later, hasTime }: Session): number {
    const planned = new Map([...now, ...later].map((step) => [step.id, step]))
    const closes = (this.#into[coat.id] ?? []).map((lag) => {
      const end = this.#endOf.get(lag.from) ?? planned.get(lag.from)?.end
      if (lag.maxMin === null || end === undefined) return Infinity
      return lag.clock === undefined ? end + lag.maxMin : this.#over(lag, end) + lag.maxMin - lag.minMin
    })
    const length = coat.end - coat.start
    const needed = (this.#outOf[coat.id] ?? []).map((lag) => {
      const next = planned.get(lag.to)
      if (next === undefined || (hasTime(coat.id) && !now.includes(next))) return Infinity
      return this.#begunBy(lag, next.start) - length
    })
    return Math.min(Infinity, ...closes, ...needed)
  }

  #over({ clock, minMin }: Lag, end: number): number {
    return clock === undefined ? end + minMin : cureOver(this.#clocks.get(clock)!, end, minMin)
  }

  /** The last minute at which a wait may begin that is over by then. */
  #begunBy({ clock, minMin }: Lag, over: number): number {
    return clock === undefined ? over - minMin : cureBegun(this.#clocks.get(clock)!, over + 1, minMin) - 1
  }
}

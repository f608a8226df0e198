import { cureOver, cureTimeOf, type CureTime } from '../rules/cure-time.ts'
import { NEVER } from '../problem/instants.ts'
import type { Hold, Interval, Lag, Plan, PlannedStep, PlanningProblem, PlanStep } from '../problem/model.ts'
import { positionsOf } from '../problem/positions.ts'
import { Spans } from '../problem/spans.ts'
import { commonSessions, sessionsOf, sessionsWithin, type Sessions } from './sessions.ts'

/** A station's units while they are taken, and what will free them: the step itself, or the one that ends the hold. */
export interface Held extends Interval {
  readonly step: string
  readonly freedBy: string
  readonly units: number
  readonly hold: Hold
}

/** Time taken by one step. */
export interface TimeTaken extends Interval {
  readonly step: string
}

const known = new WeakMap<Plan, Occupancy>()

/** Remembered for the plan as long as that lives: several questions are asked of one plan. */
export function occupancyOf(problem: PlanningProblem, plan: Plan): Occupancy {
  const before = known.get(plan)
  if (before?.problem === problem) return before
  const occupancy = new Occupancy(problem, plan)
  known.set(plan, occupancy)
  return occupancy
}

/** A plan looked at from the side of what it occupies: makers, stations, air. */
export class Occupancy {
  readonly problem: PlanningProblem
  /** What the plan says of each step, by the position of the step in the problem. */
  readonly planned: readonly PlannedStep[]
  readonly lagsInto: ReadonlyMap<string, readonly Lag[]>
  readonly lagsOutOf: ReadonlyMap<string, readonly Lag[]>
  readonly #positions: ReadonlyMap<string, number>
  readonly #busy = new Lists<TimeTaken>()
  readonly #held = new Lists<Held>()
  readonly #wet = new Lists<TimeTaken>()
  readonly #dust = new Lists<TimeTaken>()
  readonly #clocks: ReadonlyMap<string, CureTime>
  readonly #sessions = new Map<string, Sessions>()

  constructor(problem: PlanningProblem, plan: Plan) {
    const { steps } = problem
    this.problem = problem
    this.#positions = positionsOf(steps)
    this.planned = inOrderOf(steps, plan.steps)
    this.lagsInto = Map.groupBy(problem.lags, ({ to }) => to)
    this.lagsOutOf = Map.groupBy(problem.lags, ({ from }) => from)
    this.#clocks = new Map(problem.clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
    for (let position = 0; position < steps.length; position++) {
      const step = steps[position]!
      const { id, holds, room, tackyMin } = step
      const { start, end, stretches, makers } = this.planned[position]!
      const first = stretches[0]
      if (first !== undefined)
        for (const maker of makers) this.#busy.add(maker, { from: first.from, to: end, step: id })
      for (const hold of holds) {
        const to = this.heldUntil(step, hold)
        const freedBy = 'step' in hold.until ? hold.until.step : id
        if (start < to && hold.units > 0)
          this.#held.add(hold.station, { from: start, to, step: id, freedBy, units: hold.units, hold })
      }
      if (tackyMin > 0) this.#wet.add(room, { from: start, to: this.after(end, tackyMin, step.tackyClock), step: id })
      if (step.dusty) for (const { from, to } of stretches) this.#dust.add(room, { from, to, step: id })
    }
  }

  step(id: string): PlanStep {
    return this.problem.steps[this.#positions.get(id)!]!
  }

  at(id: string): PlannedStep {
    return this.planned[this.#positions.get(id)!]!
  }

  readyAt(lag: Lag): number {
    return this.after(this.at(lag.from).end, lag.minMin, lag.clock)
  }

  /** When the window of a lag closes; it must have one. */
  closesAt(lag: Lag): number {
    const max = lag.maxMin ?? NEVER
    return lag.clock === undefined ? this.at(lag.from).end + max : this.readyAt(lag) + max - lag.minMin
  }

  after(instant: number, minutes: number, clock: string | undefined): number {
    return clock === undefined ? instant + minutes : cureOver(this.#clocks.get(clock)!, instant, minutes)
  }

  heldUntil(step: PlanStep, { until }: Hold): number {
    switch (until.kind) {
      case 'end':
        return this.at(step.id).end
      case 'after':
        return this.after(this.at(step.id).end, until.minutes, until.clock)
      case 'start-of':
        return this.at(until.step).start
      case 'end-of':
        return this.at(until.step).end
    }
  }

  /** When all of these makers are in the shop, and the air allows the work. @param allowed absent: at any time */
  sessions(makers: readonly string[], allowed?: readonly Interval[]): Sessions {
    if (allowed !== undefined) return sessionsWithin([this.sessions(makers)], sessionsOf(allowed))
    const key = makers.join('\n')
    const known = this.#sessions.get(key)
    if (known !== undefined) return known
    const own = makers.map((id) => sessionsOf(this.problem.makers.find((maker) => maker.id === id)?.hours ?? []))
    const common = commonSessions(own)
    this.#sessions.set(key, common)
    return common
  }

  /** What a maker does at this instant. */
  busyAt(maker: string, instant: number): TimeTaken | undefined {
    return this.#busy.spans(maker)?.at(instant)[0]
  }

  /** Instants in (from, to] at which something that a step needs may become free, latest first; `to` is one of them. */
  changesBetween(step: PlanStep, makers: readonly string[], from: number, to: number): readonly number[] {
    const ending = [
      ...makers.map((maker) => this.#busy.spans(maker)),
      ...step.holds.map(({ station }) => this.#held.spans(station)),
      step.dusty ? this.#wet.spans(step.room) : undefined,
      step.tackyMin > 0 ? this.#dust.spans(step.room) : undefined,
    ].flatMap((spans) => spans?.endingBetween(from, to) ?? [])
    return [...new Set([to, ...ending.map((span) => span.to)])].sort((a, b) => b - a)
  }

  allHeld(station: string): readonly Held[] {
    return this.#held.spans(station)?.all ?? []
  }

  heldAt(station: string, instant: number): readonly Held[] {
    return this.#held.spans(station)?.at(instant) ?? []
  }

  wetAt(room: string, instant: number): TimeTaken | undefined {
    return this.#wet.spans(room)?.at(instant)[0]
  }

  dustAt(room: string, instant: number): TimeTaken | undefined {
    return this.#dust.spans(room)?.at(instant)[0]
  }
}

function inOrderOf(steps: readonly PlanStep[], planned: readonly PlannedStep[]): readonly PlannedStep[] {
  if (steps.every(({ id }, position) => planned[position]?.id === id)) return planned
  const positions = positionsOf(planned)
  return steps.map(({ id }) => planned[positions.get(id)!]!)
}

/** Intervals by name, which become spans when somebody asks for them. */
class Lists<T extends Interval> {
  readonly #lists = new Map<string, T[]>()
  readonly #spans = new Map<string, Spans<T>>()

  add(name: string, item: T): void {
    const list = this.#lists.get(name)
    if (list === undefined) this.#lists.set(name, [item])
    else list.push(item)
  }

  spans(name: string): Spans<T> | undefined {
    const made = this.#spans.get(name)
    const list = this.#lists.get(name)
    if (made !== undefined || list === undefined) return made
    const spans = new Spans(list)
    this.#spans.set(name, spans)
    return spans
  }
}

import { cureOver, cureTimeOf, type CureTime } from './cure-time.ts'
import { NEVER } from './instants.ts'
import type { Hold, Interval, Lag, Plan, PlannedStep, PlanningProblem, PlanStep } from './model.ts'
import { Spans } from './spans.ts'
import { commonSessions, sessionsOf, type Sessions } from './sessions.ts'

/** A station's units while they are taken, and what will free them: the step itself, or the one that ends the hold. */
export interface Held extends Interval {
  readonly step: string
  readonly freedBy: string
  readonly units: number
  readonly hold: Hold
}

/** Time taken by one step. */
export interface Taken extends Interval {
  readonly step: string
}

/** A plan looked at from the side of what it occupies: makers, stations, air. */
export class Occupancy {
  readonly problem: PlanningProblem
  readonly step: ReadonlyMap<string, PlanStep>
  readonly planned: ReadonlyMap<string, PlannedStep>
  readonly lagsInto: ReadonlyMap<string, readonly Lag[]>
  readonly lagsOutOf: ReadonlyMap<string, readonly Lag[]>
  readonly #busy: ReadonlyMap<string, Spans<Taken>>
  readonly #held: ReadonlyMap<string, Spans<Held>>
  readonly #wet: ReadonlyMap<string, Spans<Taken>>
  readonly #dust: ReadonlyMap<string, Spans<Taken>>
  readonly #clocks: ReadonlyMap<string, CureTime>
  readonly #sessions = new Map<string, Sessions>()

  constructor(problem: PlanningProblem, plan: Plan) {
    this.problem = problem
    this.step = new Map(problem.steps.map((step) => [step.id, step]))
    this.planned = new Map(plan.steps.map((step) => [step.id, step]))
    this.lagsInto = Map.groupBy(problem.lags, ({ to }) => to)
    this.lagsOutOf = Map.groupBy(problem.lags, ({ from }) => from)
    this.#clocks = new Map(problem.clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
    const busy = new Lists<Taken>()
    const held = new Lists<Held>()
    const wet = new Lists<Taken>()
    const dust = new Lists<Taken>()
    for (const step of problem.steps) {
      const { id, start, end, stretches, makers } = this.at(step.id)
      const first = stretches[0]
      if (first !== undefined) for (const maker of makers) busy.add(maker, { from: first.from, to: end, step: id })
      for (const hold of step.holds) {
        const to = this.heldUntil(step, hold)
        const freedBy = 'step' in hold.until ? hold.until.step : id
        if (start < to && hold.units > 0)
          held.add(hold.station, { from: start, to, step: id, freedBy, units: hold.units, hold })
      }
      if (step.tackyMin > 0) {
        wet.add(step.room, { from: start, to: this.after(end, step.tackyMin, step.tackyClock), step: id })
      }
      if (step.dusty) for (const stretch of stretches) dust.add(step.room, { ...stretch, step: id })
    }
    this.#busy = busy.spans()
    this.#held = held.spans()
    this.#wet = wet.spans()
    this.#dust = dust.spans()
  }

  at(id: string): PlannedStep {
    return this.planned.get(id)!
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

  /** When all of these makers are in the shop. */
  sessions(makers: readonly string[]): Sessions {
    const key = makers.join('\n')
    const known = this.#sessions.get(key)
    if (known !== undefined) return known
    const own = makers.map((id) => sessionsOf(this.problem.makers.find((maker) => maker.id === id)?.hours ?? []))
    const common = commonSessions(own)
    this.#sessions.set(key, common)
    return common
  }

  /** What a maker does at this instant. */
  busyAt(maker: string, instant: number): Taken | undefined {
    return this.#busy.get(maker)?.at(instant)[0]
  }

  /** Instants in (from, to] at which something that a step needs may become free, latest first; `to` is one of them. */
  changesBetween(step: PlanStep, makers: readonly string[], from: number, to: number): readonly number[] {
    const ending = [
      ...makers.map((maker) => this.#busy.get(maker)),
      ...step.holds.map(({ station }) => this.#held.get(station)),
      step.dusty ? this.#wet.get(step.room) : undefined,
      step.tackyMin > 0 ? this.#dust.get(step.room) : undefined,
    ].flatMap((spans) => spans?.endingBetween(from, to) ?? [])
    return [...new Set([to, ...ending.map((span) => span.to)])].sort((a, b) => b - a)
  }

  allHeld(station: string): readonly Held[] {
    return this.#held.get(station)?.all ?? []
  }

  heldAt(station: string, instant: number): readonly Held[] {
    return this.#held.get(station)?.at(instant) ?? []
  }

  wetAt(room: string, instant: number): Taken | undefined {
    return this.#wet.get(room)?.at(instant)[0]
  }

  dustAt(room: string, instant: number): Taken | undefined {
    return this.#dust.get(room)?.at(instant)[0]
  }
}

/** Lists by name, to become spans. */
class Lists<T extends Interval> {
  readonly #lists = new Map<string, T[]>()

  add(name: string, item: T): void {
    const known = this.#lists.get(name)
    if (known === undefined) this.#lists.set(name, [item])
    else known.push(item)
  }

  spans(): ReadonlyMap<string, Spans<T>> {
    return new Map([...this.#lists].map(([name, items]) => [name, new Spans(items)]))
  }
}

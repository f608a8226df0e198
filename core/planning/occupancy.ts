import { cureOver, cureTimeOf, type CureTime } from './cure-time.ts'
import type { Hold, Interval, Lag, Plan, PlannedStep, PlanningProblem, PlanStep } from './model.ts'
import { commonSessions, sessionsOf, type Sessions } from './sessions.ts'

/** A station's units while they are taken, and what will free them: the step itself, or the one that ends the hold. */
export interface Held extends Interval {
  readonly step: string
  readonly freedBy: string
  readonly units: number
  readonly hold: Hold
}

/** A plan looked at from the side of what it occupies: makers, stations, air. */
export class Occupancy {
  readonly problem: PlanningProblem
  readonly step: ReadonlyMap<string, PlanStep>
  readonly planned: ReadonlyMap<string, PlannedStep>
  readonly lagsInto: ReadonlyMap<string, readonly Lag[]>
  readonly lagsOutOf: ReadonlyMap<string, readonly Lag[]>
  readonly #busy = new Map<string, { readonly from: number; readonly to: number; readonly step: string }[]>()
  readonly #held = new Map<string, Held[]>()
  readonly #wet = new Map<string, { readonly from: number; readonly to: number; readonly step: string }[]>()
  readonly #dust = new Map<string, { readonly from: number; readonly to: number; readonly step: string }[]>()
  readonly #clocks: ReadonlyMap<string, CureTime>
  readonly #sessions = new Map<string, Sessions>()

  constructor(problem: PlanningProblem, plan: Plan) {
    this.problem = problem
    this.step = new Map(problem.steps.map((step) => [step.id, step]))
    this.planned = new Map(plan.steps.map((step) => [step.id, step]))
    this.lagsInto = Map.groupBy(problem.lags, ({ to }) => to)
    this.lagsOutOf = Map.groupBy(problem.lags, ({ from }) => from)
    this.#clocks = new Map(problem.clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
    for (const step of problem.steps) this.#note(step)
    for (const all of this.#busy.values()) all.sort((a, b) => a.from - b.from)
  }

  #note(step: PlanStep): void {
    const { id, start, end, stretches, makers } = this.planned.get(step.id)!
    const first = stretches[0]
    if (first !== undefined) {
      for (const maker of makers) listed(this.#busy, maker).push({ from: first.from, to: end, step: id })
    }
    for (const hold of step.holds) {
      const held = {
        from: start,
        to: this.heldUntil(step, hold),
        step: id,
        freedBy: 'step' in hold.until ? hold.until.step : id,
        units: hold.units,
        hold,
      }
      if (held.from < held.to && held.units > 0) listed(this.#held, hold.station).push(held)
    }
    if (step.tackyMin > 0) {
      listed(this.#wet, step.room).push({ from: start, to: this.after(end, step.tackyMin, step.tackyClock), step: id })
    }
    if (step.dusty) for (const stretch of stretches) listed(this.#dust, step.room).push({ ...stretch, step: id })
  }

  at(id: string): PlannedStep {
    return this.planned.get(id)!
  }

  readyAt(lag: Lag): number {
    return this.after(this.at(lag.from).end, lag.minMin, lag.clock)
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
  busyAt(
    maker: string,
    instant: number,
  ): { readonly from: number; readonly to: number; readonly step: string } | undefined {
    const all = this.#busy.get(maker) ?? []
    const last = all[lastAtOrBefore(all, instant)]
    return last !== undefined && instant < last.to ? last : undefined
  }

  /** Instants in (from, to] at which something that a step needs may become free, latest first; `to` is one of them. */
  changesBetween(step: PlanStep, makers: readonly string[], from: number, to: number): readonly number[] {
    const found = new Set([to])
    const note = (all: readonly Interval[]): void => {
      for (const each of all) if (each.to > from && each.to < to) found.add(each.to)
    }
    for (const maker of makers) {
      const all = this.#busy.get(maker) ?? []
      for (let last = lastAtOrBefore(all, to); last >= 0 && all[last]!.to > from; last--) note([all[last]!])
    }
    for (const { station } of step.holds) note(this.#held.get(station) ?? [])
    if (step.dusty) note(this.#wet.get(step.room) ?? [])
    if (step.tackyMin > 0) note(this.#dust.get(step.room) ?? [])
    return [...found].sort((a, b) => b - a)
  }

  allHeld(station: string): readonly Held[] {
    return this.#held.get(station) ?? []
  }

  heldAt(station: string, instant: number): readonly Held[] {
    return (this.#held.get(station) ?? []).filter(({ from, to }) => from <= instant && instant < to)
  }

  wetAt(room: string, instant: number): { readonly step: string; readonly to: number } | undefined {
    return (this.#wet.get(room) ?? []).find(({ from, to }) => from <= instant && instant < to)
  }

  dustAt(room: string, instant: number): { readonly step: string; readonly to: number } | undefined {
    return (this.#dust.get(room) ?? []).find(({ from, to }) => from <= instant && instant < to)
  }
}

function listed<T>(lists: Map<string, T[]>, key: string): T[] {
  const known = lists.get(key)
  if (known !== undefined) return known
  const list: T[] = []
  lists.set(key, list)
  return list
}

function lastAtOrBefore(sorted: readonly { readonly from: number }[], instant: number): number {
  let low = -1
  let high = sorted.length
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (sorted[middle]!.from <= instant) low = middle
    else high = middle
  }
  return low
}

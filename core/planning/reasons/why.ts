import type { BindingChain, Cause, Lag, Plan, PlanningProblem, PlanStep } from '../problem/model.ts'
import { occupancyOf, type Occupancy } from '../schedule/occupancy.ts'
import { sessionAt } from '../schedule/sessions.ts'

type Link = BindingChain['links'][number]

/** Longer chains than this explain nothing to anybody. */
const MOST_LINKS = 100

/** The chain that decides when a commission is done, first link first; no links when it is done already or has no steps. */
export function bindingChain(problem: PlanningProblem, plan: Plan, commissionId: string): BindingChain {
  const reasons = new Reasons(problem, plan)
  const links: Link[] = []
  const seen = new Set<string>()
  let step = reasons.lastStepOf(commissionId)
  while (step !== null && !seen.has(step) && links.length < MOST_LINKS) {
    seen.add(step)
    const causes = reasons.of(step)
    const { start, end } = reasons.occupancy.at(step)
    const id = step
    links.push(...causes.map((cause) => ({ step: id, start, end, cause })).reverse())
    step = causes[0] === undefined ? null : reasons.leadsBackTo(causes[0], seen)
  }
  return { commissionId, links: links.reverse() }
}

/** Finds the causes by looking at what a finished plan occupies just before each start. */
class Reasons {
  readonly occupancy: Occupancy
  readonly #known = new Map<string, readonly Cause[]>()
  /** The step of each commission that ends last. */
  readonly #last = new Map<string, string>()

  constructor(problem: PlanningProblem, plan: Plan) {
    this.occupancy = occupancyOf(problem, plan)
    for (const { id, commissionId, state } of problem.steps) {
      const last = this.#last.get(commissionId)
      if (state.kind === 'done' || (last !== undefined && this.occupancy.at(id).end < this.occupancy.at(last).end))
        continue
      this.#last.set(commissionId, id)
    }
  }

  lastStepOf(commissionId: string): string | null {
    return this.#last.get(commissionId) ?? null
  }

  of(id: string): readonly Cause[] {
    const known = this.#known.get(id)
    if (known !== undefined) return known
    const step = this.occupancy.step(id)
    const causes =
      step.state.kind === 'done' ? [] : step.state.kind === 'running' ? [{ kind: 'now' } as const] : this.#find(step)
    this.#known.set(id, causes)
    return causes
  }

  /** The step at which the chain goes on; null where it ends. A step that is done has no further story. */
  leadsBackTo(cause: Cause, seen: ReadonlySet<string>): string | null {
    const next = this.#stepBehind(cause, seen)
    return next === null || this.occupancy.step(next).state.kind === 'done' ? null : next
  }

  #stepBehind(cause: Cause, seen: ReadonlySet<string>): string | null {
    switch (cause.kind) {
      case 'wait':
        return cause.lag.from
      case 'window':
        return cause.lag.to
      case 'hands':
      case 'clean-air':
        return cause.step
      case 'station': {
        const freed = cause.heldBy
          .flatMap((id) => this.occupancy.heldAt(cause.station, cause.until - 1).filter(({ step }) => step === id))
          .map(({ freedBy }) => freedBy)
        return freed.find((id) => !seen.has(id)) ?? null
      }
      case 'closed':
      case 'air':
      case 'now':
      case 'release':
      case 'pinned':
        return null
    }
  }

  #find(step: PlanStep): readonly Cause[] {
    const planned = this.occupancy.at(step.id)
    const base = this.#base(step)
    const causes: Cause[] = []
    let at = planned.start
    while (at > base.at) {
      const closed = this.#closedBefore(step, planned.makers, at, base.at)
      if (closed !== null) {
        causes.unshift(closed)
        at = closed.from
        continue
      }
      const blocked = this.#blockedBefore(step, planned.makers, at)
      causes.unshift(blocked ?? this.#onPurpose(step) ?? base.cause)
      return causes
    }
    causes.unshift(base.cause)
    return causes
  }

  /** The instant from which nothing but hands, stations, air and hours can be in the way, and what sets it. */
  #base(step: PlanStep): { readonly at: number; readonly cause: Cause } {
    const { now } = this.occupancy.problem
    let at = now
    let cause: Cause = { kind: 'now' }
    if (step.release !== undefined && step.release > at) {
      at = step.release
      cause = {
        ...{ kind: 'release', until: step.release },
        ...(step.releaseWhy === undefined ? {} : { why: step.releaseWhy }),
      }
    }
    if (step.pinned !== undefined && step.pinned.to > now && step.pinned.from > at) {
      at = step.pinned.from
      cause = { kind: 'pinned', from: step.pinned.from }
    }
    for (const lag of this.occupancy.lagsInto.get(step.id) ?? []) {
      const over = this.occupancy.readyAt(lag)
      if (over < at || over <= now) continue
      at = over
      cause = { kind: 'wait', lag, over }
    }
    return { at, cause }
  }

  /** The closed time that ends at `at`, with the rest of the session before it if that was free but too short. */
  #closedBefore(
    step: PlanStep,
    makers: readonly string[],
    at: number,
    base: number,
  ): Extract<Cause, { kind: 'closed' | 'air' }> | null {
    const [maker] = makers
    if (maker === undefined) return null
    const sessions = this.occupancy.sessions(makers, step.allowed)
    const session = sessionAt(sessions, at - 1)
    if (session < sessions.count && sessions.from[session]! < at) return null
    const opened = session > 0 ? sessions.from[session - 1]! : -Infinity
    const closed = session > 0 ? sessions.to[session - 1]! : -Infinity
    const free = this.occupancy
      .changesBetween(step, makers, opened, closed)
      .find((instant) => this.#blockedBefore(step, makers, instant) !== null)
    const from = Math.max(base, free ?? opened)
    const hours = step.allowed === undefined ? sessions : this.occupancy.sessions(makers)
    const there = sessionAt(hours, at - 1)
    const isThere = there < hours.count && hours.from[there]! < at
    return isThere ? { kind: 'air', from, to: at } : { kind: 'closed', from, to: at, maker }
  }

  #blockedBefore(step: PlanStep, makers: readonly string[], at: number): Cause | null {
    for (const [station, needed] of unitsTakenBy(step)) {
      const held = this.occupancy.heldAt(station, at - 1).filter((each) => each.step !== step.id)
      const capacity = this.occupancy.problem.stations.find(({ id }) => id === station)!.capacity
      if (needed === 0 || held.reduce((sum, { units }) => sum + units, 0) + needed <= capacity) continue
      const leaving = held.filter(({ to }) => to === at)
      return {
        kind: 'station',
        station,
        heldBy: (leaving.length > 0 ? leaving : held).map((each) => each.step),
        until: at,
      }
    }
    for (const maker of makers) {
      const busy = this.occupancy.busyAt(maker, at - 1)
      if (busy !== undefined && busy.step !== step.id) return { kind: 'hands', maker, step: busy.step, until: busy.to }
    }
    // Without makers it is a milestone: nothing is worked on, so nothing raises dust.
    const wet = step.dusty && makers.length > 0 ? this.occupancy.wetAt(step.room, at - 1) : undefined
    if (wet !== undefined) return { kind: 'clean-air', step: wet.step, until: wet.to }
    const dust = step.tackyMin > 0 ? this.occupancy.dustAt(step.room, at - 1) : undefined
    if (dust !== undefined) return { kind: 'clean-air', step: dust.step, until: dust.to }
    return null
  }

  /** Nothing was in the way: it starts later so that a window further on is kept, the one with the least to spare. */
  #onPurpose(step: PlanStep): Cause | null {
    let tightest: Lag | null = null
    let least = Infinity
    for (const lag of this.#windowsAhead(step)) {
      const spare = this.occupancy.closesAt(lag) - this.occupancy.at(lag.to).start
      if (spare < 0 || spare >= least) continue
      least = spare
      tightest = lag
    }
    return tightest === null ? null : { kind: 'window', lag: tightest }
  }

  /** Windows out of the step, or out of what follows it closely. */
  #windowsAhead(step: PlanStep): Lag[] {
    const own = (this.occupancy.lagsOutOf.get(step.id) ?? []).filter(({ maxMin }) => maxMin !== null)
    if (own.length > 0) return own
    return step.holds.flatMap(({ until }) =>
      'step' in until ? (this.occupancy.lagsInto.get(until.step) ?? []).filter(({ maxMin }) => maxMin !== null) : [],
    )
  }
}

/** By station; a step may hold some of its units longer than others. */
function unitsTakenBy({ holds }: PlanStep): ReadonlyMap<string, number> {
  const taken = new Map<string, number>()
  for (const { station, units } of holds) taken.set(station, (taken.get(station) ?? 0) + units)
  return taken
}

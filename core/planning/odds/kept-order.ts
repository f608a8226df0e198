import { cureOver, cureTimeOf, type CureTime } from '../rules/cure-time.ts'
import { getsThere, type Draws } from './draws.ts'
import type { FrozenNode } from './frozen-network.ts'
import { NEVER } from '../problem/instants.ts'
import type { Interval, Lag, Plan, PlanningProblem } from '../problem/model.ts'
import { occupancyOf, type Occupancy } from '../schedule/occupancy.ts'
import { sessionAt, sessionsOf, sessionsWithin, type Sessions } from '../schedule/sessions.ts'

interface Runs {
  /** Null where nothing follows the start. */
  readonly start: Int32Array | null
  readonly end: Int32Array
}

/**
 * Replications in which everybody keeps to the plan's order: who follows whom on each maker, at each station, in each
 * room. All of them of one step after the other, a structure of arrays.
 */
export class KeptOrder {
  readonly #problem: PlanningProblem
  readonly #planned: Occupancy['planned']
  readonly #count: number
  readonly #draws: Draws
  readonly #clocks: ReadonlyMap<string, CureTime>
  readonly #runs: (Runs | undefined)[] = []
  /** By the windows of the air that bind the step, then by makers. */
  readonly #crews = new Map<readonly Interval[] | undefined, Map<string, CrewHours>>()
  /** 1 for each step whose start something follows. */
  readonly #startMatters: Uint8Array
  // Of the node that is run, written over by the next one.
  readonly #ready: Int32Array
  readonly #minutes: Int32Array
  readonly #waits: Int32Array
  readonly #starts: Int32Array

  constructor(problem: PlanningProblem, plan: Plan, nodes: readonly FrozenNode[], count: number, draws: Draws) {
    this.#problem = problem
    this.#planned = occupancyOf(problem, plan).planned
    this.#count = count
    this.#draws = draws
    this.#clocks = new Map(problem.clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
    this.#ready = new Int32Array(this.#count)
    this.#minutes = new Int32Array(this.#count)
    this.#waits = new Int32Array(this.#count)
    this.#starts = new Int32Array(this.#count)
    this.#startMatters = new Uint8Array(problem.steps.length)
    for (const { follows } of nodes)
      for (const { event, position } of follows) if (event === 'start') this.#startMatters[position] = 1
  }

  doneTimes(positions: readonly number[]): Int32Array {
    const done = new Int32Array(this.#count).fill(positions.length === 0 ? this.#problem.now : 0)
    for (const position of positions) {
      const ends = this.#endsOf(position)
      for (let run = 0; run < done.length; run++) if (ends[run]! > done[run]!) done[run] = ends[run]!
    }
    return done
  }

  /** Runs a node through all replications; returns how many windows into it were missed. */
  run(node: FrozenNode): number {
    const ready = this.#ready.fill(node.notBefore)
    // What needs no clock first: most clocks need not be looked at then.
    for (const isOnClock of [false, true]) {
      for (const { position, event, minutes, clock } of node.follows) {
        if ((clock !== undefined) !== isOnClock) continue
        const before = this.#runs[position]!
        this.#later(ready, event === 'start' ? before.start! : before.end, minutes, clock)
      }
    }
    if (node.step.state.kind === 'to-do') {
      for (const { lag, from } of node.lags) {
        const isUncertain = this.#draws.wait(lag, this.#waits)
        this.#later(ready, this.#endsOf(from), isUncertain ? this.#waits : lag.minMin, lag.clock)
      }
    }
    const minutes = this.#drawMinutes(node)
    const misses = this.#addRemedies(node, ready, minutes)
    this.#runs[node.position] = this.#work(node, ready, minutes)
    return misses
  }

  #endsOf(position: number): Int32Array {
    return this.#runs[position]?.end ?? new Int32Array(this.#count).fill(this.#planned[position]!.end)
  }

  /** @param waits minutes after the event in each replication, or in all of them */
  #later(ready: Int32Array, event: Int32Array, waits: Int32Array | number, clockId: string | undefined): void {
    const clock = clockId === undefined ? undefined : this.#clocks.get(clockId)
    if (clock === undefined && typeof waits === 'number') {
      for (let run = 0; run < ready.length; run++) {
        const over = event[run]! + waits
        if (over > ready[run]!) ready[run] = over
      }
      return
    }
    const slowest = clock?.slowest ?? 1
    for (let run = 0; run < ready.length; run++) {
      const wait = typeof waits === 'number' ? waits : waits[run]!
      const from = event[run]!
      if (from + wait / slowest + 1 <= ready[run]!) continue
      const over = clock === undefined ? from + wait : cureOver(clock, from, wait)
      if (over > ready[run]!) ready[run] = over
    }
  }

  /** As planned, from the usual wait: the window does not wait for a coat that dries slower than that. */
  #closesAt({ minMin, maxMin, clock }: Lag, end: number): number {
    const max = maxMin ?? NEVER
    return clock === undefined ? end + max : cureOver(this.#clocks.get(clock)!, end, minMin) + max - minMin
  }

  #drawMinutes({ step, makers, setUpMin }: FrozenNode): Int32Array {
    const minutes = this.#minutes
    this.#draws.minutes(step, makers[0], minutes)
    if (setUpMin > 0) for (let run = 0; run < minutes.length; run++) minutes[run]! += setUpMin
    return minutes
  }

  /** A window that is missed costs its remedy; whether it is, is asked of the session in which the step can start. */
  #addRemedies(node: FrozenNode, ready: Int32Array, minutes: Int32Array): number {
    let misses = 0
    for (const { lag, from } of node.lags) {
      if (lag.maxMin === null || node.step.state.kind !== 'to-do') continue
      const ends = this.#endsOf(from)
      let starts = ready
      if (node.makers.length > 0) {
        starts = this.#starts
        const { interruptible, smallestStretchMin, allowed } = node.step
        this.#crew(node.makers, allowed).starts(ready, minutes, interruptible, smallestStretchMin, starts)
      }
      for (let run = 0; run < ready.length; run++) {
        if (starts[run]! <= this.#closesAt(lag, ends[run]!)) continue
        misses += 1
        minutes[run]! += lag.remedy?.minutes ?? 0
      }
    }
    return misses
  }

  #work({ position, step, makers }: FrozenNode, ready: Int32Array, minutes: Int32Array): Runs {
    const end = new Int32Array(this.#count)
    const start = this.#startMatters[position] === 1 ? new Int32Array(this.#count) : null
    // What is in progress goes on at the next opening, whether it fits or not.
    const goesOn = step.state.kind === 'running'
    const smallest = goesOn ? 0 : step.smallestStretchMin
    const starts = start ?? this.#starts
    if (makers.length === 0) {
      starts.set(ready)
      for (let run = 0; run < end.length; run++) end[run] = ready[run]! + minutes[run]!
    } else {
      const crew = this.#crew(makers, goesOn ? undefined : step.allowed)
      crew.starts(ready, minutes, step.interruptible || goesOn, smallest, starts)
      // A milestone with a remedy needs its makers only where the remedy is needed.
      for (let run = 0; run < end.length; run++) if (minutes[run] === 0) starts[run] = ready[run]!
      crew.ends(starts, minutes, step.interruptible, smallest, end)
    }
    if (goesOn) start?.fill(this.#planned[position]!.start)
    return { start, end }
  }

  #crew(makers: readonly string[], allowed: readonly Interval[] | undefined): CrewHours {
    const key = makers.join('\n')
    const crews = this.#crews.get(allowed) ?? new Map<string, CrewHours>()
    this.#crews.set(allowed, crews)
    const known = crews.get(key)
    if (known !== undefined) return known
    const own = makers.map((id) => this.#problem.makers.find((maker) => maker.id === id)!)
    const rates = own.map(({ id }) => this.#draws.rateOf(id))
    const crew = new CrewHours(
      own.map(({ hours }) => sessionsOf(hours)),
      own.map(({ id }) => this.#draws.luckOfEvenings(id)),
      rates,
      this.#problem.now,
      allowed === undefined ? null : sessionsOf(allowed),
    )
    crews.set(key, crew)
    return crew
  }
}

/** The hours of makers who work together, less the sessions that one of them does not get to. */
class CrewHours {
  readonly #sessions: Sessions
  readonly #own: readonly Sessions[]
  readonly #luck: readonly number[]
  readonly #rates: readonly number[]
  readonly #isCertain: boolean
  readonly #now: number

  constructor(
    own: readonly Sessions[],
    luck: readonly number[],
    rates: readonly number[],
    now: number,
    allowed: Sessions | null,
  ) {
    this.#own = own
    this.#sessions = sessionsWithin(own, allowed)
    this.#luck = luck
    this.#rates = rates
    this.#isCertain = rates.every((rate) => rate >= 1)
    this.#now = now
  }

  /** First start of the work of each replication that may begin at `ready`. What fits no session is begun with the first one all the same. */
  starts(ready: Int32Array, minutes: Int32Array, mayStop: boolean, smallest: number, into: Int32Array): void {
    const { count, from, to } = this.#sessions
    for (let run = 0; run < ready.length; run++) {
      const at = ready[run]!
      const work = minutes[run]!
      const session = sessionAt(this.#sessions, at)
      const least = mayStop ? Math.min(smallest, work) : work
      const begin = session < count && from[session]! > at ? from[session]! : at
      const fits = session < count && to[session]! - begin >= least && (this.#isCertain || this.#isThere(session, run))
      into[run] = fits ? begin : this.#laterStart(session, at, least, run)
    }
  }

  #laterStart(next: number, ready: number, least: number, run: number): number {
    const { count, from, to } = this.#sessions
    let first = -1
    for (let session = next; session < count; session++) {
      if (!this.#isThere(session, run)) continue
      const begin = Math.max(ready, from[session]!)
      if (first < 0) first = begin
      if (to[session]! - begin >= least) return begin
      if (from[session]! > ready + LONGEST_SEARCH) break
    }
    return first < 0 ? ready : first
  }

  ends(starts: Int32Array, minutes: Int32Array, mayStop: boolean, smallest: number, into: Int32Array): void {
    const { count, from, to } = this.#sessions
    for (let run = 0; run < starts.length; run++) {
      const start = starts[run]!
      const work = minutes[run]!
      into[run] = start + work
      if (!mayStop) continue
      const session = sessionAt(this.#sessions, start)
      if (session >= count) continue
      const begin = from[session]! > start ? from[session]! : start
      if (to[session]! - begin < work) into[run] = this.#laterEnd(session, begin, work, smallest, run)
    }
  }

  #laterEnd(first: number, start: number, work: number, smallest: number, run: number): number {
    const { count, from, to } = this.#sessions
    let left = work - (to[first]! - start)
    for (let session = first + 1; session < count; session++) {
      if (!this.#isThere(session, run)) continue
      const length = to[session]! - from[session]!
      if (length >= left) return from[session]! + left
      if (length >= smallest) left -= length
    }
    return start + work
  }

  /** Each maker gets to a session or not as a whole; to the one that runs now everybody got. */
  #isThere(session: number, run: number): boolean {
    if (this.#isCertain) return true
    const begins = this.#sessions.from[session]!
    if (begins <= this.#now) return true
    for (let maker = 0; maker < this.#own.length; maker++) {
      const rate = this.#rates[maker]!
      if (rate >= 1) continue
      const own = this.#own[maker]!
      const opens = own.from[sessionAt(own, begins)]!
      if (!getsThere(this.#luck[maker]!, rate, opens, run)) return false
    }
    return true
  }
}

/** A stretch of work longer than any session near is not waited for. */
const LONGEST_SEARCH = 60 * 1440

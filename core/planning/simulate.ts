import type { Odds } from './answers.ts'
import { cureOver, cureTimeOf, type CureTime } from './cure-time.ts'
import { frozenNetwork, type FrozenNode } from './frozen-network.ts'
import { NEVER } from './instants.ts'
import { luckOf, normal, triangular, uniform } from './luck.ts'
import type { Lag, Plan, PlanningProblem } from './model.ts'
import { commonSessions, endOfWork, sessionAt, sessionsOf, type Sessions } from './sessions.ts'

export interface SimulateOptions {
  /** 1,000 put the date reached 19 times in 20 between the true 93.6 % and 96.4 % dates, with 95 % confidence. */
  readonly replications: number
  /** Default 1. The same seed gives every step the same luck in every plan it is in. */
  readonly seed?: number
  /** Whose dates are asked for; absent: all. */
  readonly commissions?: readonly string[]
  /** How often a maker gets to the shop at all when hours are planned, 0..1; absent: always. */
  readonly attendance?: readonly { readonly maker: string; readonly rate: number }[]
}

/**
 * Spread that all steps of a commission share (a hard wood, an unusual shape), and that all steps of a maker share (a
 * slow month), as standard deviations of the logarithm. Independent errors alone cancel out over thirty steps and make
 * the safe date far too early. Common practice, no source.
 */
const COMMISSION_SPREAD = 0.12
const MAKER_SPREAD = 0.08

/** The dates reached with uncertain minutes, waits and evenings, keeping the plan's decisions; in the order asked for. */
export function simulate(
  problem: PlanningProblem,
  plan: Plan,
  options: SimulateOptions,
): readonly { readonly commissionId: string; readonly odds: Odds }[] {
  const asked = options.commissions ?? problem.commissions.map(({ id }) => id)
  const steps = Map.groupBy(problem.steps, ({ commissionId }) => commissionId)
  const targets = asked.flatMap((id) => (steps.get(id) ?? []).map((step) => step.id))
  const { nodes } = frozenNetwork(problem, plan, options.commissions === undefined ? undefined : targets)
  const runs = new Replications(problem, plan, nodes, options)
  const missed = new Map(asked.map((id) => [id, 0]))
  for (const node of nodes) {
    const misses = runs.run(node)
    const known = missed.get(node.step.commissionId)
    if (known !== undefined) missed.set(node.step.commissionId, known + misses)
  }
  return asked.map((commissionId) => {
    const done = runs.doneTimes((steps.get(commissionId) ?? []).map(({ id }) => id))
    const promise = problem.commissions.find(({ id }) => id === commissionId)?.promise ?? null
    return { commissionId, odds: oddsOf(done, promise, missed.get(commissionId)! / options.replications) }
  })
}

function oddsOf(done: Int32Array, promise: number | null, missedWindows: number): Odds {
  const sorted = done.toSorted()
  const reached = (share: number): number => sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!
  return {
    replications: sorted.length,
    reached50: reached(0.5),
    reached80: reached(0.8),
    reached95: reached(0.95),
    keepsPromise: promise === null ? null : sorted.filter((at) => at <= promise).length / sorted.length,
    missedWindows,
  }
}

interface Runs {
  /** Null where nothing follows the start. */
  readonly start: Int32Array | null
  readonly end: Int32Array
}

/** All replications of one node after the other: a structure of arrays. */
class Replications {
  readonly #problem: PlanningProblem
  readonly #plan: ReadonlyMap<string, Plan['steps'][number]>
  readonly #count: number
  readonly #seed: number
  readonly #clocks: ReadonlyMap<string, CureTime>
  readonly #runs = new Map<string, Runs>()
  readonly #factors = new Map<string, Float64Array>()
  readonly #crews = new Map<string, CrewHours>()
  readonly #attendance: ReadonlyMap<string, number>
  readonly #startMatters: ReadonlySet<string>
  // Of the node that is run, written over by the next one.
  readonly #ready: Int32Array
  readonly #minutes: Float64Array

  constructor(problem: PlanningProblem, plan: Plan, nodes: readonly FrozenNode[], options: SimulateOptions) {
    this.#problem = problem
    this.#plan = new Map(plan.steps.map((step) => [step.id, step]))
    this.#count = Math.max(1, Math.floor(options.replications))
    this.#seed = options.seed ?? 1
    this.#clocks = new Map(problem.clocks.map((clock) => [clock.id, cureTimeOf(clock)]))
    this.#ready = new Int32Array(this.#count)
    this.#minutes = new Float64Array(this.#count)
    this.#startMatters = new Set(
      nodes.flatMap(({ follows }) => follows.filter(({ event }) => event === 'start').map(({ step }) => step)),
    )
    this.#attendance = new Map((options.attendance ?? []).map(({ maker, rate }) => [maker, rate]))
  }

  doneTimes(steps: readonly string[]): Int32Array {
    const done = new Int32Array(this.#count).fill(steps.length === 0 ? this.#problem.now : 0)
    for (const step of steps) {
      const runs = this.#runs.get(step)
      const planned = this.#plan.get(step)!.end
      for (let run = 0; run < this.#count; run++)
        done[run] = Math.max(done[run]!, runs === undefined ? planned : runs.end[run]!)
    }
    return done
  }

  /** Runs a node through all replications; returns how many windows into it were missed. */
  run(node: FrozenNode): number {
    const ready = this.#ready.fill(node.notBefore)
    for (const { step, event, minutes, clock } of node.follows) {
      const before = this.#runs.get(step)!
      this.#later(ready, event === 'start' ? before.start! : before.end, minutes, null, clock)
    }
    if (node.step.state.kind === 'to-do') {
      for (const lag of node.lags) {
        const luck = luckOf(`wait ${lag.from} ${lag.to} ${lag.name}`, this.#seed)
        this.#later(
          ready,
          this.#endsOf(lag.from),
          lag.minMin,
          lag.spread === undefined ? null : { ...lag.spread, luck },
          lag.clock,
        )
      }
    }
    const minutes = this.#drawMinutes(node)
    const misses = this.#addRemedies(node, ready, minutes)
    const runs = this.#work(node, ready, minutes)
    this.#runs.set(node.step.id, runs)
    return misses
  }

  #endsOf(step: string): Int32Array {
    return this.#runs.get(step)?.end ?? new Int32Array(this.#count).fill(this.#plan.get(step)!.end)
  }

  #later(
    ready: Int32Array,
    event: Int32Array,
    minutes: number,
    spread: { readonly optimistic: number; readonly pessimistic: number; readonly luck: number } | null,
    clockId: string | undefined,
  ): void {
    const clock = clockId === undefined ? undefined : this.#clocks.get(clockId)
    const isUncertain = spread !== null && spread.pessimistic > spread.optimistic
    if (clock === undefined && !isUncertain) {
      for (let run = 0; run < ready.length; run++) {
        const over = event[run]! + minutes
        if (over > ready[run]!) ready[run] = over
      }
      return
    }
    for (let run = 0; run < ready.length; run++) {
      const wait = isUncertain
        ? Math.round(triangular(spread.optimistic, minutes, spread.pessimistic, uniform(spread.luck, run)))
        : minutes
      const over = clock === undefined ? event[run]! + wait : cureOver(clock, event[run]!, wait)
      if (over > ready[run]!) ready[run] = over
    }
  }

  /** As planned, from the usual wait: the window does not wait for a coat that dries slower than that. */
  #closesAt({ minMin, maxMin, clock }: Lag, end: number): number {
    const max = maxMin ?? NEVER
    return clock === undefined ? end + max : cureOver(this.#clocks.get(clock)!, end, minMin) + max - minMin
  }

  #drawMinutes({ step, makers, setUpMin }: FrozenNode): Float64Array {
    const minutes = this.#minutes.fill(step.minutes + setUpMin)
    const { spread } = step
    if (spread === undefined || step.minutes === 0) return minutes
    const luck = luckOf(`step ${step.id}`, this.#seed)
    const shared = this.#factor(`commission ${step.commissionId}`, COMMISSION_SPREAD)
    const makerShared = makers[0] === undefined ? null : this.#factor(`maker ${makers[0]}`, MAKER_SPREAD)
    for (let run = 0; run < this.#count; run++) {
      const own = triangular(spread.optimistic, step.minutes, spread.pessimistic, uniform(luck, run))
      minutes[run] =
        setUpMin + Math.max(1, Math.round(own * shared[run]! * (makerShared === null ? 1 : makerShared[run]!)))
    }
    return minutes
  }

  #factor(name: string, spread: number): Float64Array {
    const known = this.#factors.get(name)
    if (known !== undefined) return known
    const luck = luckOf(name, this.#seed)
    const factor = Float64Array.from({ length: this.#count }, (_, run) => Math.exp(spread * normal(luck, run)))
    this.#factors.set(name, factor)
    return factor
  }

  /** A window that is missed costs its remedy; whether it is, is asked of the session in which the step can start. */
  #addRemedies(node: FrozenNode, ready: Int32Array, minutes: Float64Array): number {
    let misses = 0
    for (const lag of node.lags) {
      if (lag.maxMin === null || node.step.state.kind !== 'to-do') continue
      const ends = this.#endsOf(lag.from)
      const crew = this.#crew(node.makers)
      for (let run = 0; run < this.#count; run++) {
        const starts =
          node.makers.length === 0
            ? ready[run]!
            : crew.start(ready[run]!, minutes[run]!, node.step.interruptible, node.step.smallestStretchMin, run)
        if (starts <= this.#closesAt(lag, ends[run]!)) continue
        misses += 1
        minutes[run] = minutes[run]! + (lag.remedy?.minutes ?? 0)
      }
    }
    return misses
  }

  #work({ step, makers }: FrozenNode, ready: Int32Array, minutes: Float64Array): Runs {
    const end = new Int32Array(this.#count)
    const start = this.#startMatters.has(step.id) ? new Int32Array(this.#count) : null
    // What is in progress goes on at the next opening, whether it fits or not.
    const goesOn = step.state.kind === 'running'
    const smallest = goesOn ? 0 : step.smallestStretchMin
    const crew = makers.length === 0 ? null : this.#crew(makers)
    for (let run = 0; run < this.#count; run++) {
      const work = minutes[run]!
      let begin = ready[run]!
      if (crew === null || work === 0) {
        end[run] = begin + work
      } else {
        begin = crew.start(begin, work, step.interruptible || goesOn, smallest, run)
        end[run] = crew.end(begin, work, step.interruptible, smallest, run)
      }
      if (start !== null) start[run] = begin
    }
    if (goesOn) start?.fill(this.#plan.get(step.id)!.start)
    return { start, end }
  }

  #crew(makers: readonly string[]): CrewHours {
    const key = makers.join('\n')
    const known = this.#crews.get(key)
    if (known !== undefined) return known
    const own = makers.map((id) => this.#problem.makers.find((maker) => maker.id === id)!)
    const rates = own.map(({ id }) => this.#attendance.get(id) ?? 1)
    const crew = new CrewHours(
      own.map(({ hours }) => sessionsOf(hours)),
      own.map(({ id }) => luckOf(`evening ${id}`, this.#seed)),
      rates,
      this.#problem.now,
    )
    this.#crews.set(key, crew)
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

  constructor(own: readonly Sessions[], luck: readonly number[], rates: readonly number[], now: number) {
    this.#own = own
    this.#sessions = own.length === 1 ? own[0]! : commonSessions(own)
    this.#luck = luck
    this.#rates = rates
    this.#isCertain = rates.every((rate) => rate >= 1)
    this.#now = now
  }

  /** First start of work that may begin at `from`. What fits no session is begun with the first one all the same. */
  start(from: number, work: number, mayStop: boolean, smallest: number, run: number): number {
    const { count, to } = this.#sessions
    const opens = this.#sessions.from
    const least = mayStop ? Math.min(smallest, work) : work
    let first = -1
    for (let session = sessionAt(this.#sessions, from); session < count; session++) {
      if (!this.#isThere(session, run)) continue
      const begin = Math.max(from, opens[session]!)
      if (first < 0) first = begin
      if (to[session]! - begin >= least) return begin
      if (opens[session]! > from + LONGEST_SEARCH) break
    }
    return first < 0 ? from : first
  }

  end(start: number, work: number, mayStop: boolean, smallest: number, run: number): number {
    const first = sessionAt(this.#sessions, start)
    if (!mayStop || first >= this.#sessions.count) return start + work
    if (this.#isCertain) {
      const end = endOfWork(this.#sessions, first, Math.max(start, this.#sessions.from[first]!), work, smallest)
      return end < NEVER ? end : start + work
    }
    const { count, from, to } = this.#sessions
    let left = work - (to[first]! - start)
    if (left <= 0) return start + work
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
      // By the instant at which it opens, so that hours added elsewhere do not change the luck of this one.
      const opens = own.from[sessionAt(own, begins)]!
      if (uniform(this.#luck[maker]! ^ Math.imul(opens, 0x27d4eb2f), run) >= rate) return false
    }
    return true
  }
}

/** A stretch of work longer than any session near is not waited for. */
const LONGEST_SEARCH = 60 * 1440

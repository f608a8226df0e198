import { TO_DO, type Compiled } from '../problem/compiled.ts'
import { NEVER } from '../problem/instants.ts'
import type { Objective } from '../problem/model.ts'
import { compareObjectives, tardinessOf } from '../rules/measured.ts'
import { endOfStep, leastOpen } from '../rules/stretches.ts'
import { readyAfterLag } from '../rules/waits.ts'
import { sessionAt } from '../schedule/sessions.ts'
import { Dominance } from './dominance.ts'
import { LeastTimes, type InTurn } from './least-times.ts'

/** Start, crew and set-up of each step still to do, of the best of all schedules. */
export interface ExactSchedule {
  readonly start: Int32Array
  readonly end: Int32Array
  readonly crew: Int32Array
  readonly setUp: Int32Array
  readonly objective: Objective
}

export type ExactAnswer =
  | { readonly kind: 'optimal'; readonly schedule: ExactSchedule }
  /** Nothing keeps all windows and pins; `lag`: the window that was in the way most often, -1 when none was. */
  | { readonly kind: 'none'; readonly lag: number }
  /** The search was too long; the best found by then. */
  | { readonly kind: 'unfinished'; readonly schedule: ExactSchedule | null }

/**
 * The best of all schedules, by complete search over the orders in which the steps start, for problems of a dozen steps.
 *
 * For one order (and one crew for each step) the constraints have a least solution: each start is the least value that
 * the starts before it allow, and where a window or a hold is broken the step that opened it is raised to the least start
 * that keeps it, until nothing changes. As no objective gets worse when steps come earlier, that least schedule is the best of
 * its order, and the best over all orders is the optimum. Branches are cut by the times that calendars and waits alone allow.
 * All windows and pins are kept in any case.
 *
 * @param mostNodes partial orders looked at before giving up
 * @param known a schedule that keeps all windows and pins: only better ones are looked for
 */
export function bestSchedule(compiled: Compiled, mostNodes = 200_000, known: ExactSchedule | null = null): ExactAnswer {
  return new OrderSearch(compiled, mostNodes, known).run()
}

/** Whether the complete search covers everything in a problem, and it is small enough to be worth trying. */
export function isExactlySolvable(
  { state, lagMin, lagTo, dusty, interruptible, tackyMin }: Compiled,
  mostSteps: number,
): boolean {
  let open = 0
  let wet = false
  let dustyPauses = false
  for (let step = 0; step < state.length; step++) {
    if (tackyMin[step]! > 0) wet = true
    if (dusty[step] === 1 && interruptible[step] === 1) dustyPauses = true
    if (state[step] === TO_DO) open += 1
  }
  const backward = lagMin.some((minutes, lag) => minutes < 0 && state[lagTo[lag]!] === TO_DO)
  return open <= mostSteps && !backward && !(wet && dustyPauses)
}

/** Raises that are tried, per partial order that may be looked at. */
const RAISES_A_NODE = 5

class OrderSearch {
  readonly #compiled: Compiled
  readonly #times: LeastTimes
  readonly #dominance: Dominance
  /** The soonest start of each step as far as calendars and waits alone tell. */
  readonly #bound: Int32Array
  readonly #topological: readonly number[]
  /** Makers of one kind have the same hours, the same steps that they may do, and nothing begun. */
  readonly #kinds: readonly string[]
  #nodes: number
  #best: ExactSchedule | null = null

  constructor(compiled: Compiled, mostNodes: number, known: ExactSchedule | null) {
    this.#compiled = compiled
    this.#nodes = mostNodes
    this.#best = known
    this.#times = new LeastTimes(compiled, RAISES_A_NODE * mostNodes)
    this.#dominance = new Dominance(this.#times)
    this.#bound = new Int32Array(compiled.stepCount)
    this.#topological = this.#forward()
    const { running, lastFamily } = this.#times.facts
    const begun = new Set([...running.values()].flatMap(({ makers }) => makers))
    this.#kinds = compiled.problem.makers.map(({ id, hours }, maker) => {
      if (begun.has(maker) || lastFamily[maker]! >= 0) return id
      const able = compiled.problem.steps.map(({ makers }) => (makers === undefined || makers.includes(id) ? 1 : 0))
      return `kind ${hours.map(({ from, to }) => `${from}-${to}`).join()} ${able.join('')}`
    })
  }

  run(): ExactAnswer {
    const times = this.#times
    if (this.#topological.length < times.open.length) return { kind: 'unfinished', schedule: null }
    this.#extend(this.#compiled.now)
    if (this.#nodes < 0) return { kind: 'unfinished', schedule: this.#best }
    if (this.#best !== null) return { kind: 'optimal', schedule: this.#best }
    const most = Math.max(0, ...times.blockedBy)
    return { kind: 'none', lag: most > 0 ? times.blockedBy.indexOf(most) : -1 }
  }

  /** Steps still to do so that lags lead forward; shorter when they go in a circle. */
  #forward(): number[] {
    const { lagsInto, lagsOutOf, lagFrom, lagTo, state } = this.#compiled
    const waiting = new Map<number, number>()
    for (const step of this.#times.open) {
      let before = 0
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        if (state[lagFrom[lagsInto.items[at]!]!] === TO_DO) before += 1
      }
      waiting.set(step, before)
    }
    const order = this.#times.open.filter((step) => waiting.get(step) === 0)
    for (const step of order) {
      for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
        const to = lagTo[lagsOutOf.items[at]!]!
        if (state[to] !== TO_DO) continue
        waiting.set(to, waiting.get(to)! - 1)
        if (waiting.get(to) === 0) order.push(to)
      }
    }
    return order
  }

  #extend(from: number): void {
    const times = this.#times
    if (--this.#nodes < 0) return
    if (times.sequence.length === times.open.length) {
      this.#note()
      return
    }
    if (!this.#mayBeBetter(from) || this.#dominance.isDominated(from)) return
    const kept = times.snapshot()
    for (const next of this.#choices(from)) {
      times.push(next)
      const settling = times.settle()
      // Where an order cannot keep a window, it may take a year of small steps to find that out.
      if (settling === 'given-up') this.#nodes = -1
      if (settling === 'settled') this.#extend(times.start[next.step]!)
      times.pop()
      times.restore(kept)
      if (this.#nodes < 0) return
    }
  }

  /** What can start next, soonest first, so that good schedules are found early. */
  #choices(from: number): InTurn[] {
    const times = this.#times
    const { lagsInto, lagFrom, state, crewsOf, minutes } = this.#compiled
    const found: (InTurn & { readonly soonest: number })[] = []
    for (const step of times.open) {
      if (times.position[step]! >= 0) continue
      let isReady = true
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]! && isReady; at++) {
        const before = lagFrom[lagsInto.items[at]!]!
        if (state[before] === TO_DO && times.position[before]! < 0) isReady = false
      }
      if (!isReady) continue
      const soonest = Math.max(from, this.#bound[step]!)
      if (minutes[step] === 0) found.push({ step, crew: -1, soonest })
      else for (const crew of this.#differentCrews(crewsOf[step]!)) found.push({ step, crew, soonest })
    }
    return found.sort((a, b) => a.soonest - b.soonest || this.#bound[a.step]! - this.#bound[b.step]! || a.step - b.step)
  }

  /** Of makers who are alike and have not been used yet, any is as good as the other. */
  #differentCrews(crews: readonly number[]): readonly number[] {
    if (crews.length < 2) return crews
    const used = new Set<number>()
    for (const { crew } of this.#times.sequence)
      if (crew >= 0) for (const maker of this.#compiled.crews[crew]!.makers) used.add(maker)
    const seen = new Set<string>()
    return crews.filter((crew) => {
      const key = this.#compiled.crews[crew]!.makers.map((maker) =>
        used.has(maker) ? `${maker}` : this.#kinds[maker]!,
      )
        .sort()
        .join('|')
      if (seen.has(key)) return false
      seen.add(key)
      return true
    })
  }

  /** Whether some completion of the sequence may beat the best: by the times that calendars and waits alone allow. */
  #mayBeBetter(from: number): boolean {
    const times = this.#times
    const { earliest, lagsInto, lagFrom, crewsOf, crews, minutes } = this.#compiled
    for (const step of this.#topological) {
      if (times.position[step]! >= 0) {
        this.#bound[step] = times.start[step]!
        continue
      }
      let start = Math.max(from, earliest[step]!)
      for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
        const lag = lagsInto.items[at]!
        start = Math.max(start, readyAfterLag(this.#compiled, lag, times.end[lagFrom[lag]!]!))
      }
      let end = minutes[step] === 0 ? start : NEVER
      let begin = minutes[step] === 0 ? start : NEVER
      for (const crew of minutes[step] === 0 ? [] : crewsOf[step]!) {
        const { sessions } = crews[crew]!
        for (let session = sessionAt(sessions, start); session < sessions.count; session++) {
          const at = Math.max(start, sessions.from[session]!)
          if (sessions.to[session]! - at < leastOpen(this.#compiled, step, minutes[step]!)) continue
          begin = Math.min(begin, at)
          end = Math.min(end, endOfStep(this.#compiled, step, sessions, session, at, minutes[step]!))
          break
        }
      }
      if (begin >= this.#compiled.pinnedTo[step]! || end >= NEVER) return false
      this.#bound[step] = begin
      times.end[step] = end
    }
    return this.#best === null || compareObjectives(this.#objective(), this.#best.objective) < 0
  }

  #objective(): Objective {
    const times = this.#times
    const { commissionCount, commission, promise, weight, now, announced } = this.#compiled
    const done = new Int32Array(commissionCount).fill(-1)
    let last = now
    for (let step = 0; step < times.end.length; step++) {
      done[commission[step]!] = Math.max(done[commission[step]!]!, times.end[step]!)
      last = Math.max(last, times.end[step]!)
    }
    let weightedTardiness = 0
    let weightedCompletion = 0
    done.forEach((at, index) => {
      if (promise[index] === NEVER) weightedCompletion += weight[index]! * Math.max(0, at - now)
      else weightedTardiness += tardinessOf(this.#compiled, index, at)
    })
    let moved = 0
    for (const { step } of times.sequence)
      if (announced[step]! >= 0 && announced[step] !== times.start[step]) moved += 1
    return { missedWindows: 0, weightedTardiness, weightedCompletion, makespanMin: last - now, moved }
  }

  #note(): void {
    const times = this.#times
    const objective = this.#objective()
    if (this.#best !== null && compareObjectives(objective, this.#best.objective) >= 0) return
    this.#best = {
      start: times.start.slice(),
      end: times.end.slice(),
      crew: times.crew.slice(),
      setUp: times.setUp.slice(),
      objective,
    }
  }
}

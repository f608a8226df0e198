import type { LostDate, Tonight, TonightItem } from '../quote/answers.ts'
import { blocksOf } from '../schedule/blocks.ts'
import { compile, type Compiled } from '../problem/compiled.ts'
import { compareObjectives, doneTimes, measured } from '../rules/measured.ts'
import type { Interval, Lag, Objective, Plan, PlanningProblem, PlanStep } from '../problem/model.ts'
import { Replacement } from '../search/neighbourhood.ts'
import { occupancyOf, type Occupancy } from '../schedule/occupancy.ts'
import { plannedTimes } from '../schedule/planned-times.ts'
import { Schedule } from '../schedule/schedule.ts'
import { sessionsOf } from '../schedule/sessions.ts'
import { resumePlan } from '../schedule/take-over.ts'

/** A wait shorter than this does not need the night. */
const LEAST_WAIT = 60

/**
 * What has to be started in the session that runs or comes next so that its wait works through the night: with the
 * latest start, and what is lost if it is left for the session after.
 */
export function tonight(problem: PlanningProblem, plan: Plan): Tonight {
  const session = sessionAhead(problem)
  if (session === null) return { session: null, items: [] }
  const occupancy = occupancyOf(problem, plan)
  const starters = problem.steps.flatMap((step) => {
    const wait = waitSetGoing(occupancy, step)
    const { start } = occupancy.at(step.id)
    return step.state.kind === 'to-do' && wait !== null && start >= session.from && start < session.to
      ? [{ step, wait }]
      : []
  })
  if (starters.length === 0) return { session, items: [] }
  const leaving = new Leaving(problem, plan)
  const items = starters.map(({ step, wait }): TonightItem => {
    const planned = occupancy.at(step.id)
    return {
      step: step.id,
      wait,
      plannedStart: planned.start,
      latestStart: Math.max(planned.start, latestStart(occupancy, step, session)),
      overAt: occupancy.readyAt(wait),
      ifLeft: leaving.lostIfLeft(step, session.to),
    }
  })
  return { session, items: items.sort((a, b) => a.latestStart - b.latestStart || a.plannedStart - b.plannedStart) }
}

/** The session of any maker that runs at `now` or opens next. */
function sessionAhead({ makers, now }: PlanningProblem): Interval | null {
  let next: Interval | null = null
  for (const { hours } of makers) {
    const { count, from, to } = sessionsOf(hours)
    for (let session = 0; session < count; session++) {
      if (to[session]! <= now) continue
      if (next === null || Math.max(now, from[session]!) < Math.max(now, next.from))
        next = { from: from[session]!, to: to[session]! }
      break
    }
  }
  return next
}

/** The longest wait out of a step that is worth a night: glue, cure, finish, rest. */
function waitSetGoing(occupancy: Occupancy, step: PlanStep): Lag | null {
  let longest: Lag | null = null
  for (const lag of occupancy.lagsOutOf.get(step.id) ?? []) {
    if (lag.wait === 'none' || lag.minMin < LEAST_WAIT) continue
    if (longest === null || lag.minMin > longest.minMin) longest = lag
  }
  return longest
}

/** Closing time less the step, and less what the same makers are planned to do between it and closing time. */
function latestStart(occupancy: Occupancy, step: PlanStep, session: Interval): number {
  const { start, stretches, makers } = occupancy.at(step.id)
  const work = stretches.reduce((sum, { from, to }) => sum + to - from, 0)
  const closes = Math.min(session.to, ...makers.map((maker) => closing(occupancy, maker, step.allowed, start)))
  return closes - work
}

function closing(occupancy: Occupancy, maker: string, allowed: PlanStep['allowed'], instant: number): number {
  const { count, from, to } = occupancy.sessions([maker], allowed)
  for (let session = 0; session < count; session++)
    if (from[session]! <= instant && instant < to[session]!) return to[session]!
  return Infinity
}

/** A slip that is shorter is no news: not worth trying who could make room. */
const WORTH_TRYING_MIN = 12 * 60
/** How far beyond the day that the order has now others make room: by then its hours have come round. */
const WEEK_MIN = 7 * 24 * 60

/** What becomes of the plan where a step is left. */
interface Left {
  readonly done: Int32Array
  readonly objective: Objective
}

/**
 * Leaves one step for later, with what follows it, and compares the dates: with the rest of the plan kept where it is, and, where that
 * costs its order half a day or more, with orders that are promised later making room, as they would when all is planned anew.
 */
class Leaving {
  readonly #problem: PlanningProblem
  readonly #compiled: Compiled
  readonly #schedule: Schedule
  readonly #replacement: Replacement
  readonly #done: Int32Array | null
  /** Where the plan has each block. */
  readonly #startOf: readonly number[]

  constructor(problem: PlanningProblem, plan: Plan) {
    this.#problem = problem
    const compiled = compile(problem)
    this.#compiled = { ...compiled, earliest: compiled.earliest.slice() }
    this.#schedule = new Schedule(this.#compiled, blocksOf(compiled))
    this.#replacement = new Replacement(this.#schedule)
    this.#done = resumePlan(this.#schedule, plannedTimes(compiled, plan)) ? doneTimes(this.#schedule) : null
    const { blocks, start } = this.#schedule
    this.#startOf = blocks.steps.map((steps) => Math.min(...steps.map((step) => start[step]!)))
  }

  lostIfLeft(step: PlanStep, until: number): LostDate[] {
    const done = this.#done
    if (done === null) return []
    const index = this.#compiled.indexOfStep.get(step.id)!
    const own = this.#compiled.commission[index]!
    const block = this.#schedule.blocks.of[index]!
    const { earliest } = this.#compiled
    const usual = earliest[index]!
    earliest[index] = Math.max(usual, until)
    const kept = this.#leave([block], own)
    const slip = kept === null ? 0 : kept.done[own]! - done[own]!
    const crowded = slip < WORTH_TRYING_MIN ? [] : this.#canMakeRoom(own, until, done[own]! + Math.min(slip, WEEK_MIN))
    const roomMade = crowded.length === 0 ? null : this.#leave([block, ...crowded], own)
    earliest[index] = usual
    const left = kept === null || (roomMade !== null && isNoWorse(roomMade, kept)) ? roomMade : kept
    if (left === null) return []
    return this.#problem.commissions
      .flatMap(({ id, promise }, commission): (LostDate & { readonly isOwn: boolean })[] => {
        const doneAt = done[commission]!
        const doneIfLeft = left.done[commission]!
        if (doneIfLeft <= doneAt) return []
        const lateIfLeftMin = promise === null ? 0 : Math.max(0, doneIfLeft - promise)
        return [{ commissionId: id, doneAt, doneIfLeft, promise, lateIfLeftMin, isOwn: commission === own }]
      })
      .sort((a, b) => Number(b.isOwn) - Number(a.isOwn))
      .map(({ isOwn: _, ...lost }) => lost)
  }

  /** Takes these blocks out and puts them back, those of the own order first; null: something finds no place. */
  #leave(out: readonly number[], own: number): Left | null {
    this.#replacement.takeOut(out)
    const { steps } = this.#schedule.blocks
    const isOwn = (block: number): number => (this.#compiled.commission[steps[block]![0]!] === own ? 0 : 1)
    const order = this.#replacement.blocks.toSorted(
      (a, b) => isOwn(a) - isOwn(b) || (isOwn(a) === 0 ? 0 : this.#startOf[a]! - this.#startOf[b]!) || a - b,
    )
    if (!this.#replacement.putBack(order)) return null
    const left = { done: doneTimes(this.#schedule), objective: measured(this.#schedule) }
    this.#replacement.undo()
    return left
  }

  /** Blocks of orders that are promised later, or not at all, which the plan has between these instants. */
  #canMakeRoom(own: number, from: number, to: number): readonly number[] {
    const { commission, promise } = this.#compiled
    const { steps } = this.#schedule.blocks
    return [...steps.keys()].filter((block) => {
      const start = this.#startOf[block]!
      return promise[commission[steps[block]![0]!]!]! > promise[own]! && start >= from && start < to
    })
  }
}

const isNoWorse = (one: Left, other: Left): boolean =>
  compareObjectives(one.objective, other.objective, ['missedWindows', 'weightedTardiness']) <= 0

import { failed, ok, type Result } from '../../problems.ts'
import { asPlan } from '../schedule/as-plan.ts'
import { blocksOf, type Blocks } from '../schedule/blocks.ts'
import { compile, type Compiled } from '../problem/compiled.ts'
import { refusalOf } from '../problem/impossible.ts'
import { NEVER } from '../problem/instants.ts'
import { doneTimes, type Timetable } from '../rules/measured.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { Snapshot } from '../search/neighbourhood.ts'
import { plannedTimes, type PlannedTimes } from '../schedule/planned-times.ts'
import { blocksByCommission, orderByStart, urgentBlocks } from '../search/priority.ts'
import { Schedule } from '../schedule/schedule.ts'
import { keep, resumePlan } from '../schedule/take-over.ts'
import { Search } from '../search/search.ts'

/** Halvings of the queue in search of the foremost place that makes nobody late. */
const HALVINGS = 5
/** Behind new work at the very front so many steps are placed anew; further back those that can keep their time do. */
const PLACED_ANEW = 2_000

export interface Fitted {
  /** The soonest plan found in which nobody gets later than promised (or later still) by the new work; null when there is none. */
  readonly keeps: Plan | null
  /** Only where it is sooner than `keeps`: somebody pays for it. */
  readonly soonest: Plan | null
}

interface Trial {
  readonly times: Snapshot
  readonly doneAt: number
  readonly lateness: number
}

/** How long it is looked on from what fitting finds: a number of schedules for each offer. */
export interface Looking {
  readonly schedules: number
  readonly seed: number
}

/**
 * What a minute of the new work is worth against a weighted minute of lateness of others: for an offer that keeps every
 * promise so little that a year does not make up for one minute, for the soonest one much more.
 */
const WORTH = { keeps: 1e-6, soonest: 1e3 } as const

/**
 * Fits one commission into a plan of all the others: into the gaps first, then ever further to the front of the queue;
 * and looks on from there, with the others free to move as long as none of them pays.
 */
export class FittingIn {
  readonly #compiled: Compiled
  readonly #blocks: Blocks
  readonly #schedule: Schedule
  readonly #commission: number
  /** The blocks of the new work, and what of the shop follows them. */
  readonly #mine: readonly number[]
  /** All other blocks, as the current plan starts them. */
  readonly #queue: readonly number[]
  /** Places in the queue, by the instant at which somebody to whom something was promised would pay; at last those for whom nobody would. */
  readonly #byDue: Int32Array
  readonly #urgent: readonly number[]
  /** Where the current plan has each step. */
  readonly #planned: PlannedTimes
  /** A plan with the new work in it that holds here too, where there is one. */
  readonly #known: PlannedTimes | null
  /** Minutes past its aim that each commission may be: none, or what it is without the new work; NEVER where nothing is promised. */
  readonly #mayBeLate: Float64Array
  #keeps: Trial | null = null
  #soonest: Trial | null = null

  /**
   * @param joined the problem with the commission in it; without refusals
   * @param known a plan of all of it, for a shop that had no more than this one
   */
  constructor(joined: PlanningProblem, commissionId: string, current: Plan, known?: Plan) {
    const compiled = compile(joined)
    const blocks = blocksOf(compiled)
    this.#compiled = compiled
    this.#blocks = blocks
    this.#schedule = new Schedule(compiled, blocks)
    this.#planned = plannedTimes(compiled, current)
    this.#known = known === undefined ? null : plannedTimes(compiled, known)
    this.#commission = joined.commissions.findIndex(({ id }) => id === commissionId)
    this.#mine = withFollowers(blocks, blocksByCommission(compiled, blocks, [this.#commission]))
    const isMine = new Set(this.#mine)
    this.#urgent = urgentBlocks(compiled, blocks).filter((block) => !isMine.has(block))
    this.#queue = withLeadersFirst(blocks, orderByStart(compiled, blocks, current)).filter(
      (block) => !isMine.has(block),
    )
    const { commission, promise } = compiled
    const planned = new Map(current.commissions.map(({ id, doneAt }) => [id, doneAt]))
    this.#mayBeLate = Float64Array.from(joined.commissions, ({ id }, of) =>
      promise[of] === NEVER || id === commissionId ? NEVER : Math.max(0, (planned.get(id) ?? 0) - promise[of]!),
    )
    const due = Float64Array.from(this.#queue, (block) =>
      blocks.steps[block]!.reduce((least, step) => {
        const of = commission[step]!
        return promise[of] === NEVER ? least : Math.min(least, promise[of]! + this.#mayBeLate[of]!)
      }, NEVER),
    )
    this.#byDue = Int32Array.from(due.keys()).sort((a, b) => due[a]! - due[b]! || a - b)
  }

  offers(looking: Looking | null = null): Result<Fitted> {
    if (this.#known !== null && resumePlan(this.#schedule, this.#known) && this.#isComplete())
      this.#note(this.#schedule)
    const shop = this.#shop()
    const gaps = shop === null ? null : this.#intoGaps()
    const isFrontHarmless = this.#inFrontOf(0, shop)
    if (shop !== null && gaps !== null && !isFrontHarmless) {
      let harmful = 0
      let harmless = this.#firstStartingAt(gaps, shop)
      for (let halving = 0; halving < HALVINGS && harmless - harmful > 1; halving++) {
        const place = Math.floor((harmful + harmless) / 2)
        if (this.#inFrontOf(place, shop)) harmless = place
        else harmful = place
      }
    }
    if (looking !== null) this.#lookOn(looking)
    const keeps = this.#keeps
    const soonest = this.#soonest
    if (soonest === null) return failed(refusalOf(this.#schedule))
    return ok({
      keeps: keeps === null ? null : asPlan(keeps.times, 'first'),
      soonest: keeps !== null && keeps.doneAt <= soonest.doneAt ? null : asPlan(soonest.times, 'first'),
    })
  }

  #lookOn(looking: Looking): void {
    const atOnce = this.#doneAlone()
    if (this.#keeps !== null && this.#keeps.doneAt > atOnce) this.#look(this.#keeps, 'keeps', atOnce, looking)
    if (this.#soonest !== null && this.#soonest !== this.#keeps && this.#soonest.lateness > 0)
      this.#look(this.#soonest, 'soonest', 0, looking)
  }

  /** Searches on from a trial, with the new work wanted at once; what comes of it is noted like any other trial. */
  #look(from: Trial, offer: keyof typeof WORTH, enough: number, { schedules, seed }: Looking): void {
    const compiled = this.#compiled
    const promise = compiled.promise.slice()
    const weight = compiled.weight.slice()
    for (let commission = 0; commission < promise.length; commission++) {
      if (promise[commission]! < NEVER && offer === 'keeps') promise[commission]! += this.#mayBeLate[commission]!
    }
    promise[this.#commission] = compiled.now
    weight[this.#commission] = WORTH[offer]
    const schedule = new Schedule({ ...compiled, promise, weight, patienceMin: NEVER }, this.#blocks)
    from.times.takeOver(schedule)
    const search = new Search(schedule, seed, schedules)
    while (search.schedules < schedules) {
      if (search.move() && doneTimes(search.bestTimes)[this.#commission]! <= enough) break
    }
    this.#note({ ...search.bestTimes, compiled })
  }

  /** When the new work is done with nothing else in the shop than what has started: there is no need to look for sooner. */
  #doneAlone(): number {
    this.#schedule.reset()
    for (const block of this.#mine) if (!this.#schedule.place(block)) return 0
    return doneTimes(this.#schedule)[this.#commission]!
  }

  #isComplete(): boolean {
    return this.#schedule.placed.every((placed) => placed === 1)
  }

  /** The shop without the new work, everybody where they are planned, or as soon after as may be where that does not hold any more. */
  #shop(): Snapshot | null {
    const { isKnown } = this.#planned
    for (const block of this.#mine) for (const step of this.#blocks.steps[block]!) isKnown[step] = 0
    resumePlan(this.#schedule, this.#planned)
    return this.#queue.every((block) => this.#keepOrPlace(block)) ? new Snapshot(this.#schedule) : null
  }

  /** Done when, if nobody else is moved; null when that cannot be. */
  #intoGaps(): number | null {
    if (!this.#mine.every((block) => this.#schedule.place(block))) return null
    this.#note(this.#schedule)
    return doneTimes(this.#schedule)[this.#commission]!
  }

  /**
   * The first `place` blocks of the queue keep their times, the new work comes next, and those behind keep their times or
   * are pushed, in the order of what was promised. True: nobody pays.
   */
  #inFrontOf(place: number, shop: Snapshot | null): boolean {
    const schedule = this.#schedule
    schedule.reset()
    if (shop !== null) for (let before = 0; before < place; before++) schedule.copyBlock(this.#queue[before]!, shop)
    if (place === 0 && !this.#urgent.every((block) => this.#keepOrPlace(block))) return false
    if (!this.#mine.every((block) => schedule.place(block))) return false
    let anew = place === 0 ? PLACED_ANEW : 0
    for (const behind of this.#byDue) {
      if (behind < place) continue
      const block = this.#queue[behind]!
      if (!(anew > 0 ? schedule.place(block) : this.#keepOrPlace(block))) return false
      // From the very front it is seen through: that says who would pay for the soonest date.
      if (place > 0 && this.#isTooLate(block)) return false
      anew -= this.#blocks.steps[block]!.length
    }
    return this.#note(this.#schedule)
  }

  #keepOrPlace(block: number): boolean {
    const schedule = this.#schedule
    return schedule.isPlaced(block) || keep(schedule, block, this.#planned) || schedule.place(block)
  }

  #isTooLate(block: number): boolean {
    return this.#blocks.steps[block]!.some((step) =>
      this.#isLater(this.#compiled.commission[step]!, this.#schedule.end[step]!),
    )
  }

  #isLater(commission: number, done: number): boolean {
    const promise = this.#compiled.promise[commission]!
    return promise < NEVER && Math.max(0, done - promise) > this.#mayBeLate[commission]!
  }

  /** Takes note of a complete schedule; true when nobody pays for it. */
  #note(times: Timetable): boolean {
    const { promise, weight } = this.#compiled
    const done = doneTimes(times)
    let isHarmless = true
    let lateness = 0
    for (let commission = 0; commission < done.length; commission++) {
      if (promise[commission] === NEVER || commission === this.#commission) continue
      lateness += weight[commission]! * Math.max(0, done[commission]! - promise[commission]!)
      if (this.#isLater(commission, done[commission]!)) isHarmless = false
    }
    const doneAt = done[this.#commission]!
    const isBetter = (than: Trial | null): boolean =>
      than === null || doneAt < than.doneAt || (doneAt === than.doneAt && lateness < than.lateness)
    const isSoonest = isBetter(this.#soonest)
    const isBestKeeping = isHarmless && isBetter(this.#keeps)
    if (isSoonest || isBestKeeping) {
      const trial = { times: new Snapshot(times), doneAt, lateness }
      if (isSoonest) this.#soonest = trial
      if (isBestKeeping) this.#keeps = trial
    }
    return isHarmless
  }

  /** The first place in the queue at which something starts no sooner than this: from there on no place is nearer. */
  #firstStartingAt(instant: number, { start }: Snapshot): number {
    const found = this.#queue.findIndex((block) => this.#blocks.steps[block]!.every((step) => start[step]! >= instant))
    return found < 0 ? this.#queue.length : found
  }
}

/** The same blocks with those that lead to others before them: where steps may overlap what follows can start sooner. */
function withLeadersFirst({ before }: Blocks, blocks: readonly number[]): number[] {
  const order = new Set<number>()
  const add = (block: number): void => {
    if (order.has(block)) return
    for (const leader of before[block]!) add(leader)
    order.add(block)
  }
  for (const block of blocks) add(block)
  return [...order]
}

/** These blocks and all that follow them, those that lead to others first. */
function withFollowers({ after }: Blocks, blocks: readonly number[]): number[] {
  const found = new Set(blocks)
  const open = [...blocks]
  for (let block = open.pop(); block !== undefined; block = open.pop()) {
    for (const next of after[block]!) {
      if (found.has(next)) continue
      found.add(next)
      open.push(next)
    }
  }
  return [...found].sort((a, b) => a - b)
}

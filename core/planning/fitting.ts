import { failed, ok, type Result } from '../problems.ts'
import { asPlan } from './as-plan.ts'
import { blocksOf, type Blocks } from './blocks.ts'
import { compile, type Compiled } from './compiled.ts'
import { refusalOf } from './impossible.ts'
import { NEVER } from './instants.ts'
import { doneTimes } from './measured.ts'
import type { Plan, PlanningProblem } from './model.ts'
import { Snapshot } from './neighbourhood.ts'
import { plannedTimes, type PlannedTimes } from './planned-times.ts'
import { blocksByCommission, orderByStart, urgentBlocks } from './priority.ts'
import { Schedule } from './schedule.ts'

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

/** Fits one commission into a plan of all the others: into the gaps first, then ever further to the front of the queue. */
export class Fitting {
  readonly #compiled: Compiled
  readonly #blocks: Blocks
  readonly #schedule: Schedule
  readonly #commission: number
  /** The blocks of the new work, and what of the shop follows them. */
  readonly #mine: readonly number[]
  /** All other blocks, as the current plan starts them. */
  readonly #queue: readonly number[]
  /** Whether somebody waits for a block to whom something was promised: a place later it still comes first. */
  readonly #isPromised: (block: number) => boolean
  readonly #urgent: readonly number[]
  /** Where the current plan has each step. */
  readonly #planned: PlannedTimes
  /** Minutes late that each commission may be: none, or what it is without the new work; NEVER where nothing is promised. */
  readonly #mayBeLate: Float64Array
  #keeps: Trial | null = null
  #soonest: Trial | null = null

  /** @param joined the problem with the commission in it; without refusals */
  constructor(joined: PlanningProblem, commissionId: string, current: Plan) {
    const compiled = compile(joined)
    const blocks = blocksOf(compiled)
    this.#compiled = compiled
    this.#blocks = blocks
    this.#schedule = new Schedule(compiled, blocks)
    this.#planned = plannedTimes(compiled, current)
    this.#commission = joined.commissions.findIndex(({ id }) => id === commissionId)
    this.#mine = withFollowers(blocks, blocksByCommission(compiled, blocks, [this.#commission]))
    const isMine = new Set(this.#mine)
    this.#urgent = urgentBlocks(compiled, blocks).filter((block) => !isMine.has(block))
    this.#queue = orderByStart(compiled, blocks, current).filter((block) => !isMine.has(block))
    this.#isPromised = (block) =>
      blocks.steps[block]!.some((step) => compiled.promise[compiled.commission[step]!]! < NEVER)
    const late = new Map(current.commissions.map(({ id, lateMin }) => [id, lateMin]))
    this.#mayBeLate = Float64Array.from(joined.commissions, ({ id, promise }) =>
      promise === null || id === commissionId ? NEVER : (late.get(id) ?? 0),
    )
  }

  offers(): Result<Fitted> {
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
    const keeps = this.#keeps
    const soonest = this.#soonest
    if (soonest === null) return failed(refusalOf(this.#schedule))
    return ok({
      keeps: keeps === null ? null : asPlan(keeps.times, 'first'),
      soonest: keeps !== null && keeps.doneAt <= soonest.doneAt ? null : asPlan(soonest.times, 'first'),
    })
  }

  /** The shop without the new work, everybody where they are planned, or as soon after as may be where that does not hold any more. */
  #shop(): Snapshot | null {
    const { isKnown } = this.#planned
    for (const block of this.#mine) for (const step of this.#blocks.steps[block]!) isKnown[step] = 0
    this.#schedule.resume(this.#planned)
    return this.#queue.every((block) => this.#keepOrPlace(block)) ? new Snapshot(this.#schedule) : null
  }

  /** Done when, if nobody else is moved; null when that cannot be. */
  #intoGaps(): number | null {
    if (!this.#mine.every((block) => this.#schedule.place(block))) return null
    this.#note()
    return doneTimes(this.#schedule)[this.#commission]!
  }

  /**
   * The first `place` blocks of the queue keep their times, the new work comes next, and of those behind first the
   * promised ones keep their times or are pushed, then the others. True: nobody pays.
   */
  #inFrontOf(place: number, shop: Snapshot | null): boolean {
    const schedule = this.#schedule
    schedule.reset()
    if (shop !== null) for (let before = 0; before < place; before++) schedule.copyBlock(this.#queue[before]!, shop)
    if (place === 0 && !this.#urgent.every((block) => this.#keepOrPlace(block))) return false
    if (!this.#mine.every((block) => schedule.place(block))) return false
    const behind = this.#queue.slice(place)
    const order = [...behind.filter(this.#isPromised), ...behind.filter((block) => !this.#isPromised(block))]
    let anew = place === 0 ? PLACED_ANEW : 0
    for (const block of order) {
      if (!(anew > 0 ? schedule.place(block) : this.#keepOrPlace(block))) return false
      // From the very front it is seen through: that says who would pay for the soonest date.
      if (place > 0 && this.#isTooLate(block)) return false
      anew -= this.#blocks.steps[block]!.length
    }
    return this.#note()
  }

  #keepOrPlace(block: number): boolean {
    const schedule = this.#schedule
    return schedule.isPlaced(block) || schedule.keep(block, this.#planned) || schedule.place(block)
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
  #note(): boolean {
    const { promise, weight } = this.#compiled
    const done = doneTimes(this.#schedule)
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
      const trial = { times: new Snapshot(this.#schedule), doneAt, lateness }
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

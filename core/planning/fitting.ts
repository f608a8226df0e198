import { failed, ok, type Result } from '../problems.ts'
import { asPlan } from './as-plan.ts'
import { blocksOf } from './blocks.ts'
import { compile } from './compiled.ts'
import { refusalOf } from './impossible.ts'
import { NEVER } from './instants.ts'
import { doneTimes } from './measured.ts'
import type { Plan, PlannedStep, PlanningProblem } from './model.ts'
import { Snapshot } from './neighbourhood.ts'
import { blocksByCommission, orderByStart, urgentBlocks } from './priority.ts'
import { Schedule } from './schedule.ts'

/** Halvings of the queue in search of the foremost place that makes nobody late. */
const HALVINGS = 5

export interface Fitted {
  /** The soonest plan found in which nobody gets later than promised (or later still) by the new work; null when there is none. */
  readonly keeps: Plan | null
  /** Only where it is sooner than `keeps`: somebody pays for it. */
  readonly soonest: Plan | null
}

interface Trial {
  readonly snapshot: Snapshot
  readonly doneAt: number
  readonly isHarmless: boolean
  readonly lateness: number
}

/** Fits one commission into a plan of all the others: into the gaps first, then ever further to the front of the queue. */
export class Fitting {
  readonly #schedule: Schedule
  readonly #commission: number
  readonly #mine: readonly number[]
  readonly #others: readonly number[]
  /** Where the current plan has each step. */
  readonly #planned: (PlannedStep | undefined)[]
  /** Minutes late that each commission may be: none, or what it is without the new work; NEVER where nothing is promised. */
  readonly #mayBeLate: Float64Array
  readonly #trials: Trial[] = []
  readonly #urgent: readonly number[]

  /** @param joined the problem with the commission in it; without refusals */
  constructor(joined: PlanningProblem, commissionId: string, current: Plan) {
    const compiled = compile(joined)
    const blocks = blocksOf(compiled)
    this.#schedule = new Schedule(compiled, blocks)
    this.#planned = []
    for (const planned of current.steps) {
      const step = compiled.indexOfStep.get(planned.id)
      if (step !== undefined) this.#planned[step] = planned
    }
    this.#commission = joined.commissions.findIndex(({ id }) => id === commissionId)
    this.#mine = blocksByCommission(compiled, blocks, [this.#commission])
    this.#urgent = urgentBlocks(compiled, blocks)
    const isMine = new Set(this.#mine)
    this.#others = orderByStart(compiled, blocks, current).filter((block) => !isMine.has(block))
    const late = new Map(current.commissions.map(({ id, lateMin }) => [id, lateMin]))
    this.#mayBeLate = Float64Array.from(joined.commissions, ({ id, promise }) =>
      promise === null || id === commissionId ? NEVER : (late.get(id) ?? 0),
    )
  }

  offers(): Result<Fitted> {
    const last = this.#inQueue(this.#others.length)
    const front = this.#inQueue(0)
    this.#pushing(0)
    if (front?.isHarmless !== true && last !== null) {
      let harmful = 0
      let harmless = this.#others.length
      for (let halving = 0; halving < HALVINGS && harmless - harmful > 1; halving++) {
        const place = Math.floor((harmful + harmless) / 2)
        if (this.#inQueue(place)?.isHarmless === true || this.#pushing(place)?.isHarmless === true) harmless = place
        else harmful = place
      }
    }
    if (this.#trials.length === 0) return failed(refusalOf(this.#schedule))
    const keeps = this.#best(this.#trials.filter(({ isHarmless }) => isHarmless))
    const soonest = this.#best(this.#trials)
    return ok({
      keeps: keeps === null ? null : this.#plan(keeps),
      soonest: soonest === null || (keeps !== null && keeps.doneAt <= soonest.doneAt) ? null : this.#plan(soonest),
    })
  }

  /** The first `place` blocks of the queue keep their times; of the rest, what is not in the way. Last place: into the gaps. */
  #inQueue(place: number): Trial | null {
    if (!this.#startWith(place)) return null
    const displaced = this.#others
      .slice(place)
      .filter((block) => !this.#isPlaced(block) && !this.#schedule.keep(block, this.#planned))
    return displaced.every((block) => this.#schedule.place(block)) ? this.#note() : null
  }

  /** The first `place` blocks of the queue keep their times, everybody behind is planned anew. */
  #pushing(place: number): Trial | null {
    return this.#startWith(place) && this.#others.slice(place).every((block) => this.#schedule.place(block))
      ? this.#note()
      : null
  }

  #startWith(place: number): boolean {
    this.#schedule.reset()
    const before = [...(place === 0 ? this.#urgent : []), ...this.#others.slice(0, place)]
    return before.every((block) => this.#keepOrPlace(block)) && this.#mine.every((block) => this.#schedule.place(block))
  }

  #keepOrPlace(block: number): boolean {
    return this.#isPlaced(block) || this.#schedule.keep(block, this.#planned) || this.#schedule.place(block)
  }

  #isPlaced(block: number): boolean {
    return this.#schedule.placed[this.#schedule.blocks.steps[block]![0]!] === 1
  }

  #note(): Trial {
    const { promise, weight } = this.#schedule.compiled
    const done = doneTimes(this.#schedule)
    let isHarmless = true
    let lateness = 0
    done.forEach((at, commission) => {
      if (promise[commission] === NEVER || commission === this.#commission) return
      const late = Math.max(0, at - promise[commission]!)
      lateness += weight[commission]! * late
      if (late > this.#mayBeLate[commission]!) isHarmless = false
    })
    const trial = { snapshot: new Snapshot(this.#schedule), doneAt: done[this.#commission]!, isHarmless, lateness }
    this.#trials.push(trial)
    return trial
  }

  #best(trials: readonly Trial[]): Trial | null {
    return trials.reduce<Trial | null>(
      (best, trial) =>
        best === null || trial.doneAt < best.doneAt || (trial.doneAt === best.doneAt && trial.lateness < best.lateness)
          ? trial
          : best,
      null,
    )
  }

  #plan({ snapshot }: Trial): Plan {
    snapshot.takeOver(this.#schedule)
    return asPlan(this.#schedule, 'first')
  }
}

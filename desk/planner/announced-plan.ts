import type { AnnouncedStart, Plan, PlanningProblem } from '../../core/planning/index.ts'
import { daysLater } from '../../core/time/local-day.ts'
import { announce, announcedStarts } from '../../db/announced.ts'
import type { Db } from '../../db/schema.ts'
import type { Moment } from '../moment.ts'

/**
 * When each step was last planned to start. The next plan moves as little as it can of what the screens have shown for today and tomorrow; and
 * when the app is opened again the book goes on from all of it, as every promise was given in that plan.
 */
export class AnnouncedPlan {
  private readonly db: Db
  private starts: readonly AnnouncedStart[]
  /** Of what starts before this instant the screens have shown the hour. Of an earlier run of the app: whatever is near by now. */
  private shownUntil: number | null = null

  private constructor(db: Db, starts: readonly AnnouncedStart[]) {
    this.db = db
    this.starts = starts
  }

  static async of(db: Db): Promise<AnnouncedPlan> {
    return new AnnouncedPlan(db, await announcedStarts(db))
  }

  get all(): readonly AnnouncedStart[] {
    return this.starts
  }

  /** With what was shown of the steps that are still to do. */
  in(asked: PlanningProblem, moment: Moment): PlanningProblem {
    const toDo = new Set(asked.steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id))
    const until = this.shownUntil ?? endOfTomorrow(moment)
    return { ...asked, announced: this.starts.filter(({ step, start }) => start < until && toDo.has(step)) }
  }

  /** Keeps what a plan says. */
  async show(plan: Plan, moment: Moment): Promise<void> {
    const starts = plan.steps.filter(({ start }) => start >= moment.now).map(({ id, start }) => ({ step: id, start }))
    this.shownUntil = endOfTomorrow(moment)
    if (isSame(starts, this.starts)) return
    try {
      await announce(this.db, starts)
      this.starts = starts
    } catch (fault) {
      // The next plan tries again; what the maker did just now is kept, whether this is or not.
      console.error('Fault while announcing a plan:', fault)
    }
  }
}

const endOfTomorrow = ({ today, setting }: Moment): number => setting.endOfDay(daysLater(today, 1))

const isSame = (some: readonly AnnouncedStart[], others: readonly AnnouncedStart[]): boolean =>
  some.length === others.length &&
  some.every(({ step, start }, at) => step === others[at]!.step && start === others[at]!.start)

import type { AnnouncedStart, Plan, PlanningProblem } from '../../core/planning/index.ts'
import { announce, announcedStarts } from '../../db/announced.ts'
import type { Db } from '../../db/schema.ts'

/** What the screens have shown for today and tomorrow: the next plan moves as little of it as it can. */
export class AnnouncedPlan {
  private readonly db: Db
  private starts: readonly AnnouncedStart[]

  private constructor(db: Db, starts: readonly AnnouncedStart[]) {
    this.db = db
    this.starts = starts
  }

  static async of(db: Db): Promise<AnnouncedPlan> {
    return new AnnouncedPlan(db, await announcedStarts(db))
  }

  /** With what was shown of the steps that are still to do. */
  in(asked: PlanningProblem): PlanningProblem {
    const toDo = new Set(asked.steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id))
    return { ...asked, announced: this.starts.filter(({ step }) => toDo.has(step)) }
  }

  /** Keeps what a plan shows from an instant to another, in minutes since the Unix epoch. */
  async show(plan: Plan, from: number, until: number): Promise<void> {
    const starts = plan.steps
      .filter(({ start }) => start >= from && start < until)
      .map(({ id, start }) => ({ step: id, start }))
    if (JSON.stringify(starts) === JSON.stringify(this.starts)) return
    try {
      await announce(this.db, starts)
      this.starts = starts
    } catch (fault) {
      // The next plan tries again; what the maker did just now is kept, whether this is or not.
      console.error('Fault while announcing a plan:', fault)
    }
  }
}

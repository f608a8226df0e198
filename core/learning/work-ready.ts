import type { StepWork } from '../book/work-done.ts'
import type { Interval } from '../planning/index.ts'

interface Step {
  readonly id: string
  /** 0: a milestone, which nobody needs to come for. */
  readonly minutes: number
}

/** What follows a step, and the least minutes in between. */
interface Follows {
  readonly fromStep: string
  readonly toStep: string
  readonly minMin: number
}

/**
 * When each step could be worked on: from when all that leads to it was done and its waits over, or from its first stretch if that came
 * sooner, until it was done. Waits are taken as they are known to be at best, in a shop at reference conditions.
 * @param steps what leads to them but is not among them is taken for done
 * @param follows between any steps
 * @param workOf what was worked at a step
 * @param until an instant: what is not done could be worked on until then
 */
export function readyToWorkOn(
  steps: readonly Step[],
  follows: readonly Follows[],
  workOf: (stepId: string) => StepWork,
  until: number,
): ReadonlyMap<string, Interval> {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const leadingTo = Map.groupBy(follows, ({ toStep }) => toStep)
  const known = new Map<string, number>()
  const readyFrom = (id: string): number => {
    const before = known.get(id)
    if (before !== undefined) return before
    // A book that was tampered with may lead in a circle: then nothing of it is ever ready.
    known.set(id, Infinity)
    const leading = leadingTo.get(id) ?? []
    const from = leading.reduce((latest, { fromStep, minMin }) => Math.max(latest, endOf(fromStep) + minMin), -Infinity)
    known.set(id, from)
    return from
  }
  const endOf = (id: string): number => {
    const step = byId.get(id)
    if (step === undefined) return -Infinity
    return workOf(id).done?.at ?? (step.minutes === 0 ? readyFrom(id) : Infinity)
  }
  const ready = new Map<string, Interval>()
  for (const { id, minutes } of steps) {
    if (minutes === 0) continue
    const work = workOf(id)
    const begun = work.stretches[0]?.from ?? work.running?.since ?? Infinity
    const [from, to] = [Math.min(readyFrom(id), begun), work.done?.at ?? until]
    if (from < to) ready.set(id, { from, to })
  }
  return ready
}

import type { BookStep, StepAction } from '../../core/book/book.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { logStep } from '../../db/steps.ts'
import type { Moment } from '../moment.ts'
import type { Moved } from '../moved.ts'
import type { OpenShop } from '../open-shop.ts'
import type { PieceLabel } from '../piece-label.ts'

/** A step that was done at an instant that is still to come: the clock was ahead when Done was pressed. */
export interface DoneAhead {
  readonly stepId: string
  readonly piece: PieceLabel
  readonly name: string
}

/**
 * Steps whose Done lies ahead and after which something waits. Until it is said when it was, what waits after them waits from this minute on: never too short, and not
 * from a day that is still to come.
 */
export const doneAhead = (moment: Moment): DoneAhead[] =>
  moment.book.steps.flatMap((step) => {
    if (!isDoneAhead(step, moment)) return []
    const waits = moment
      .lagsFrom(step.id)
      .filter(({ minMin, toStep }) => minMin > 0 && moment.progress(toStep).kind === 'to-do')
    const lot = waits.length > 0 ? moment.lotOf(step.id) : undefined
    return lot?.commission.standing === 'agreed' ? [{ stepId: step.id, piece: lot.label, name: step.name }] : []
  })

const isDoneAhead = (step: BookStep, moment: Moment): boolean => (moment.work(step.id).done?.at ?? 0) > moment.now

/**
 * Takes the answer to when such a step was really done. Work that was logged with it moves along.
 * Problem: `not-ahead` (nothing to ask any more).
 */
export async function doneWhen(
  shop: OpenShop,
  { stepId, minutesAgo }: { readonly stepId: string; readonly minutesAgo: number },
): Promise<Result<Moved>> {
  const moment = shop.moment()
  const step = moment.step(stepId)
  if (step === undefined || !isDoneAhead(step, moment))
    return failed(problem('not-ahead', 'The clock is right for this step: nothing to answer.', 'stepId'))
  const action = asItWas(step, moment, moment.now - minutesAgo)
  const stamp = { atMs: action.doneAtMin * 60_000, makerId: moment.work(stepId).done?.makerId ?? null }
  return shop.change(async (db) => {
    const logged = await logStep(db, stepId, action, { ...stamp, pressedAtMs: shop.nowMs })
    return logged.ok ? ok(`Times fixed: ${step.name.toLowerCase()}.`) : logged
  })
}

function asItWas(step: BookStep, moment: Moment, saidMin: number): StepAction & { readonly doneAtMin: number } {
  const { stretches, done } = moment.work(step.id)
  // What was logged by a clock that was right stays.
  const isRight = ({ to }: { readonly to: number }): boolean => to <= moment.now
  const before = stretches.filter(isRight).map(({ from, to, makerId }) => ({ fromMin: from, toMin: to, makerId }))
  const doneAtMin = Math.max(saidMin, ...before.map(({ toMin }) => toMin))
  const back = (done?.at ?? doneAtMin) - doneAtMin
  const moved = stretches
    .filter((stretch) => !isRight(stretch))
    .map(({ from, to, makerId }) => ({
      fromMin: Math.max(from > moment.now ? from - back : from, ...before.map(({ toMin }) => toMin)),
      toMin: Math.min(to - back, doneAtMin),
      makerId,
    }))
    .filter(({ fromMin, toMin }) => fromMin < toMin)
  return { kind: 'put-right', why: 'corrected', stretches: [...before, ...moved], runningSinceMin: null, doneAtMin }
}

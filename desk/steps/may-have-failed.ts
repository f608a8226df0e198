import type { BookLag, BookStep } from '../../core/book/book.ts'
import type { FailureReason } from '../../core/book/failure-reasons.ts'
import { mayFail, stepsToRemakeFrom } from '../../core/book/remake.ts'
import type { Moment } from '../moment.ts'

/** A step of which a failure can be said. */
export interface MayHaveFailed {
  readonly stepId: string
  readonly name: string
  /** How many of its lot can fail: those that are still in it. */
  readonly mayFail: number
  /** Where its pieces can be made again from: the steps before it and itself that were begun. */
  readonly againFrom: readonly { readonly stepId: string; readonly name: string }[]
  /** What is offered first as the reason. */
  readonly likely: FailureReason
  /** The step that is offered first to make them again from, by the reason. */
  readonly likelyFrom: Readonly<Record<FailureReason, string>>
}

export function mayHaveFailed(step: BookStep, moment: Moment): MayHaveFailed {
  const ofOrder = moment.stepsOf(step.commissionId)
  const lags = ofOrder.filter(({ pieceId }) => pieceId === step.pieceId).flatMap(({ id }) => moment.lagsTo(id))
  /** Of what the step puts on, and of what has set right before it. */
  const waits = new Set([...moment.lagsFrom(step.id), ...moment.lagsTo(step.id)].map(({ wait }) => wait))
  const from = stepsToRemakeFrom(step, ofOrder, lags, moment.progress)
  return {
    ...{ stepId: step.id, name: step.name, mayFail: mayFail(step, ofOrder) },
    againFrom: from.map(({ id, name }) => ({ stepId: id, name })),
    likely: waits.has('in-clamps') || waits.has('curing') ? 'glue-up' : waits.has('drying') ? 'finish' : 'crack',
    likelyFrom: likelyFrom(step, from, moment),
  }
}

/** A joint that opened is glued again, a coat put on again, and a crack takes new wood; of anything else the step itself is done again. */
function likelyFrom(step: BookStep, from: readonly BookStep[], moment: Moment): MayHaveFailed['likelyFrom'] {
  const lastBefore = (...waits: readonly BookLag['wait'][]): string | undefined =>
    from.findLast(({ id }) => moment.lagsFrom(id).some(({ wait }) => waits.includes(wait)))?.id
  const itself = gluedUpBefore(step, moment).id
  return {
    'glue-up': lastBefore('in-clamps', 'curing') ?? itself,
    crack: from[0]?.id ?? itself,
    finish: lastBefore('drying') ?? itself,
    ...{ 'tear-out': itself, mistake: itself, other: itself },
  }
}

/** The glue-up whose clamps a step takes off: that is what failed, not the taking off. Any other step is itself. */
function gluedUpBefore(step: BookStep, moment: Moment): BookStep {
  const lag = moment.lagsTo(step.id).find(({ wait }) => wait === 'in-clamps')
  return (lag && moment.step(lag.fromStep)) ?? step
}

/**
 * The step of which the Bench is told that it failed, at another that stands large there: that one itself once it is begun, else the one
 * right before it, as a joint that opened is seen when work goes on, and of clamps that came off their glue-up; null: nothing of the piece was begun.
 */
export function failsAt(step: BookStep, moment: Moment): MayHaveFailed | null {
  const isBegun = ({ id }: BookStep): boolean => moment.progress(id).kind !== 'to-do'
  if (isBegun(step)) return mayHaveFailed(step, moment)
  const before = moment
    .lagsTo(step.id)
    .flatMap(({ fromStep }) => moment.step(fromStep) ?? [])
    .map((each) => gluedUpBefore(each, moment))
    .filter((each) => each.pieceId === step.pieceId && each.lot === step.lot && each.lost !== true && isBegun(each))
    .toSorted((a, b) => b.position - a.position)[0]
  return before === undefined ? null : mayHaveFailed(before, moment)
}

import type { BookStep } from '../../core/book/book.ts'
import type { Moment } from '../moment.ts'

/** Names of the steps before a step that are not done, in their order. */
export function stillBefore(step: BookStep, moment: Moment): string[] {
  const open = new Map<string, BookStep>()
  const next = [step.id]
  for (let id = next.pop(); id !== undefined; id = next.pop())
    for (const { fromStep } of moment.lagsTo(id)) {
      const before = moment.step(fromStep)
      if (before === undefined || open.has(fromStep) || moment.progress(fromStep).kind === 'done') continue
      open.set(fromStep, before)
      next.push(fromStep)
    }
  return [...open.values()].toSorted((a, b) => a.position - b.position).map(({ name }) => name)
}

import type { BookStep } from '../../core/book/book.ts'
import { endOfWindow } from '../../core/book/open-waits.ts'
import { waitOverAt } from '../../core/book/wait-over.ts'
import type { Moment } from '../moment.ts'

/**
 * What is kept with the first work at a step that begins after a window to it has closed, as the Rack told it: only now it is known
 * when that was in the shop's air.
 * @param at when its work begins, whole minutes since the Unix epoch
 */
export function remedyLogged(step: BookStep, at: number, moment: Moment): { readonly remedy?: true } {
  const isLate = moment.lagsTo(step.id).some((lag) => {
    const before = moment.progress(lag.fromStep)
    if (lag.remedy === null || before.kind !== 'done') return false
    const clock = lag.product === null ? null : moment.setting.clockOf(lag.product, lag.wait, before.stays)
    const closesAt = endOfWindow(before.endedAt, waitOverAt(before, lag, clock), lag)
    return closesAt !== null && at > closesAt
  })
  return isLate ? { remedy: true } : {}
}

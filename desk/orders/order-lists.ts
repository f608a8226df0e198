import type { Commission } from '../../core/book/book.ts'
import { lastQuote } from '../../core/book/promise.ts'
import type { MoneyStanding } from '../../core/money/ledger.ts'
import type { Moment } from '../moment.ts'
import { outlookOf } from '../screens/outlook.ts'

/** What has to be done about an order beside the work on it. */
export type OrderList = 'to-call' | 'waiting-for-lumber' | 'to-pick-up' | 'owing'

/** The lists that an order is on: what somebody has to do about it beside the work. */
export function listsOf(commission: Commission, { owedMinor, state }: MoneyStanding, moment: Moment): OrderList[] {
  const { finishedOn } = outlookOf(commission, moment)
  const isOwing = state === 'balance-due' && owedMinor > 0
  return [
    ...(isToCall(commission, finishedOn, moment) ? (['to-call'] as const) : []),
    ...(isWaitingForLumber(commission, moment) ? (['waiting-for-lumber'] as const) : []),
    ...(finishedOn !== null && commission.standing === 'agreed' ? (['to-pick-up'] as const) : []),
    ...(isOwing ? (['owing'] as const) : []),
  ]
}

/** Not in the shop yet, or still resting there. */
const isWaitingForLumber = ({ id, standing }: Commission, { lumber }: Moment): boolean =>
  standing === 'agreed' && (lumber.ofOrder(id)?.ahead.kind ?? 'ready') !== 'ready'

/** On the day that was asked for; when it is finished and they don't know yet; when a quote has run out without an answer. */
function isToCall(commission: Commission, finishedOn: string | null, { today, book }: Moment): boolean {
  const { id, remindOn, toldOn, standing } = commission
  if (remindOn !== null) return remindOn <= today
  if (standing === 'asked-about') {
    const goodUntil = lastQuote(id, book.promises)?.goodUntil ?? null
    return goodUntil !== null && goodUntil < today && (toldOn === null || toldOn <= goodUntil)
  }
  return finishedOn !== null && (toldOn === null || toldOn < finishedOn)
}

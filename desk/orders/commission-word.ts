import type { Commission } from '../../core/book/book.ts'
import type { Moment } from '../moment.ts'

export type CommissionWord =
  'asked-about' | 'agreed' | 'in-the-shop' | 'ready-to-collect' | 'handed-over' | 'on-hold' | 'called-off' | 'lost'

/** How an order stands. *In the shop* and *ready for pickup* follow from the log, the rest was decided by people. */
export function wordOf(commission: Commission, moment: Moment): CommissionWord {
  if (commission.standing === 'called-off') return closedWordOf(commission)
  if (commission.standing !== 'agreed') return commission.standing
  if (commission.onHoldUntil !== null) return 'on-hold'
  const kinds = moment.stepsOf(commission.id).map((step) => moment.progress(step.id).kind)
  if (kinds.length > 0 && kinds.every((kind) => kind === 'done')) return 'ready-to-collect'
  return kinds.some((kind) => kind !== 'to-do') ? 'in-the-shop' : 'agreed'
}

/** An inquiry that came to nothing is lost, an order is canceled. */
const closedWordOf = ({ closedFrom }: Commission): CommissionWord =>
  closedFrom === 'asked-about' ? 'lost' : 'called-off'

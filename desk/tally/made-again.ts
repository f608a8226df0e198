import type { FailureReason } from '../../core/book/failure-reasons.ts'
import { failuresLogged } from '../../db/work-logged.ts'
import type { OpenShop } from '../open-shop.ts'

/** Failures of one reason. */
export interface MadeAgain {
  readonly reason: FailureReason
  readonly times: number
  readonly pieces: number
  /** Hands-on minutes whose result is lost, as far as they were kept. */
  readonly lostMin: number
  /** Wood that they cost, minor units, as far as it is known. */
  readonly woodMinor: number
  /** Failures whose wood nobody could price. */
  readonly unpriced: number
}

/** Why pieces were made again, the most frequent reason first. */
export async function madeAgain({ db }: OpenShop): Promise<MadeAgain[]> {
  const byReason = Map.groupBy(await failuresLogged(db), ({ reason }) => reason)
  return [...byReason]
    .map(([reason, failures]) => ({
      reason,
      times: failures.length,
      pieces: failures.reduce((sum, { count }) => sum + count, 0),
      lostMin: failures.reduce((sum, { lostMin }) => sum + (lostMin ?? 0), 0),
      woodMinor: failures.reduce((sum, { woodMinor }) => sum + (woodMinor ?? 0), 0),
      unpriced: failures.filter(({ woodMinor }) => woodMinor === null).length,
    }))
    .sort((a, b) => b.times - a.times || a.reason.localeCompare(b.reason))
}

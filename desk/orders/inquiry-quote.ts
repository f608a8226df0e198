import { lastQuote } from '../../core/book/promise.ts'
import { chanceBy } from '../../core/planning/index.ts'
import { timesInUse } from '../planner/forecast.ts'
import type { OpenShop } from '../open-shop.ts'
import { promiseOfQuote } from './promise-of-quote.ts'
import { workOfInquiry } from './quoted-promise.ts'
import { quoteInquiry } from './quote-work.ts'

/** What an order that was only asked about would be quoted now. Chances 0..1; null: no date, `why` says what is in the way. */
export interface InquiryQuote {
  readonly day: string | null
  readonly chance: number | null
  /** Chance, now, of the day that was quoted then. */
  readonly chanceOfQuoted: number | null
  readonly why: string
}

/** What somebody who only asked would be quoted at this moment, beside the day that they were quoted. */
export async function inquiryQuote(shop: OpenShop, commissionId: string): Promise<InquiryQuote> {
  const nothing = { day: null, chance: null, chanceOfQuoted: null }
  const moment = shop.moment()
  const work = workOfInquiry(moment, commissionId)
  if (work === null) return { ...nothing, why: '' }
  if (work.standsStill !== null) return { ...nothing, why: work.standsStill.message }
  const { newWork, clocks } = work
  const answer = await quoteInquiry(shop, { newWork, clocks }, commissionId)
  if (!answer.ok) return { ...nothing, why: answer.problems[0]?.message ?? '' }
  const { offers } = answer.value
  const now = promiseOfQuote(
    offers,
    { wanted: 'as-quoted', kind: 'quote', chosen: null },
    moment,
    await timesInUse(shop),
  )
  const quoted = lastQuote(commissionId, moment.book.promises)?.day ?? null
  const odds = offers[0]?.odds ?? null
  return {
    day: now?.day ?? null,
    chance: now?.chance ?? null,
    chanceOfQuoted: quoted === null || odds === null ? null : chanceBy(odds, moment.setting.endOfDay(quoted)),
    why: '',
  }
}

import type { Almanac } from '../../core/almanac/almanac.ts'
import type { PromiseRecord } from '../../core/book/promise.ts'
import { isTaught } from '../../core/learning/index.ts'
import type { Forecast } from '../../core/planning/index.ts'
import type { LocalDay } from '../../core/time/local-day.ts'
import { lastEntryId } from '../../db/log.ts'
import { learnedBy } from '../learning/learned.ts'
import { LEARNED_FROM } from '../learning/newest-work.ts'
import { lessSureOf } from '../tally/judged-promises.ts'
import type { OpenShop } from '../open-shop.ts'

interface Known {
  readonly almanac: Almanac
  readonly day: LocalDay
  /** Number of the newest entry of the log at that time. */
  readonly upTo: number
  readonly forecast: Promise<Forecast>
}

const known = new WeakMap<OpenShop, Known>()

/** So small a share of new entries moves nothing that anybody would notice. */
const UNNOTICED_SHARE = 0.01

/**
 * What the shop's log teaches of times and evenings: learned anew each day, when the almanac changes, and when a hundredth of what it was
 * learned from has come in, which in a young shop is with every entry.
 */
export async function forecastOf(shop: OpenShop): Promise<Forecast> {
  const upTo = await lastEntryId(shop.db)
  const { almanac } = shop
  const day = shop.moment().today
  const before = known.get(shop)
  if (before?.almanac === almanac && before.day === day && isUnnoticed(before.upTo, upTo)) return before.forecast
  const now: Known = { almanac, day, upTo, forecast: learn(shop) }
  known.set(shop, now)
  now.forecast.catch(() => {
    if (known.get(shop) === now) known.delete(shop)
  })
  return now.forecast
}

const isUnnoticed = (learnedUpTo: number, upTo: number): boolean =>
  upTo - learnedUpTo <= UNNOTICED_SHARE * Math.min(upTo, LEARNED_FROM.newest)

async function learn(shop: OpenShop): Promise<Forecast> {
  const { newest, times, attendance, mishaps, ordersPerWeek } = await learnedBy(shop)
  return { times, attendance, mishaps, ordersPerWeek, lessSure: await lessSureOf(shop, newest) }
}

/** Which times a chance of this moment is worked out with. */
export const timesInUse = async (shop: OpenShop): Promise<PromiseRecord['times']> =>
  isTaught((await forecastOf(shop)).times) ? 'learned' : 'book'

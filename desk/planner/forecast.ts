import type { PromiseRecord } from '../../core/book/promise.ts'
import { isTaught } from '../../core/learning/index.ts'
import type { Forecast } from '../../core/planning/index.ts'
import { learnedBy } from '../learning/learned.ts'
import { lessSureOf } from '../tally/judged-promises.ts'
import type { OpenShop } from '../open-shop.ts'

const known = new WeakMap<object, Promise<Forecast>>()

/** What the shop's log teaches of times and evenings, learned once for each state of the book. */
export function forecastOf(shop: OpenShop): Promise<Forecast> {
  const { book } = shop
  const before = known.get(book)
  if (before !== undefined) return before
  const forecast = learnedBy(shop).then(async ({ times, attendance, mishaps, ordersPerWeek, work }) => ({
    ...{ times, attendance, mishaps, ordersPerWeek },
    lessSure: await lessSureOf(shop, work),
  }))
  known.set(book, forecast)
  return forecast
}

/** Which times a chance of this moment is worked out with. */
export const timesInUse = async (shop: OpenShop): Promise<PromiseRecord['times']> =>
  isTaught((await forecastOf(shop)).times) ? 'learned' : 'book'

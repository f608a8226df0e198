import { cureClockOf } from '../../core/almanac/cure-clock.ts'
import type { OwnWait, RecordedWait } from '../../core/almanac/own-wait.ts'
import { isWorthAsking, waitRecords, waitsTaken, type WaitRecord } from '../../core/learning/waits-taken.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { waitsLogged } from '../../db/waits-logged.ts'
import type { OpenShop } from '../open-shop.ts'
import { TIMES_DECIDED } from './choose-times.ts'
import type { Moved } from '../moved.ts'

/** What waits really took here, product by product, and what plans go by. */
export interface YourWaitsView {
  readonly waits: readonly YourWaitRow[]
}

export interface YourWaitRow {
  readonly product: string
  readonly wait: RecordedWait
  readonly name: string
  /** Share of the label's time, over all that was looked at: 1.4. */
  readonly factor: number
  readonly count: number
  /** Null: not decided, plans go by the label. */
  readonly use: OwnWait['use'] | null
  /** What plans multiply the label's time with. */
  readonly inUse: number
  /** Enough was looked at to ask whether plans should go by it. */
  readonly asks: boolean
}

export const yourWaits = async (shop: OpenShop): Promise<YourWaitsView> => ({
  waits: (await recordsOf(shop)).map((record) => {
    const decided = decidedAbout(shop, record)
    return {
      ...record,
      name: [...shop.almanac.glues, ...shop.almanac.finishes].find(({ id }) => id === record.product)?.name ?? '',
      use: decided?.use ?? null,
      inUse: decided?.use === 'own' ? decided.factor : 1,
      asks: isWorthAsking(record, decided),
    }
  }),
})

/** Goes by what was found here, or by the label, from now on. Problem: `nothing-found`. */
export async function useWait(
  shop: OpenShop,
  product: string,
  wait: RecordedWait,
  use: OwnWait['use'],
): Promise<Result<Moved>> {
  const record = (await recordsOf(shop)).find((one) => one.product === product && one.wait === wait)
  if (record === undefined)
    return failed(problem('nothing-found', 'Nobody has looked at such a wait yet. Say so on the Rack first.'))
  const others = shop.almanac.ownWaits.filter((one) => one.product !== product || one.wait !== wait)
  const factor = Math.round(record.factor * 100) / 100
  const ownWaits = [...others, { product, wait, use, factor, count: record.count }].sort(byKey)
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    await saveAlmanac(db, { ...shop.almanac, ownWaits }, shop.starting, stamp, TIMES_DECIDED)
    return ok(use === 'own' ? `Plans wait ${factor} times as long.` : 'Plans go by the label.')
  })
}

const byKey = (a: OwnWait, b: OwnWait): number =>
  a.product < b.product ? -1 : a.product > b.product ? 1 : a.wait < b.wait ? -1 : 1

const decidedAbout = ({ almanac }: OpenShop, { product, wait }: WaitRecord): OwnWait | undefined =>
  almanac.ownWaits.find((one) => one.product === product && one.wait === wait)

async function recordsOf(shop: OpenShop): Promise<readonly WaitRecord[]> {
  const { waits, entries } = await waitsLogged(shop.db)
  const known = new Set([...shop.almanac.glues, ...shop.almanac.finishes].map(({ id }) => id))
  const plain = { ...shop.almanac, ownWaits: [] }
  const { air } = shop.moment().setting
  const taken = waitsTaken(
    waits.filter(({ product }) => known.has(product)),
    entries,
    (product, wait, stays) => cureClockOf(plain, product, wait, air, stays).segments,
  )
  return waitRecords(taken)
}

import { isDeepStrictEqual } from 'node:util'
import { tenthsOf } from '../../core/book/chance.ts'
import { standingPromise, type NewPromise } from '../../core/book/promise.ts'
import { chanceAloneBy, chanceBy } from '../../core/planning/index.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { localDay } from '../../core/time/local-day.ts'
import { partsCutOfLot } from '../../db/boards.ts'
import { changeCommission } from '../../db/commissions.ts'
import { dropDraft } from '../../db/drafts.ts'
import { logStep } from '../../db/steps.ts'
import type { OpenShop } from '../open-shop.ts'
import { timesInUse } from '../planner/forecast.ts'
import { oddsDays } from '../planner/odds-view.ts'
import { dateOf } from '../screens/outlook.ts'
import { orderToChange, outcomeOf, readChange, type ChangeOutcome, type WorkSaid } from './change-order.ts'
import type { ChangedOrder } from './changed-order.ts'
import { changeKey, draftName } from './order-drafts.ts'
import { dayToSay, sayPromise } from './promise-of-quote.ts'
import type { Moved } from '../moved.ts'
import type { Draft } from './draft.ts'
import { losesPart } from './wood-lost.ts'

/** How a change is kept: who asked for it, what done work counts, and the day from now on. */
export interface Keeping {
  readonly said: WorkSaid
  readonly askedBy: 'customer' | 'maker'
  readonly why: string
  /** The day that was promised, the one that the desk quotes at this moment, none, or a day `YYYY-MM-DD`. */
  readonly promise: string
}

/**
 * Changes an order: its terms, pieces and steps, and the promise where that moves, in one transaction and one act. Work that does not count
 * is set aside as lost, with its hours. Problems: as of the draft; `past` for a day that is over; `nothing-changed`; `changed-since`.
 */
export async function keepChange(shop: OpenShop, id: string, draft: Draft, keeping: Keeping): Promise<Result<Moved>> {
  const { book } = shop
  const found = await orderToChange(shop, id)
  if (!found.ok) return found
  const read = await readChange(shop, found.value, draft, keeping.said)
  if (!read.ok) return read
  const changed = read.value
  const promised = await promiseAfter(shop, changed, keeping)
  if (!promised.ok) return promised
  const promise = promised.value
  const stamp = { atMs: shop.nowMs, makerId: null }
  const order: ChangedOrder['order'] = {
    ...changed.order,
    commission: { ...changed.order.commission, promisedFor: promise?.day ?? dayKept(changed, keeping) },
  }
  const moment = shop.moment()
  if (isDeepStrictEqual(order, found.value))
    return failed(problem('nothing-changed', 'Nothing differs from the order yet.'))
  const inHand = changed.lost.filter((step) => ['running', 'paused'].includes(moment.progress(step).kind))
  const moved = await shop.change((db) =>
    db.transaction().execute(async (trx): Promise<Result<string>> => {
      if (shop.book !== book) return failed(CHANGED_SINCE)
      let act: number | undefined
      for (const step of inHand) {
        const ended = await logStep(trx, step, { kind: 'done' }, stamp, { act })
        if (!ended.ok) throw new Error('A step of the book is not in the store.')
        act ??= ended.value
      }
      const cut = []
      for (const lost of changed.woodLost)
        cut.push(...(await partsCutOfLot(trx, lost.pieceId, lost.lot)).filter(({ name }) => losesPart(lost, name)))
      const asked = keeping.askedBy === 'customer' ? 'Customer asked' : 'Maker asked'
      const why = keeping.why.trim()
      const more = {
        ...(act === undefined ? {} : { act }),
        note: why === '' ? asked : `${asked}: ${why}`,
        partsLost: cut,
      }
      const written = await changeCommission(trx, id, 'order-changed', () => order, stamp, promise, more)
      if (!written.ok) return written
      await dropDraft(trx, draftName(changeKey(id)))
      return ok(`Changed: No. ${order.commission.number}, ${order.commission.customer.name}.`)
    }),
  )
  if (!moved.ok) return moved
  if (promise === null) return moved
  return ok({
    ...moved.value,
    said: `${moved.value.said} ${sayPromise(promise, order.commission.neededBy, shop.locale)}.`,
  })
}

const CHANGED_SINCE = problem('changed-since', 'Something else was pressed meanwhile: look once more, then keep it.')

const dayKept = ({ order }: ChangedOrder, { promise }: Keeping): string | null =>
  promise === 'none' ? null : order.commission.promisedFor

/** The record of the day from now on; null where nothing about the promise changes. */
async function promiseAfter(
  shop: OpenShop,
  changed: ChangedOrder,
  keeping: Keeping,
): Promise<Result<NewPromise | null>> {
  const { commission } = changed.order
  if (commission.standing !== 'agreed') return ok(null)
  const moment = shop.moment()
  if (/^\d/.test(keeping.promise) && keeping.promise < moment.today)
    return failed(problem('past', 'That promise date is past: pick today or later.', 'promise'))
  const isAsked = keeping.promise !== 'as-it-is' && keeping.promise !== commission.promisedFor
  if (!changed.changesWork && !isAsked) return ok(null)
  const outcome = await outcomeOf(shop, changed, 'odds', `change/keep/${commission.id}`)
  const record = await recordOf(shop, changed, keeping, outcome.ok ? outcome.value : null)
  if (keeping.promise === 'as-quoted' && record.day === null)
    return failed(problem('no-date', 'No day can be quoted now: pick one yourself.', 'promise'))
  const stated = standingPromise(commission, moment.book.promises)?.chance ?? null
  const isAnother =
    record.day !== commission.promisedFor ||
    (record.day !== null && record.chance !== null && (stated === null || tenthsOf(stated) !== tenthsOf(record.chance)))
  return ok(isAnother ? record : null)
}

async function recordOf(
  shop: OpenShop,
  { order: { commission } }: ChangedOrder,
  { promise: wanted, askedBy, why }: Keeping,
  outcome: ChangeOutcome | null,
): Promise<NewPromise> {
  const { setting, almanac } = shop.moment()
  const { timeZone } = almanac.shop
  const odds = outcome?.odds.get(commission.id) ?? null
  const doneAt = outcome === null ? null : dateOf(commission, outcome.moment).doneAt
  const quoted = doneAt === null ? null : dayToSay({ doneAt, odds }, timeZone)
  const day =
    wanted === 'none' ? null : wanted === 'as-it-is' ? commission.promisedFor : wanted === 'as-quoted' ? quoted : wanted
  return {
    kind: 'promise',
    day,
    chance: odds === null || day === null ? null : chanceBy(odds, setting.endOfDay(day)),
    chanceAlone: odds === null || day === null ? null : chanceAloneBy(odds, setting.endOfDay(day)),
    days: odds === null ? null : oddsDays(odds, timeZone),
    plannedDay: doneAt === null ? null : localDay(doneAt, timeZone),
    // Whether every other promise is kept by it was not weighed.
    offer: { kind: 'own-day', takes: '' },
    times: await timesInUse(shop),
    wantedBy: askedBy,
    why: why.trim() === '' ? 'Order changed' : `Order changed: ${why.trim()}`,
    goodUntil: null,
  }
}

import { randomUUID } from 'node:crypto'
import { usualStep } from '../../core/almanac/money-facts.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { withExtraHours } from '../../core/almanac/extra-hours.ts'
import { type EnteredMoney, paidHow } from '../../core/money/ledger.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { addCommission, commissionTakenWith } from '../../db/commissions.ts'
import { renameDraft } from '../../db/drafts.ts'
import { lastEntryId } from '../../db/log.ts'
import { promisesOf } from '../../db/promises.ts'
import { inTransaction } from '../../db/transaction.ts'
import { draftName } from './order-drafts.ts'
import { orderOf, readDay, readDraft } from './draft-work.ts'
import type { OpenShop } from '../open-shop.ts'
import { takeIdsOfNextOrder } from './order-ids.ts'
import { sayPromise, type ChosenOffer } from './promise-of-quote.ts'
import { quotedPromise } from './quoted-promise.ts'
import { workOfDraft } from './quote-draft.ts'
import type { Moved } from '../moved.ts'
import type { Draft } from './draft.ts'

/** How an order is taken: with the day that the desk quotes for it at this moment, a day of one's own, or none. */
export interface Taking {
  readonly standing: 'asked-about' | 'agreed'
  /** `as-quoted`, a day `YYYY-MM-DD`, or empty or null for no promise. */
  readonly promisedFor: string | null
  readonly offer?: ChosenOffer | null | undefined
  /** Which of the drafts it was typed in: taken a second time, it is the order of the first time. */
  readonly draftKey: string
}

/** An order in the book, and the day that was given or quoted with it. */
export type Taken = Moved & {
  readonly commissionId: string
  readonly day: string | null
  readonly chance: number | null
}

/**
 * Turns the draft into a commission: all of it in one transaction, or nothing and every problem by its field. The day is quoted
 * here and for this very draft, whatever a screen has shown: it is never one of an earlier draft. Hours that a chosen offer adds are in the
 * almanac afterwards, and out of it again when the taking is undone.
 */
export async function takeOrder(shop: OpenShop, draft: Draft, taking: Taking): Promise<Result<Taken>> {
  const { standing, promisedFor, draftKey } = taking
  const before = await takenBefore(shop, draftKey)
  if (before !== null) return ok(before)
  const read = readDraft(draft, shop.almanac, shop.now)
  const day = promisedFor === 'as-quoted' ? ok(null) : readDay(promisedFor ?? '')
  const problems = [
    ...read.problems,
    ...(day.ok ? [] : day.problems.map((each) => ({ ...each, field: 'promisedFor' }))),
  ]
  if (day.ok && day.value !== null && day.value < shop.moment().today) {
    problems.push(problem('past', 'That promise date is past: pick today or later.', 'promisedFor'))
  }
  if (problems.length > 0 || !day.ok) return failed(...problems)
  const wanted = promisedFor === 'as-quoted' ? 'as-quoted' : day.value
  const ids = takeIdsOfNextOrder(shop)
  const quoted =
    wanted === null
      ? null
      : await quotedPromise(shop, workOfDraft(draft, read, shop.moment(), ids), {
          wanted,
          kind: standing === 'agreed' ? 'promise' : 'quote',
          chosen: taking.offer ?? null,
        })
  if (quoted?.ok === false) return quoted
  const { promise, hours } = quoted?.value ?? { promise: null, hours: null }
  const promised = standing === 'agreed' ? (promise?.day ?? null) : null
  const decided = { standing, promisedFor: promised, takenAtMin: shop.now, deposit: depositRule(shop.almanac) }
  const order = orderOf(draft, read, decided, ids.inTurn())
  const payments: readonly EnteredMoney[] =
    read.paidMinor === 0
      ? []
      : [
          {
            id: randomUUID(),
            commissionId: order.commission.id,
            atMs: shop.nowMs,
            day: shop.moment().today,
            kind: 'payment',
            minor: read.paidMinor,
            ...paidHow(draft.depositHow),
            takesBack: null,
          },
        ]
  const { id } = order.commission
  let inBook = id
  const extra = standing === 'agreed' ? hours : null
  const moved = await shop.change((db) =>
    inTransaction(db, async (trx) => {
      const stamp = { atMs: shop.nowMs, makerId: null }
      const { number, customer, ...taken } = await addCommission(trx, order, stamp, {
        draftId: draftName(draftKey),
        pressKey: pressKeyOf(draftKey),
        ...{ promise, payments },
      })
      inBook = taken.id
      if (extra !== null && inBook === id) {
        const longer = withExtraHours(shop.almanac, extra.maker, extra.hours, `For no. ${number}`)
        await saveAlmanac(trx, longer, shop.starting, stamp, 'almanac-changed', await lastEntryId(trx))
      }
      const said = `${standing === 'agreed' ? 'Order taken' : 'Saved as inquiry'}: No. ${number}, ${customer.name}.`
      if (promise === null) return ok(said)
      const added = extra === null ? '' : ' The hours are in the Almanac.'
      return ok(`${said} ${sayPromise(promise, read.neededBy, shop.locale)}.${added}`)
    }),
  )
  // Two pages took it at the same moment, and the other one's is in the book.
  const first = inBook === id ? null : await takenBefore(shop, draftKey)
  if (first !== null) return ok(first)
  return moved.ok
    ? ok({ ...moved.value, commissionId: id, day: promise?.day ?? null, chance: promise?.chance ?? null })
    : moved
}

/**
 * The order that was taken from this draft: whoever takes it again had no answer the first time. What was typed into the draft since becomes
 * a draft of its own.
 */
async function takenBefore(shop: OpenShop, draftKey: string): Promise<Taken | null> {
  const pressKey = pressKeyOf(draftKey)
  const taken = pressKey === undefined ? null : await commissionTakenWith(shop.db, pressKey)
  if (taken === null) return null
  const typedSince = await renameDraft(shop.db, draftName(draftKey), draftName(randomUUID()))
  const [promise] = await promisesOf(shop.db, [taken.id])
  const said = `No. ${taken.number}, ${taken.customer.name}, is in the book already.`
  return {
    said: typedSince ? `${said} What you typed since is under New order.` : said,
    entryId: null,
    commissionId: taken.id,
    day: promise?.day ?? null,
    chance: promise?.chance ?? null,
  }
}

const pressKeyOf = (draftKey: string): string | undefined => (draftKey === '' ? undefined : draftKey)

const depositRule = ({ money, shop }: Almanac) => ({
  share: money.depositShare,
  stepMinor: money.depositStepMinor ?? usualStep(shop.currency),
})

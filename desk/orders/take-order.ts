import { randomUUID } from 'node:crypto'
import { usualStep } from '../../core/almanac/money-facts.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { withExtraHours } from '../../core/almanac/extra-hours.ts'
import { type EnteredMoney, paidHow } from '../../core/money/ledger.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { addCommission } from '../../db/commissions.ts'
import { lastEntryId } from '../../db/log.ts'
import { draftName } from './order-drafts.ts'
import { orderOf, readDay, readDraft } from './draft-work.ts'
import type { OpenShop } from '../open-shop.ts'
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
  /** Which of the drafts it was typed in. */
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
  const { standing, promisedFor } = taking
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
  const quoted =
    wanted === null
      ? null
      : await quotedPromise(shop, workOfDraft(draft, read, shop.moment()), {
          wanted,
          kind: standing === 'agreed' ? 'promise' : 'quote',
          chosen: taking.offer ?? null,
        })
  if (quoted?.ok === false) return quoted
  const { promise, hours } = quoted?.value ?? { promise: null, hours: null }
  const promised = standing === 'agreed' ? (promise?.day ?? null) : null
  const decided = { standing, promisedFor: promised, takenAtMin: shop.now, deposit: depositRule(shop.almanac) }
  const order = orderOf(draft, read, decided, randomUUID)
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
  const moved = await shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const { number, customer } = await addCommission(db, order, stamp, {
      draftId: draftName(taking.draftKey),
      promise,
      payments,
    })
    if (hours !== null && standing === 'agreed') {
      const longer = withExtraHours(shop.almanac, hours.maker, hours.hours, `For no. ${number}`)
      await saveAlmanac(db, longer, shop.starting, stamp, 'almanac-changed', await lastEntryId(db))
    }
    const said = `${standing === 'agreed' ? 'Order taken' : 'Saved as inquiry'}: No. ${number}, ${customer.name}.`
    if (promise === null) return ok(said)
    const added = hours !== null && standing === 'agreed' ? ' The hours are in the Almanac.' : ''
    return ok(`${said} ${sayPromise(promise, read.neededBy, shop.locale)}.${added}`)
  })
  const { id } = order.commission
  return moved.ok
    ? ok({ ...moved.value, commissionId: id, day: promise?.day ?? null, chance: promise?.chance ?? null })
    : moved
}

const depositRule = ({ money, shop }: Almanac) => ({
  share: money.depositShare,
  stepMinor: money.depositStepMinor ?? usualStep(shop.currency),
})

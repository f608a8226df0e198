import { randomUUID } from 'node:crypto'
import { usualStep } from '../../core/almanac/money-facts.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { type MoneyEntry, paidHow } from '../../core/money/ledger.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { addCommission } from '../../db/commissions.ts'
import { orderOf, readDay, readDraft } from './draft-work.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Draft, Moved } from '../views.ts'

/** The one order form of this shop; its text is kept under this name until the order is taken. */
export const theDraft = 'new-order'

/** Turns the draft into a commission: all of it in one transaction, or nothing and every problem by its field. */
export async function takeOrder(
  shop: OpenShop,
  draft: Draft,
  standing: 'asked-about' | 'agreed',
  promisedFor: string | null,
): Promise<Result<Moved & { readonly commissionId: string }>> {
  const read = readDraft(draft, shop.almanac, shop.now)
  const promise = readDay(promisedFor ?? '')
  const problems = [
    ...read.problems,
    ...(promise.ok ? [] : promise.problems.map((each) => ({ ...each, field: 'promisedFor' }))),
  ]
  if (promise.ok && promise.value !== null && promise.value < shop.moment().today) {
    problems.push(problem('past', 'The promise date is past: choose a day from today on.', 'promisedFor'))
  }
  if (problems.length > 0) return failed(...problems)
  const order = orderOf(
    draft,
    read,
    {
      standing,
      promisedFor: promise.ok && standing === 'agreed' ? promise.value : null,
      takenAtMin: shop.now,
      deposit: depositRule(shop.almanac),
    },
    randomUUID,
  )
  const payments: readonly MoneyEntry[] =
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
    const taken = await addCommission(db, order, { atMs: shop.nowMs, makerId: null }, { draftId: theDraft, payments })
    return ok(
      `${standing === 'agreed' ? 'Agreed' : 'Noted as asked about'}: No. ${taken.number}, ${taken.customer.name}.`,
    )
  })
  return moved.ok ? ok({ ...moved.value, commissionId: order.commission.id }) : moved
}

const depositRule = ({ money, shop }: Almanac) => ({
  share: money.depositShare,
  stepMinor: money.depositStepMinor ?? usualStep(shop.currency),
})

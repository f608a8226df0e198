import { readMoney, writeMoney } from '../../core/money/money.ts'
import { paidIn } from '../../core/money/ledger.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { changeCommission, commissionById } from '../../db/commissions.ts'
import { moneyOf } from '../../db/money.ts'
import type { Moved } from '../moved.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * What is kept of what was paid, as typed: nothing typed is null, the proposal.
 * Problems, of `field`: `money`, `currency`, `negative`, `too-much`.
 */
export async function readKept(
  shop: OpenShop,
  commissionId: string,
  typed: string,
  field: string,
): Promise<Result<number | null>> {
  if (typed.trim() === '') return ok(null)
  const { currency } = shop.almanac.shop
  const read = readMoney(typed, currency)
  if (!read.ok) return failed(...read.problems.map((each) => ({ ...each, field })))
  if (read.value < 0) return failed(problem('negative', 'Keep nothing or more: type 0 to give all of it back.', field))
  const paid = paidIn(await moneyOf(shop.db, [commissionId]))
  if (read.value > paid)
    return failed(
      problem('too-much', `Only ${writeMoney(paid, currency, shop.locale)} was paid: keep that or less.`, field),
    )
  return ok(read.value)
}

/** Keeps another sum of a canceled order than the proposal, or the proposal again; what goes back follows. */
export async function keepOfCanceled(shop: OpenShop, id: string, typed: string): Promise<Result<Moved>> {
  const order = await commissionById(shop.db, id)
  if (order === null) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const { number, standing } = order.commission
  if (standing !== 'called-off')
    return failed(problem('wrong-standing', `No. ${number} is not canceled: nothing is kept of it.`, 'amount'))
  const kept = await readKept(shop, id, typed, 'amount')
  if (!kept.ok) return kept
  const { currency } = shop.almanac.shop
  return shop.change(async (db) => {
    const stamp = { atMs: shop.nowMs, makerId: null }
    const changed = await changeCommission(
      db,
      id,
      'commission-changed',
      (known) => ({ ...known, commission: { ...known.commission, keptMinor: kept.value } }),
      stamp,
    )
    if (!changed.ok) return changed
    return ok(
      kept.value === null
        ? `Keep what is proposed: No. ${number}.`
        : `Keep ${writeMoney(kept.value, currency, shop.locale)}: No. ${number}.`,
    )
  })
}

import { z } from 'zod'
import { PAID_HOW } from '../../core/money/ledger.ts'
import { type MoneyInput, enterPayment, takeBackMoney } from './enter-money.ts'
import { keepOfCanceled } from './keep-of-canceled.ts'
import { id, short } from '../forms.ts'
import { noInput } from '../procedure.ts'
import { ok } from '../../core/problems.ts'
import { inquiriesWorth } from './inquiries-worth.ts'
import { soldBefore } from './sold-before.ts'
import { inShop } from '../in-shop.ts'

const money = z.strictObject({
  kind: z.enum(['payment', 'refund', 'write-off', 'tip']),
  amount: z.string().max(40),
  how: z.enum(PAID_HOW),
  day: z.string().max(20),
  reference: short,
}) satisfies z.core.$ZodType<MoneyInput>

/** Money that changed hands. */
export const moneyProcedures = {
  moneyEnter: inShop(z.strictObject({ id, money }), (shop, input) => enterPayment(shop, input.id, input.money)),
  soldBefore: inShop(
    z.strictObject({ construction: id, woodMm3: z.number().min(0).nullable(), except: id.nullable() }),
    async (shop, asked) => ok(await soldBefore(shop, asked)),
  ),
  inquiriesWorth: inShop(noInput, (shop) => ok(inquiriesWorth(shop.moment()))),
  moneyKeep: inShop(z.strictObject({ id, amount: z.string().max(40) }), (shop, input) =>
    keepOfCanceled(shop, input.id, input.amount),
  ),
  moneyTakeBack: inShop(z.strictObject({ id, entryId: z.string().min(1).max(80) }), (shop, input) =>
    takeBackMoney(shop, input.entryId, input.id),
  ),
}

import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { noInput } from '../procedure.ts'
import { answerAsked, chooseEntry, followTimes, useTime } from './choose-times.ts'
import { useWait, yourWaits } from './your-waits.ts'
import { yourTimesView } from './your-times-view.ts'
import { fewFields, id, short, tooManyFields } from '../forms.ts'
import { inShop } from '../in-shop.ts'

/** Times and waits of one’s own. */
export const learningProcedures = {
  yourTimes: inShop(noInput, async (shop) => ok(await yourTimesView(shop))),
  timeUse: inShop(
    z.strictObject({ operation: id, use: z.enum(['mine', 'book', 'undecided']) }),
    (shop, { operation, use }) => useTime(shop, operation, use),
  ),
  yourWaits: inShop(noInput, async (shop) => ok(await yourWaits(shop))),
  waitUse: inShop(
    z.strictObject({ product: id, wait: z.enum(['curing', 'drying', 'resting']), use: z.enum(['own', 'label']) }),
    (shop, { product, wait, use }) => useWait(shop, product, wait, use),
  ),
  timesFollow: inShop(z.strictObject({ follow: z.enum(['by-themselves', 'when-accepted']) }), (shop, { follow }) =>
    followTimes(shop, follow),
  ),
  entryChoose: inShop(
    z.strictObject({ stepId: id, choice: z.enum(['count', 'leave-out', 'as-found']) }),
    (shop, { stepId, choice }) => chooseEntry(shop, stepId, choice),
  ),
  timesAsked: inShop(
    z.strictObject({ answers: z.record(id, short).refine(fewFields, tooManyFields) }),
    (shop, { answers }) => answerAsked(shop, answers),
  ),
}

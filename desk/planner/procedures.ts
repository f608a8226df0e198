import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { noInput } from '../procedure.ts'
import { sayWhatWouldHelp, whyDate } from './why-date.ts'
import { id } from '../forms.ts'
import { inShop } from '../in-shop.ts'

/** Questions about dates. */
export const plannerProcedures = {
  whyDate: inShop(z.strictObject({ id }), async (shop, input) => ok(await whyDate(shop, input.id))),
  whatWouldHelp: inShop(z.strictObject({ id }), (shop, input) => sayWhatWouldHelp(shop, input.id)),
  lookForBetterDates: inShop(noInput, (shop) => {
    shop.lookForBetterDates()
    return ok(null)
  }),
  stopLooking: inShop(noInput, (shop) => {
    shop.stopLooking()
    return ok(null)
  }),
}

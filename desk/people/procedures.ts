import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { id } from '../forms.ts'
import { inShop } from '../in-shop.ts'
import { noInput } from '../procedure.ts'
import { dueToErase } from './due.ts'
import { erase, whatErasingDoes } from './erase.ts'
import { personFile } from './person-file.ts'

/** What a customer may ask for about themselves: a copy of what is kept, and that it is erased. */
export const peopleProcedures = {
  peopleDue: inShop(noInput, async (shop) => ok(await dueToErase(shop))),
  personFile: inShop(z.strictObject({ id }), (shop, input) => personFile(shop, input.id)),
  personToErase: inShop(z.strictObject({ id }), (shop, input) => whatErasingDoes(shop, input.id)),
  personErase: inShop(z.strictObject({ id, fromPapersKeptByLaw: z.boolean() }), (shop, { id: customer, ...how }) =>
    erase(shop, customer, how),
  ),
}

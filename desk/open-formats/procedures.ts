import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { TAKE_ALONG, takeAlong } from './take-along.ts'
import { LARGEST_PART } from '../safekeeping.ts'
import { id } from '../forms.ts'
import { inShop, procedure } from '../in-shop.ts'

/** A whole shop arrives in parts, because its photos make it larger than one call may be. */
const mostParts = 2_000

/** Everything to take along, and back. */
export const openFormatsProcedures = {
  takeAlong: inShop(z.strictObject({ what: z.enum(TAKE_ALONG) }), async (shop, { what }) =>
    ok(await takeAlong(shop, what)),
  ),
  bringPart: procedure(
    z.strictObject({ id, index: z.int().min(0).max(mostParts), text: z.string().max(LARGEST_PART) }),
    (context, part) => context.safekeeping.takePart(part),
  ),
  bringLook: procedure(
    z.strictObject({ id, parts: z.int().min(1).max(mostParts) }),
    (context, { id: arrived, parts }) => context.safekeeping.lookIn(arrived, parts),
  ),
  bringIn: procedure(z.strictObject({ id }), (context, { id: arrived }) => context.safekeeping.bringIn(arrived)),
  bringCancel: procedure(z.strictObject({}), (context) => context.safekeeping.leaveOut()),
}

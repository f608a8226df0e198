import { z } from 'zod'
import { ok, type Result } from '../../core/problems.ts'
import { RIGHTS } from '../../db/kept-devices.ts'
import { id } from '../forms.ts'
import { type DeskContext, procedure } from '../in-shop.ts'
import { noInput } from '../procedure.ts'
import type { DevicesView } from './devices.ts'

const thenShown = (context: DeskContext, done: Result<null>): Result<DevicesView> =>
  done.ok ? ok(context.devices.view()) : done

/** Phones and tablets at the bench; at the desk alone. */
export const devicesProcedures = {
  devices: procedure(noInput, (context) => ok(context.devices.view())),
  devicesOn: procedure(z.strictObject({ address: z.string().max(40) }), async (context, { address }) =>
    thenShown(context, await context.devices.switchOn(address)),
  ),
  devicesOff: procedure(noInput, async (context) => thenShown(context, await context.devices.switchOff())),
  deviceCode: procedure(z.strictObject({ name: z.string().max(40), right: z.enum(RIGHTS) }), (context, input) =>
    thenShown(context, context.devices.offerCode(input.name, input.right)),
  ),
  deviceCodeAgain: procedure(z.strictObject({ id }), (context, { id: device }) =>
    thenShown(context, context.devices.offerCodeAgain(device)),
  ),
  deviceRemove: procedure(z.strictObject({ id }), (context, { id: device }) =>
    thenShown(context, context.devices.revoke(device)),
  ),
}

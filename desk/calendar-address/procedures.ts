import { ok } from '../../core/problems.ts'
import { procedure } from '../in-shop.ts'
import { noInput } from '../procedure.ts'

/** The address on this computer that calendars subscribe to. */
export const calendarAddressProcedures = {
  calendarAddress: procedure(noInput, ({ calendarAddress }) => ok(calendarAddress.view())),
  calendarAddressNew: procedure(noInput, ({ calendarAddress }) => calendarAddress.makeNew()),
  calendarAddressOff: procedure(noInput, ({ calendarAddress }) => calendarAddress.switchOff()),
}

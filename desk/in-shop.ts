import { z } from 'zod'
import type { Result } from '../core/problems.ts'
import type { CalendarAddress } from './calendar-address/calendar-address.ts'
import type { SettableClock } from './clock.ts'
import type { CopiesElsewhere } from './copies/copies-elsewhere.ts'
import type { Devices } from './devices/devices.ts'
import type { Notice } from './desk-event.ts'
import type { OpenShop } from './open-shop.ts'
import { proceduresOf } from './procedure.ts'
import type { Safekeeping } from './safekeeping.ts'
import type { ShopState } from './shop-state.ts'

/** What a procedure works with. */
export interface DeskContext {
  /** The shop, or the problem why its file is not open. */
  shop(): Result<OpenShop>
  shopState(): Promise<ShopState>
  readonly safekeeping: Safekeeping
  readonly copies: CopiesElsewhere
  readonly calendarAddress: CalendarAddress
  readonly devices: Devices
  readonly dataFolder: string
}

/** What the procedures that only tests may call work with besides. */
export interface TestContext extends DeskContext {
  readonly clock: SettableClock
  tellNotice(notice: Notice): void
  /** Looks for what is due, as the desk does every few seconds. */
  tick(): Promise<void>
}

/** A procedure that needs no open shop. */
export const procedure = proceduresOf<DeskContext>()

/** A procedure that needs the open shop. */
export const inShop = <Schema extends z.core.$ZodType, Output>(
  input: Schema,
  run: (shop: OpenShop, input: z.output<Schema>) => Result<Output> | Promise<Result<Output>>,
) =>
  procedure(input, async (context: DeskContext, checked: z.output<Schema>): Promise<Result<Output>> => {
    const shop = context.shop()
    return shop.ok ? shop.value.during(shop.value.caughtUp().then(() => run(shop.value, checked))) : shop
  })

import { isoCurrency } from '../core/money/currency.ts'
import { failed, ok, type Result } from '../core/problems.ts'
import { CalendarAddress } from './calendar-address/calendar-address.ts'
import { checkElsewhere } from './checking/check-elsewhere.ts'
import { settableClock, type SettableClock } from './clock.ts'
import { demoEvening } from './demo/demo-shop.ts'
import { DeviceCalls } from './devices/device-calls.ts'
import { Devices } from './devices/devices.ts'
import { networksHere } from './devices/networks-here.ts'
import type { WallClock, Desk, DeskOptions } from './desk.ts'
import type { DeskEvent } from './desk-event.ts'
import { writeCalendar } from './open-formats/calendar.ts'
import { notOpen } from './open-shop.ts'
import { answer } from './procedure.ts'
import type { DeskContext, TestContext } from './in-shop.ts'
import { procedures, testProcedures } from './procedures.ts'
import type { SearchBudget } from './planner/search-plan.ts'
import { ShopOpening } from './shop-opening.ts'
import { localeHere, placeHere } from './this-computer.ts'

const tickMs = 5_000
const MINUTE_MS = 60_000
/** A timer may be a little early. */
const justAfterMs = 20

/** About as long as it takes to read what a press changed; a usual book uses its schedules up before that. */
const usualSearch: SearchBudget = { placements: 2_000_000, schedules: 5_000, seconds: 20 }

const settable = (clock: SettableClock | WallClock): SettableClock =>
  'setMs' in clock ? clock : settableClock(clock.nowMs())

/**
 * Opens the shop in a data folder, which is made when missing. A folder that another instance has open is refused. Whatever
 * else is in the way, the desk opens: it then answers with what it found and which copies can be opened.
 */
export async function openDesk(options: DeskOptions): Promise<Result<Desk>> {
  const { dataFolder, where, demo, forTests, search = forTests ? null : usualSearch } = options
  const listeners = new Set<(event: DeskEvent) => void>()
  const tell = (event: DeskEvent): void => listeners.forEach((listener) => listener(event))
  const hearEvents = (listener: (event: DeskEvent) => void): (() => void) => {
    listeners.add(listener)
    return () => listeners.delete(listener)
  }
  // The demo shop has an evening of its own; tests set the clock.
  const clock: SettableClock | WallClock = forTests
    ? settableClock(options.clock.nowMs())
    : demo
      ? settableClock(demoEvening(options.clock.nowMs()))
      : options.clock
  const opening = new ShopOpening({
    ...{ dataFolder, where, clock, search, tell, demo, locale: localeHere() },
    examineElsewhere: options.examineElsewhere ?? checkElsewhere,
  })
  const { safekeeping } = opening
  await opening.open()
  if (opening.trouble?.code === 'folder-in-use') return failed(opening.trouble)

  const calendarAddress = new CalendarAddress(dataFolder, async () => {
    const { shop } = opening
    return shop === null ? null : shop.during(shop.caughtUp().then(() => writeCalendar(shop)))
  })
  await calendarAddress.open()

  const devices: Devices = new Devices({
    dataFolder,
    clockMs: () => clock.nowMs(),
    networks: () => [...networksHere(), ...(forTests ? [{ name: 'loopback', address: '127.0.0.1', prefix: 8 }] : [])],
    openDoor: options.openDoor ?? null,
    changed: () => tell({ kind: 'changed' }),
    visitors: {
      call: (device, name, input, press) => deviceCalls.call(device, name, input, press),
      onEvent: hearEvents,
    },
  })
  const context: DeskContext = {
    shop: () => (opening.shop ? ok(opening.shop) : opening.trouble ? failed(opening.trouble) : notOpen),
    safekeeping,
    copies: opening.copies,
    calendarAddress,
    devices,
    dataFolder,
    shopState: () => {
      const { shop, trouble } = opening
      return Promise.resolve({
        nowMs: clock.nowMs(),
        clockHeld: false,
        shopName: shop?.almanac.shop.name ?? '',
        timeZone: shop?.almanac.shop.timeZone ?? placeHere().timeZone,
        units: shop?.almanac.shop.units ?? placeHere().units,
        currency: shop?.almanac.shop.currency ?? isoCurrency(placeHere().currency),
        locale: localeHere(),
        demo,
        makers: (shop?.almanac.makers ?? []).map(({ id, name }) => ({ id, name })),
        trouble: trouble && { problem: trouble, folder: dataFolder, backups: safekeeping.list() },
        inTheWay: [...(shop?.inTheWay() ?? []), ...opening.copies.warnings(), ...devices.warnings()],
        betterDates: shop?.betterDates ?? { kind: 'nothing-to-look-for' },
        device: null,
      })
    },
  }
  const deviceCalls = new DeviceCalls(context, (name, input) => answer(procedures, context, name, input))
  await devices.follow()
  const tick = async (): Promise<void> => {
    await devices.follow()
    try {
      await opening.tick()
    } catch (fault) {
      console.error('Fault while looking for what is due:', fault)
    }
  }
  const testContext = (): TestContext => ({
    ...context,
    clock: settable(clock),
    tellNotice: (notice) => tell({ kind: 'notice', notice }),
    tick: async () => {
      await tick()
      tell({ kind: 'changed' })
    },
  })

  let timer = setTimeout(look, untilNextLook())
  timer.unref()
  function look(): void {
    timer = setTimeout(look, untilNextLook())
    timer.unref()
    void tick()
  }
  // The shop is made up anew as each minute begins, and whoever presses then must not wait for it.
  function untilNextLook(): number {
    return Math.min(tickMs, MINUTE_MS - (clock.nowMs() % MINUTE_MS) + justAfterMs)
  }
  return ok({
    call: (name, input) =>
      forTests
        ? answer({ ...procedures, ...testProcedures }, testContext(), name, input, { checkJson: true })
        : answer(procedures, context, name, input),
    onEvent: hearEvents,
    async close() {
      clearTimeout(timer)
      await devices.close()
      listeners.clear()
      await calendarAddress.close()
      await opening.close()
    },
  })
}

import { isoCurrency } from '../core/money/currency.ts'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { startingAlmanac } from '../core/almanac/defaults.ts'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { listBackups } from '../db/backup.ts'
import { openShopFile } from '../db/connection.ts'
import { lockFolder } from '../db/folder-lock.ts'
import { restoreBackup } from '../db/restore.ts'
import { settableClock, type SettableClock } from './clock.ts'
import { demoAlmanac, demoEvening, fillDemoShop } from './demo/demo-shop.ts'
import type { Clock, Desk, DeskEvent, DeskOptions } from './desk.ts'
import { notOpen, OpenShop } from './open-shop.ts'
import { answer } from './procedure.ts'
import { procedures, testProcedures, type DeskContext, type TestContext } from './procedures.ts'
import { backupRow, type Safekeeping } from './safekeeping.ts'
import type { SearchBudget } from './planner/search-plan.ts'
import { localeHere, placeHere } from './this-computer.ts'

const tickMs = 5_000

/** About as long as it takes to read what a press changed; a usual book uses its schedules up before that. */
const usualSearch: SearchBudget = { placements: 2_000_000, schedules: 5_000, seconds: 20 }

const settable = (clock: SettableClock | Clock): SettableClock =>
  'setMs' in clock ? clock : settableClock(clock.nowMs())

/**
 * Opens the shop in a data folder, which is made when missing. A folder that another instance has open is refused; a file
 * that is damaged or newer is not touched, and the desk answers with what it found and which backups can be opened.
 */
export async function openDesk(options: DeskOptions): Promise<Result<Desk>> {
  const { dataFolder, demo, forTests, search = forTests ? null : usualSearch } = options
  await mkdir(dataFolder, { recursive: true })
  const lock = lockFolder(dataFolder, { where: options.where, pid: process.pid, sinceMs: Date.now() })
  if (!lock.ok) return lock

  const listeners = new Set<(event: DeskEvent) => void>()
  const tell = (event: DeskEvent): void => listeners.forEach((listener) => listener(event))
  // The demo shop has an evening of its own; tests set the clock.
  const clock: SettableClock | Clock = forTests
    ? settableClock(options.clock.nowMs())
    : demo
      ? settableClock(demoEvening(options.clock.nowMs()))
      : options.clock
  const path = join(dataFolder, 'shop.sqlite')
  let shop: OpenShop | null = null
  let trouble: Problem | null = null

  async function openFile(): Promise<void> {
    const file = await openShopFile(path, { clockMs: () => clock.nowMs() })
    if (!file.ok) {
      trouble = file.problems[0] ?? problem('not-open', 'The data file could not be opened.')
      return
    }
    trouble = null
    const starting = demo ? demoAlmanac() : startingAlmanac(placeHere())
    const shopOptions = { clock, search, tell, demo, locale: localeHere(), starting }
    shop = await OpenShop.open(file.value, shopOptions)
    if (demo && file.value.opened === 'new') await fillDemoShop(shop)
  }

  const safekeeping: Safekeeping = {
    list: () => listBackups(path).map(backupRow),
    async make() {
      if (!shop) return notOpen
      const made = await shop.file.backUp('by-hand')
      return made.ok ? ok(backupRow(made.value)) : made
    },
    async open(name) {
      await shop?.close()
      shop = null
      const restored = restoreBackup(path, name, clock.nowMs())
      await openFile()
      tell({ kind: 'changed' })
      return restored.ok ? ok(null) : restored
    },
  }

  const context: DeskContext = {
    shop: () => (shop ? ok(shop) : failed(trouble ?? problem('not-open', 'The data file is not open.'))),
    safekeeping,
    shopState: () =>
      Promise.resolve({
        nowMs: clock.nowMs(),
        clockHeld: false,
        shopName: shop?.almanac.shop.name ?? '',
        timeZone: shop?.almanac.shop.timeZone ?? placeHere().timeZone,
        units: shop?.almanac.shop.units ?? placeHere().units,
        currency: shop?.almanac.shop.currency ?? isoCurrency(placeHere().currency),
        locale: localeHere(),
        demo,
        makers: (shop?.almanac.makers ?? []).map(({ id, name }) => ({ id, name })),
        trouble: trouble && { problem: trouble, backups: safekeeping.list() },
        inTheWay: shop?.inTheWay() ?? [],
        betterDates: shop?.betterDates ?? { kind: 'nothing-to-look-for' },
      }),
  }
  const tick = async (): Promise<void> => {
    try {
      await shop?.tick()
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

  await openFile()
  const timer = setInterval(() => void tick(), tickMs)
  timer.unref()
  return ok({
    call: (name, input) =>
      forTests
        ? answer({ ...procedures, ...testProcedures }, testContext(), name, input, { checkJson: true })
        : answer(procedures, context, name, input),
    onEvent(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    async close() {
      clearInterval(timer)
      listeners.clear()
      await shop?.close()
      shop = null
      lock.value.release()
    },
  })
}

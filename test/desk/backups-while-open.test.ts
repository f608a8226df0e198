import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { listBackups, namedBackups } from '../../db/backup.ts'
import { aDesk, aDraft, type TestDesk, tuesdayMorning } from './support/a-desk.ts'

const DAY_MS = 24 * 3_600_000

const onDay = (day: number): string => new Date(Date.parse(tuesdayMorning) + day * DAY_MS).toISOString()

const takeOrder = ({ ask }: TestDesk) => ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })

const madeOn = (folder: string): string[] =>
  namedBackups(join(folder, 'shop.sqlite')).map(({ madeAtMs }) => new Date(madeAtMs).toISOString().slice(0, 10))

test('an app that stays open for twenty days makes a backup on each day that something was done', async () => {
  const shop = await aDesk()
  for (let day = 0; day < 20; day++) {
    await takeOrder(shop)
    await shop.setClock(onDay(day))
  }
  // Thinned to two weeks of days, then weeks.
  expect(new Set(madeOn(shop.folder)).size).toBeGreaterThanOrEqual(14)
  expect(madeOn(shop.folder)[0]).toBe(onDay(19).slice(0, 10))
  const [newest] = listBackups(join(shop.folder, 'shop.sqlite'))
  expect(newest?.found).toMatchObject({ kind: 'sound', commissions: 20 })
})

test('days without any work make no backup', async () => {
  const shop = await aDesk()
  await takeOrder(shop)
  await shop.setClock(onDay(0))
  const before = madeOn(shop.folder)
  for (let day = 1; day < 5; day++) await shop.setClock(onDay(day))
  expect(madeOn(shop.folder)).toEqual(before)
})

test('closing the app keeps a backup of what was done since the last one, and none when nothing was', async () => {
  const shop = await aDesk()
  await takeOrder(shop)
  await shop.setClock(onDay(0))
  await takeOrder(shop)
  await shop.desk.close()
  const path = join(shop.folder, 'shop.sqlite')
  expect(listBackups(path)[0]).toMatchObject({ reason: 'closing', found: { kind: 'sound', commissions: 2 } })
  const count = namedBackups(path).length
  const again = await aDesk({ folder: shop.folder })
  await again.desk.close()
  expect(namedBackups(path)).toHaveLength(count)
})

test('a backup that cannot be made while the app is open is told, and told no more once one was made', async () => {
  const shop = await aDesk()
  const folder = join(shop.folder, 'backups')
  rmSync(folder, { recursive: true })
  writeFileSync(folder, 'a file where the folder should be')
  await takeOrder(shop)
  await shop.setClock(onDay(1))
  const codes = async () => (await shop.ask.shopState()).inTheWay.map(({ code }) => code)
  expect(await codes()).toContain('backup-failed')
  rmSync(folder)
  await shop.setClock(onDay(2))
  expect(await codes()).not.toContain('backup-failed')
  expect(madeOn(shop.folder)).toEqual([onDay(2).slice(0, 10)])
})

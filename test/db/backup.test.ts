import { copyFileSync, existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { backupFolder, listBackups } from '../../db/backup.ts'
import { finishRestoring } from '../../db/restore.ts'
import { type DatedBackup, worthKeeping } from '../../db/backup-thinning.ts'
import { addCommission, openBook } from '../../db/commissions.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import type { ShopFile } from '../../db/connection.ts'
import { drafts, saveDraft } from '../../db/drafts.ts'
import { logStep } from '../../db/steps.ts'
import { migrations } from '../../migrations/index.ts'
import { folderBytes } from './support/folder-bytes.ts'
import { anOrder } from './support/orders.ts'
import { runProgram } from './support/programs.ts'
import { overwrite } from './support/spoil-page.ts'
import { aShopPath, openShop, problemOf, restoreBackup, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const DAY_MS = 24 * 3_600_000

async function take(shop: ShopFile, ...names: string[]): Promise<void> {
  for (const name of names) await addCommission(shop.db, anOrder(name), stamp)
}

const ordersIn = async (path: string): Promise<string[]> => {
  const shop = await openShop(path)
  const rows = await orderBookRows(shop.db)
  await shop.close()
  return rows.map((row) => row.commission.id).reverse()
}

describe('a backup', () => {
  test('says when and why it was made, how large it is and what is in it', async () => {
    const shop = await openShop()
    await take(shop, 'a', 'b')
    const made = valueOf(await shop.backUp('by-hand'))
    expect(made).toEqual({
      name: 'shop-20261125T180000Z-by-hand.sqlite',
      path: join(backupFolder(shop.path), 'shop-20261125T180000Z-by-hand.sqlite'),
      madeAtMs: START_MS,
      reason: 'by-hand',
      bytes: statSync(made.path).size,
      found: {
        kind: 'sound',
        migrations: Object.keys(migrations),
        commissions: 2,
        wholeCheckAtMs: null,
        damagedRows: [],
      },
    })
    await take(shop, 'c')
    const second = valueOf(await shop.backUp('by-hand'))
    expect(listBackups(shop.path)).toEqual([second, made])
    expect(second.name).toBe('shop-20261125T180000Z-by-hand-2.sqlite')
  })

  test('is told as what it is now, not as what it was when it was listed before', async () => {
    const shop = await openShop()
    await addCommission(shop.db, anOrder(), stamp)
    const { path } = valueOf(await shop.backUp('by-hand'))
    const listed = () =>
      listBackups(shop.path).map(({ found }) => (found.kind === 'sound' ? found.commissions : found.kind))
    const bytes = readFileSync(path)
    expect(listed()).toEqual([1])
    overwrite(path, 0, Buffer.alloc(100, 1))
    expect(listed()).toEqual(['damaged'])
    writeFileSync(path, bytes)
    expect(listed()).toEqual([1])
    expect(listed()).toEqual([1])
  })

  test('is one file that holds what is in the write-ahead log too, and reading it leaves nothing beside it', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    expect(statSync(`${shop.path}-wal`).size).toBeGreaterThan(0)
    const { path } = valueOf(await shop.backUp('by-hand'))
    const alone = join(dirname(aShopPath()), 'alone.sqlite')
    copyFileSync(path, alone)
    const file = new SqliteFile(alone, { readonly: true })
    expect(file.prepare('select id from commission').pluck().all()).toEqual(['a'])
    expect(file.pragma('integrity_check', { simple: true })).toBe('ok')
    file.close()
    listBackups(shop.path)
    expect(readdirSync(backupFolder(shop.path))).toEqual(['shop-20261125T180000Z-by-hand.sqlite'])
  })

  test('made while orders are being taken holds whole orders only, all that were there when it began', async () => {
    const shop = await openShop()
    // Large enough that copying it takes several rounds.
    const notes = 'Very dark. '.repeat(2_000)
    for (let at = 0; at < 60; at++) await addCommission(shop.db, anOrder(`early-${at}`, { notes }), stamp)
    let stop = false
    let late = 0
    const writing = (async () => {
      while (!stop) {
        await addCommission(shop.db, anOrder(`late-${late++}`, { notes }), stamp)
        await new Promise((resume) => setImmediate(resume))
      }
    })()
    const backup = valueOf(await shop.backUp('by-hand'))
    stop = true
    await writing
    expect(late).toBeGreaterThan(0)

    const file = new SqliteFile(backup.path, { readonly: true })
    const ids = file.prepare('select id from commission order by number').pluck().all() as string[]
    expect(ids.slice(0, 60)).toEqual(Array.from({ length: 60 }, (_, at) => `early-${at}`))
    expect(file.prepare('select count(*) from step').pluck().get()).toBe(ids.length * anOrder().steps.length)
    expect(file.prepare('select count(*) from log').pluck().get()).toBe(ids.length)
    expect(file.pragma('integrity_check', { simple: true })).toBe('ok')
    expect(file.pragma('foreign_key_check')).toEqual([])
    file.close()
  })

  test('that cannot be finished leaves the others and the shop as they are', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    valueOf(await shop.backUp('by-hand'))
    rmSync(backupFolder(shop.path), { recursive: true })
    writeFileSync(backupFolder(shop.path), 'a file where the folder should be')
    const refusal = problemOf(await shop.backUp('by-hand'))
    expect(refusal.code).toBe('backup-failed')
    expect(refusal.message).toContain(backupFolder(shop.path))
    await take(shop, 'b')
    expect((await orderBookRows(shop.db)).length).toBe(2)
    expect(listBackups(shop.path)).toEqual([])
  })

  test('is made one after the other, also when several are asked for at once, and closing waits for them', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    const asked = [shop.backUp('by-hand'), shop.backUp('daily'), shop.backUp('by-hand')]
    await shop.close()
    for (const made of await Promise.all(asked))
      expect(valueOf(made).found).toMatchObject({ kind: 'sound', commissions: 1 })
    expect(listBackups(shop.path)).toHaveLength(3)
  })

  test('that was cut off leaves nothing behind after the next one', async () => {
    const shop = await openShop()
    valueOf(await shop.backUp('by-hand'))
    writeFileSync(join(backupFolder(shop.path), 'unfinished-4711'), 'half of it')
    writeFileSync(join(backupFolder(shop.path), 'unfinished-4711-wal'), '')
    expect(listBackups(shop.path)).toHaveLength(1)
    valueOf(await shop.backUp('by-hand'))
    expect(readdirSync(backupFolder(shop.path)).filter((name) => name.startsWith('unfinished'))).toEqual([])
  })

  test('other files in the folder are neither listed nor removed', async () => {
    const shop = await openShop()
    valueOf(await shop.backUp('by-hand'))
    const own = join(backupFolder(shop.path), 'my own copy.sqlite')
    writeFileSync(own, 'keep me')
    for (let day = 0; day < 40; day++) writeFileSync(join(backupFolder(shop.path), `notes ${day}.txt`), '')
    valueOf(await shop.backUp('by-hand'))
    expect(listBackups(shop.path)).toHaveLength(2)
    expect(existsSync(own)).toBe(true)
  })
})

describe('restoring', () => {
  test('brings back exactly what the backup holds and keeps the present file aside', async () => {
    const shop = await openShop()
    await take(shop, 'a', 'b')
    valueOf(await logStep(shop.db, 'a-piece-first-glue-up', { kind: 'started' }, stamp))
    await saveDraft(shop.db, { id: 'd', content: ['half a', 'name'] }, START_MS)
    const book = await openBook(shop.db)
    const draft = await drafts(shop.db)
    const backup = valueOf(await shop.backUp('by-hand'))
    await take(shop, 'c')
    await shop.close()

    const { setAside } = valueOf(restoreBackup(shop.path, backup.name, START_MS + DAY_MS))
    const restored = await openShop(shop.path)
    expect(await openBook(restored.db)).toEqual(book)
    expect(await drafts(restored.db)).toEqual(draft)
    await restored.close()
    expect(await ordersIn(join(setAside!, 'shop.sqlite'))).toEqual(['a', 'b', 'c'])
    expect(listBackups(shop.path).map((one) => one.name)).toContain(backup.name)
  })

  test('puts a sound shop in the place of a damaged one that still had its write-ahead log', async () => {
    const path = aShopPath()
    const writer = runProgram('write-orders.ts', path, 'run')
    await writer.line((line) => line.startsWith('step '))
    await writer.kill()
    const shop = await openShop(path)
    const kept = await ordersInOpen(shop)
    valueOf(await shop.backUp('by-hand'))
    await shop.close()
    const again = runProgram('write-orders.ts', path, 'again')
    await again.line((line) => line.startsWith('step '))
    await again.kill()
    const present = folderBytes(dirname(path))
    expect(statSync(`${path}-wal`).size).toBeGreaterThan(0)

    const [backup] = listBackups(path).filter((one) => one.reason === 'by-hand')
    const { setAside } = valueOf(restoreBackup(path, backup!.name, START_MS))
    // Not a page of the old log is applied to the new file.
    expect(await ordersIn(path)).toEqual(kept)
    const aside = folderBytes(setAside!)
    expect(aside['shop.sqlite']).toBe(present['shop.sqlite'])
    expect(aside['shop.sqlite-wal']).toBe(present['shop.sqlite-wal'])
    expect((await ordersIn(join(setAside!, 'shop.sqlite'))).length).toBeGreaterThan(kept.length)
  })

  test('when the present file is gone needs nothing to set aside', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    const backup = valueOf(await shop.backUp('by-hand'))
    await shop.close()
    rmSync(shop.path)
    expect(valueOf(restoreBackup(shop.path, backup.name, START_MS)).setAside).toBeNull()
    expect(await ordersIn(shop.path)).toEqual(['a'])
  })

  test('twice in one second sets two files aside', async () => {
    const shop = await openShop()
    const backup = valueOf(await shop.backUp('by-hand'))
    await shop.close()
    const first = valueOf(restoreBackup(shop.path, backup.name, START_MS)).setAside
    const second = valueOf(restoreBackup(shop.path, backup.name, START_MS)).setAside
    expect(first).not.toBe(second)
    expect([existsSync(first!), existsSync(second!)]).toEqual([true, true])
  })

  test('cut off after everything was got ready is finished by the next opening', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    const backup = valueOf(await shop.backUp('by-hand'))
    await take(shop, 'b')
    await shop.close()
    copyFileSync(backup.path, `${shop.path}-restored`)
    writeFileSync(`${shop.path}-wal`, 'the old log, half taken away')
    expect(await ordersIn(shop.path)).toEqual(['a'])
    expect(existsSync(`${shop.path}-restored`)).toBe(false)
    finishRestoring(shop.path)
    expect(await ordersIn(shop.path)).toEqual(['a'])
  })

  test('that the disk refuses is a problem, and the present file is as it was', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    const backup = valueOf(await shop.backUp('by-hand'))
    await shop.close()
    writeFileSync(join(dirname(shop.path), 'set-aside'), 'a file where the folder should be')
    const before = folderBytes(dirname(shop.path))
    expect(problemOf(restoreBackup(shop.path, backup.name, START_MS)).code).toBe('restore-failed')
    expect(folderBytes(dirname(shop.path))).toEqual(before)
  })

  test('a backup that is damaged, newer or not there is refused and the present file stays', async () => {
    const shop = await openShop()
    await take(shop, 'a')
    const damaged = valueOf(await shop.backUp('daily'))
    const newer = valueOf(await shop.backUp('by-hand'))
    await shop.close()
    writeFileSync(damaged.path, readFileSync(damaged.path).fill(0x5a, 100, 3000))
    const file = new SqliteFile(newer.path)
    file.prepare('insert into kysely_migration (name, timestamp) values (?, ?)').run('0999-far-ahead', '2031-01-01')
    file.close()
    const before = folderBytes(dirname(shop.path))
    expect(problemOf(restoreBackup(shop.path, damaged.name, START_MS)).code).toBe('backup-damaged')
    expect(problemOf(restoreBackup(shop.path, newer.name, START_MS)).code).toBe('backup-newer')
    expect(problemOf(restoreBackup(shop.path, '../shop.sqlite', START_MS)).code).toBe('backup-missing')
    expect(folderBytes(dirname(shop.path))).toEqual(before)
    expect(
      listBackups(shop.path)
        .map((one) => one.found.kind)
        .sort(),
    ).toEqual(['damaged', 'newer'])
  })
})

const ordersInOpen = async (shop: ShopFile): Promise<string[]> =>
  (await orderBookRows(shop.db)).map((row) => row.commission.id).reverse()

describe('thinning', () => {
  const daily = (day: number): DatedBackup => ({
    name: `day ${day}`,
    madeAtMs: START_MS - day * DAY_MS,
    reason: 'daily',
  })
  const backups = Array.from({ length: 800 }, (_, day) => daily(day))

  test('of two years of daily backups keeps two weeks of days, two months of weeks and a year of months', () => {
    const kept = [...worthKeeping(backups)].map((name) => Number(name.slice(4)))
    expect(kept.filter((day) => day < 14)).toHaveLength(14)
    expect(kept.length).toBeLessThanOrEqual(14 + 8 + 12)
    const agesInOrder = [...kept].sort((a, b) => a - b)
    const gaps = agesInOrder.slice(1).map((day, at) => day - agesInOrder[at]!)
    expect(Math.max(...gaps)).toBeLessThanOrEqual(31)
    expect(Math.max(...kept)).toBeGreaterThan(11 * 28)
  })

  test('run every day it ends at the same as run once', () => {
    let kept: DatedBackup[] = []
    for (const backup of [...backups].reverse()) {
      const all = [backup, ...kept]
      const names = worthKeeping(all)
      kept = all.filter((one) => names.has(one.name))
    }
    const ages = kept.map((one) => (START_MS - one.madeAtMs) / DAY_MS)
    expect(ages.slice(0, 14)).toEqual(Array.from({ length: 14 }, (_, day) => day))
    expect(Math.max(...ages)).toBeGreaterThan(11 * 28)
    expect(kept.length).toBeLessThanOrEqual(14 + 8 + 12)
  })

  test('those made while the clock was ten years ahead push no real one out', async () => {
    let nowMs = START_MS
    const shop = await openShop(aShopPath(), { clockMs: () => nowMs })
    const real = valueOf(await shop.backUp('daily'))
    for (let day = 0; day < 40; day++) {
      nowMs = START_MS + (3650 + day) * DAY_MS
      valueOf(await shop.backUp('daily'))
    }
    nowMs = START_MS + DAY_MS
    const next = valueOf(await shop.backUp('daily'))
    nowMs = START_MS + 2 * DAY_MS
    valueOf(await shop.backUp('daily'))
    expect(listBackups(shop.path).map(({ name }) => name)).toEqual(expect.arrayContaining([real.name, next.name]))
  })

  test('keeps backups made by hand and before upgrades apart from the daily ones', () => {
    const odd: DatedBackup[] = [
      ...backups.slice(0, 100),
      { name: 'by hand', madeAtMs: START_MS - 900 * DAY_MS, reason: 'by-hand' },
      { name: 'upgrade', madeAtMs: START_MS - 901 * DAY_MS, reason: 'before-upgrade' },
    ]
    expect(worthKeeping(odd)).toContain('by hand')
    expect(worthKeeping(odd)).toContain('upgrade')
  })

  test('never removes the newest ones, however many are made in one hour', () => {
    const many = Array.from({ length: 50 }, (_, at): DatedBackup => ({
      name: `${at}`,
      madeAtMs: START_MS - at * 60_000,
      reason: 'daily',
    }))
    for (let at = 0; at < 10; at++) expect(worthKeeping(many)).toContain(`${at}`)
  })
})

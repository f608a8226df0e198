import { copyFileSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { expect, test, vi } from 'vitest'
import { listBackups, namedBackups } from '../../db/backup.ts'
import { addCommission } from '../../db/commissions.ts'
import { openShopFile, type OpenOptions } from '../../db/connection.ts'
import { type ExamineElsewhere, examineFile } from '../../db/examine-file.ts'
import { keepPhoto } from '../../db/photos.ts'
import { anOrder } from './support/orders.ts'
import { aFolder, openShop, problemOf, START_MS, valueOf } from './support/shop-files.ts'
import { overwrite, pageOf } from './support/spoil-page.ts'

const stamp = { atMs: START_MS, makerId: null }
const DAY_MS = 24 * 3_600_000

/** Notes what it is asked, and answers from here. */
function aChecker(): { readonly asked: string[]; readonly examineElsewhere: ExamineElsewhere } {
  const asked: string[] = []
  return {
    asked,
    examineElsewhere: (path, known, depth) => {
      asked.push(`${depth} ${path.endsWith('shop.sqlite') ? 'file' : 'copy'}`)
      return Promise.resolve(examineFile(path, known, depth))
    },
  }
}

/** A closed file of nine megabytes with an order in it, a day old, and a backup beside it. */
async function aLargeShop(): Promise<string> {
  const shop = await openShop()
  await addCommission(shop.db, anOrder('a'), stamp)
  const bytes = Buffer.alloc(9_000_000, 7)
  await keepPhoto(shop.db, { kind: 'new', id: 'photo', mediaType: 'image/jpeg', bytes }, START_MS)
  valueOf(await shop.backUp('daily'))
  await shop.close()
  return shop.path
}

const spoilSteps = (path: string): void => overwrite(path, pageOf(path, 'step').offset, Buffer.alloc(64, 0xff))

const open = (path: string, options: Partial<OpenOptions>, atMs = START_MS) =>
  openShopFile(path, { clockMs: () => atMs, ...options })

test('a large file that was closed in good order is open before it is looked through, and then looked through whole once a week', async () => {
  const path = await aLargeShop()
  for (const [atMs, look] of [
    [START_MS, ['whole file']],
    [START_MS + DAY_MS / 2, ['quick file']],
    [START_MS + 8 * DAY_MS, ['whole file']],
  ] as const) {
    const checker = aChecker()
    const shop = await openShop(path, { ...checker, clockMs: () => atMs })
    expect(checker.asked).toEqual([])
    expect(await shop.lookBehind()).toBeNull()
    expect(checker.asked).toEqual(look)
    await shop.close()
  }
})

test('damage to it is told as soon as that is looked for, and before it is opened the next time it is asked for', async () => {
  const path = await aLargeShop()
  spoilSteps(path)
  const shop = await openShop(path, aChecker())
  const found = await shop.lookBehind()
  expect(found?.code).toBe('file-damaged')
  expect(found?.message).toMatch(
    /is damaged \(.+\)\. It was closed as soon as that was found.*One backup is in .*: open it to go on/,
  )
  await shop.close()
  expect(problemOf(await open(path, { ...aChecker(), lookFirst: true })).code).toBe('file-damaged')
})

test('damaged rows of it are told once they are found, while the rest works', async () => {
  const path = await aLargeShop()
  const file = new SqliteFile(path)
  file.prepare(`update piece set title = 'Other'`).run()
  file.close()
  const shop = await openShop(path, aChecker())
  expect(shop.warnings()).toEqual([])
  expect(await shop.lookBehind()).toBeNull()
  expect(shop.warnings()).toMatchObject([{ code: 'rows-damaged' }])
})

test('a large file that nobody came to close is looked through before it is opened', async () => {
  const path = await aLargeShop()
  spoilSteps(path)
  const writer = new SqliteFile(path)
  writer.pragma('journal_mode = wal')
  writer.prepare(`insert into upkeep (task, done_at_ms) values ('left', 1)`).run()
  // As the disk has it while somebody writes, which is what a killed program leaves.
  const left = join(aFolder(), 'shop.sqlite')
  for (const ending of ['', '-wal']) copyFileSync(path + ending, left + ending)
  writer.close()
  expect(existsSync(`${left}-wal`)).toBe(true)
  expect(problemOf(await open(left, aChecker())).code).toBe('file-damaged')
})

test('without another process to do it, a large file is looked through before it is opened', async () => {
  const path = await aLargeShop()
  spoilSteps(path)
  expect(problemOf(await open(path, {})).code).toBe('file-damaged')
})

test('its daily backup is looked through elsewhere, and not made before it is open', async () => {
  const path = await aLargeShop()
  const checker = aChecker()
  const shop = await openShop(path, { ...checker, clockMs: () => START_MS + DAY_MS })
  expect(namedBackups(path)).toHaveLength(1)
  valueOf(await shop.backUpWhenDue())
  expect(namedBackups(path)).toHaveLength(2)
  expect(checker.asked).toEqual(['whole copy'])
})

test('however often the daily backup is asked for while one is looked through, there is one', async () => {
  const path = await aLargeShop()
  const shop = await openShop(path, { ...aChecker(), clockMs: () => START_MS + DAY_MS })
  const byHand = shop.backUp('by-hand')
  await Promise.all([byHand, shop.backUpWhenDue(), shop.backUpWhenDue(), shop.backUpWhenDue()])
  expect(namedBackups(path).map(({ reason }) => reason)).toEqual(['by-hand', 'daily'])
})

test('several who ask for the daily backup at once get the same one', async () => {
  const path = await aLargeShop()
  const shop = await openShop(path, { ...aChecker(), clockMs: () => START_MS + DAY_MS })
  await Promise.all([shop.lookBehind(), shop.backUpWhenDue(), shop.backUpWhenDue(), shop.backUpWhenDue()])
  expect(namedBackups(path)).toHaveLength(2)
})

test('closing stops what is still being looked through, and makes its backup all the same', async () => {
  const path = await aLargeShop()
  const asked: string[] = []
  const examineElsewhere: ExamineElsewhere = (path, _known, _depth, signal) => {
    asked.push(path)
    return new Promise((resolve) => signal.addEventListener('abort', () => resolve(null)))
  }
  const shop = await openShop(path, { examineElsewhere, clockMs: () => START_MS + DAY_MS })
  await addCommission(shop.db, anOrder('b'), stamp)
  const daily = shop.backUp('daily')
  await expect.poll(() => asked.length).toBe(1)
  await shop.close()
  expect(problemOf(await daily).code).toBe('backup-stopped')
  const [newest, ...others] = listBackups(path)
  expect(newest).toMatchObject({ reason: 'closing', found: { kind: 'sound', commissions: 2 } })
  expect(others).toHaveLength(1)
})

test('where the other process cannot be had, it is looked through here', async () => {
  const complaints = vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const path = await aLargeShop()
  spoilSteps(path)
  const shop = await openShop(path, { examineElsewhere: () => Promise.reject(new Error('no process')) })
  expect((await shop.lookBehind())?.code).toBe('file-damaged')
  expect(complaints).toHaveBeenCalledOnce()
  complaints.mockRestore()
})

test('copies made at closing of a large book thin out nothing: the next one that is looked through whole does', async () => {
  const path = await aLargeShop()
  let atMs = START_MS
  const openAgain = () => openShop(path, { ...aChecker(), clockMs: () => atMs })
  for (let time = 1; time <= 12; time++) {
    atMs += 60_000
    const shop = await openAgain()
    await addCommission(shop.db, anOrder(`order-${time}`), stamp)
    await shop.close()
  }
  expect(namedBackups(path)).toHaveLength(13)
  atMs += DAY_MS
  const shop = await openAgain()
  valueOf(await shop.backUp('daily'))
  expect(namedBackups(path)).toHaveLength(10)
})

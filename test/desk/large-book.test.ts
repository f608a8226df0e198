import SqliteFile from 'better-sqlite3'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { checkElsewhere } from '../../desk/checking/check-elsewhere.ts'
import { namedBackups } from '../../db/backup.ts'
import type { Examination } from '../../db/examine-file.ts'
import { openDesk } from '../../desk/open-desk.ts'
import { keepPhoto } from '../../db/photos.ts'
import { openShop, START_MS, valueOf } from '../db/support/shop-files.ts'
import { overwrite, pageOf } from '../db/support/spoil-page.ts'
import { aDesk, aDraft, aFolder, tuesdayMorning } from './support/a-desk.ts'

/** A closed shop of nine megabytes with one order, and a backup of it. */
async function aLargeFolder(): Promise<string> {
  const folder = aFolder()
  const shop = await aDesk({ folder })
  await shop.ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })
  await shop.desk.close()
  const file = await openShop(join(folder, 'shop.sqlite'))
  const bytes = Buffer.alloc(9_000_000, 7)
  await keepPhoto(file.db, { kind: 'new', id: 'photo', mediaType: 'image/jpeg', bytes }, START_MS)
  valueOf(await file.backUp('by-hand'))
  await file.close()
  return folder
}

test('a large book with a damaged page is shown, looked through in a process of its own, and then closed with its copies offered', async () => {
  const folder = await aLargeFolder()
  const path = join(folder, 'shop.sqlite')
  // Nothing that is read at the start lies there.
  overwrite(path, pageOf(path, 'paper').offset, Buffer.alloc(64, 0xff))
  const shop = await aDesk({ folder })
  await expect.poll(async () => (await shop.ask.shopState()).trouble?.problem.code).toBe('file-damaged')
  expect(shop.events).toContainEqual({ kind: 'changed' })
  expect(await shop.call.orderBook()).toMatchObject({ ok: false, problems: [{ code: 'file-damaged' }] })

  // Trying again looks first: the book does not come back for a moment.
  expect(await shop.call.openAgain()).toMatchObject({ ok: false, problems: [{ code: 'file-damaged' }] })
  const [copy] = (await shop.ask.shopState()).trouble?.backups ?? []
  await shop.ask.openBackup({ file: copy!.file })
  expect((await shop.ask.shopState()).trouble).toBeNull()
  expect((await shop.ask.orderBook()).open).toHaveLength(1)
})

test('a large book that is looked through and found whole has no screen ask again', async () => {
  const folder = await aLargeFolder()
  const file = new SqliteFile(join(folder, 'shop.sqlite'), { readonly: true })
  onTestFinished(() => void file.close())
  const wholeCheck = file.prepare(`select done_at_ms from upkeep where task = 'whole-check'`).pluck()
  const before = wholeCheck.get()
  // It is due once a week, behind the first screen, and noted when it is done.
  const shop = await aDesk({ folder, at: new Date(Date.parse(tuesdayMorning) + 8 * 86_400_000).toISOString() })
  await expect.poll(() => wholeCheck.get()).not.toBe(before)
  await shop.desk.close()
  expect(shop.events).not.toContainEqual({ kind: 'changed' })
})

test('a file is looked through in another process: the same is found, and that is ended when it is told to stop', async () => {
  const path = join(await aLargeFolder(), 'shop.sqlite')
  const known = new SqliteFile(path, { readonly: true })
  const migrations = known.prepare('select name from kysely_migration order by name').pluck().all() as string[]
  known.close()
  const found = await checkElsewhere(path, migrations, 'whole', new AbortController().signal)
  expect(found).toMatchObject({ kind: 'sound', commissions: 1, damagedRows: [] })
  const ending = new AbortController()
  const stopped = checkElsewhere(path, migrations, 'whole', ending.signal)
  ending.abort()
  expect(await stopped).toBeNull()
})

test('closing waits for no backup that is still looked through, and makes one of its own', async () => {
  const folder = await aLargeFolder()
  const looked: string[] = []
  const opened = await openDesk({
    ...{ where: 'a test', dataFolder: folder, demo: false, forTests: true },
    clock: { nowMs: () => START_MS + 86_400_000 },
    examineElsewhere: (path, _known, _depth, signal) => {
      looked.push(path)
      return new Promise((resolve) => {
        if (!path.endsWith('shop.sqlite')) signal.addEventListener('abort', () => resolve(null))
        else resolve({ kind: 'sound', migrations: [], commissions: 1, wholeCheckAtMs: null, damagedRows: [] })
      })
    },
  })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  const before = namedBackups(join(folder, 'shop.sqlite')).length
  await opened.value.call('takeOrder', { draft: aDraft(), standing: 'asked-about', promisedFor: null })
  void opened.value.call('testSetClock', { now: new Date(START_MS + 86_400_000).toISOString() })
  await expect.poll(() => looked.some((path) => path.includes('unfinished'))).toBe(true)
  await opened.value.close()
  const [newest, ...others] = namedBackups(join(folder, 'shop.sqlite'))
  expect(newest?.reason).toBe('closing')
  expect(others).toHaveLength(before)
})

test('a backup that comes out damaged has the book itself looked through, which is closed when that is damaged too', async () => {
  const folder = await aLargeFolder()
  const damaged: Examination = { kind: 'damaged', findings: ['row 7 missing from index'] }
  const sound: Examination = { kind: 'sound', migrations: [], commissions: 1, wholeCheckAtMs: null, damagedRows: [] }
  const looked: string[] = []
  let rotten = false
  const opened = await openDesk({
    ...{ where: 'a test', dataFolder: folder, demo: false, forTests: true },
    clock: { nowMs: () => START_MS },
    examineElsewhere: async (path, _known, depth) => {
      looked.push(`${path.endsWith('shop.sqlite') ? 'book' : 'copy'} ${depth}`)
      return rotten ? damaged : sound
    },
  })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  const desk = opened.value
  onTestFinished(() => desk.close())
  await expect.poll(() => looked).toContain('book quick')
  rotten = true
  expect(await desk.call('backupNow', {})).toMatchObject({
    ok: false,
    problems: [{ code: 'backup-came-out-damaged', message: expect.stringContaining('row 7 missing') }],
  })
  await desk.call('testSetClock', { now: new Date(START_MS + 60_000).toISOString() })
  await expect
    .poll(async () => (await desk.call('orderBook', {})) as unknown)
    .toMatchObject({ ok: false, problems: [{ code: 'file-damaged' }] })
  expect(looked.slice(-2)).toEqual(['copy whole', 'book whole'])
})

import { mkdirSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import SqliteFile from 'better-sqlite3'
import fc from 'fast-check'
import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { backupFolder, listBackups } from '../../db/backup.ts'
import { addCommission, openBook } from '../../db/commissions.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { examineFile } from '../../db/examine-file.ts'
import { migrations } from '../../migrations/index.ts'
import { openingProblem } from '../../db/opening-faults.ts'
import { openShopFile } from '../../db/connection.ts'
import { folderBytes } from './support/folder-bytes.ts'
import { anOrder } from './support/orders.ts'
import { overwrite, pageOf } from './support/spoil-page.ts'
import { aShopPath, openShop, problemOf, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS

/** A closed file with so many orders, and a backup of it beside it. */
async function aFilledShop(orders: number): Promise<string> {
  const shop = await openShop()
  for (let at = 0; at < orders; at++) await addCommission(shop.db, anOrder(`order-${at}`), stamp)
  valueOf(await shop.backUp('daily'))
  await shop.close()
  return shop.path
}

const tryToOpen = (path: string, atMs = START_MS) => openShopFile(path, { clockMs: () => atMs })

describe('a file that can be opened', () => {
  test('is opened so that a commit survives a power cut and references hold', async () => {
    const { db } = await openShop()
    const pragma = async (name: string) =>
      Object.values((await sql.raw(`pragma ${name}`).execute(db)).rows[0] as object)[0] as unknown
    expect(await pragma('journal_mode')).toBe('wal')
    expect(await pragma('synchronous')).toBe(2)
    expect(await pragma('fullfsync')).toBe(1)
    expect(await pragma('foreign_keys')).toBe(1)
    expect(await pragma('trusted_schema')).toBe(0)
    expect(await pragma('busy_timeout')).toBe(5000)
  })

  test('is made when it is missing, with its folder, and found again', async () => {
    const path = aShopPath()
    const first = await openShop(`${dirname(path)}/some/folder/shop.sqlite`)
    expect(first.opened).toBe('new')
    await first.close()
    const second = await openShop(first.path)
    expect(second.opened).toBe('as-it-was')
  })

  test('is one that was left empty by a start that was cut off', async () => {
    const path = aShopPath()
    writeFileSync(path, '')
    expect((await openShop(path)).opened).toBe('new')
  })

  test('has every table strict', async () => {
    const { db } = await openShop()
    const tables = await sql<{ name: string; strict: number }>`
      select name, strict from pragma_table_list where schema = 'main' and type = 'table'`.execute(db)
    const loose = tables.rows.filter((table) => table.strict === 0).map((table) => table.name)
    // The two of the migrator and SQLite's own are not ours to shape.
    expect(loose.filter((name) => !/^(sqlite_|kysely_)/.test(name))).toEqual([])
    expect(tables.rows.length).toBeGreaterThan(20)
  })

  test('every reference is on an index, so that removing a row stays quick', async () => {
    const { db } = await openShop()
    const missing = await sql<{ table: string; from: string }>`
      select t.name as "table", f."from" from pragma_table_list t, pragma_foreign_key_list(t.name) f
      where t.schema = 'main' and f.seq = 0 and not exists (
        select 1 from pragma_index_list(t.name) l, pragma_index_info(l.name) i
        where i.seqno = 0 and i.name = f."from")`.execute(db)
    expect(missing.rows).toEqual([])
  })
})

describe('a damaged file', () => {
  const damages: [string, (path: string) => void][] = [
    ['its beginning overwritten', (path) => overwrite(path, 0, Buffer.from('not a shop any more'))],
    ['the schema overwritten', (path) => overwrite(path, 100, Buffer.alloc(2000, 0x5a))],
    ['a page of the steps overwritten', (path) => overwrite(path, pageOf(path, 'step').offset, Buffer.alloc(64, 0xff))],
    [
      'a page of the log zeroed',
      (path) => overwrite(path, pageOf(path, 'log').offset, Buffer.alloc(pageOf(path, 'log').size)),
    ],
    ['its second half cut off', (path) => truncateSync(path, Math.floor(statSync(path).size / 2))],
    ['text instead of it', (path) => writeFileSync(path, 'Dear customer,\n'.repeat(500))],
  ]

  test.each(damages)('with %s is refused and not written to, and the backups are named', async (_, damage) => {
    const path = await aFilledShop(3)
    damage(path)
    const before = folderBytes(dirname(path))
    const refusal = problemOf(await tryToOpen(path))
    expect(refusal.code).toBe('file-damaged')
    expect(refusal.message).toMatch(/shop\.sqlite is damaged \(.+\)\. Nothing was written to it\./)
    expect(refusal.message).toMatch(/One backup is in .*, with 3 orders: open it to go on from there/)
    expect(folderBytes(dirname(path))).toEqual(before)
  })

  test('whatever bytes are overwritten: it is refused untouched, can be read, or is told as what cannot be read', async () => {
    const path = await aFilledShop(4)
    const sound = readFileSync(path)
    let refused = 0
    await fc.assert(
      fc.asyncProperty(fc.nat(sound.length - 65), fc.uint8Array({ minLength: 1, maxLength: 64 }), async (at, bytes) => {
        for (const ending of ['-wal', '-shm']) rmSync(path + ending, { force: true })
        writeFileSync(path, sound)
        overwrite(path, at, bytes)
        const before = folderBytes(dirname(path))
        const opened = await tryToOpen(path)
        if (opened.ok) {
          try {
            await openBook(opened.value.db)
          } catch (fault) {
            // A field that is no JSON any more: the app shows the page with the copies for it.
            expect(openingProblem(fault, dirname(path)).code).toBe('book-unreadable')
          } finally {
            await opened.value.close()
          }
        } else {
          refused += 1
          expect(folderBytes(dirname(path))).toEqual(before)
        }
      }),
      { numRuns: 150, seed: 20261125 },
    )
    expect(refused).toBeGreaterThan(10)
  })

  test('without any backup says so', async () => {
    const path = await aFilledShop(1)
    rmSync(`${dirname(path)}/backups`, { recursive: true })
    overwrite(path, 100, Buffer.alloc(2000, 0x5a))
    expect(problemOf(await tryToOpen(path)).message).toContain('There is no backup in ')
  })

  test('a check of the whole file that was noted while the clock was ahead puts off none', async () => {
    const path = await aFilledShop(1)
    await valueOf(await tryToOpen(path, START_MS + 3650 * DAY_MS)).close()
    expect(examineFile(path, Object.keys(migrations))).toMatchObject({ wholeCheckAtMs: START_MS + 3650 * DAY_MS })
    await valueOf(await tryToOpen(path, START_MS + DAY_MS)).close()
    expect(examineFile(path, Object.keys(migrations))).toMatchObject({ wholeCheckAtMs: START_MS + DAY_MS })
  })

  test('an index that disagrees with its table is found by the weekly check of the whole file', async () => {
    const path = await aFilledShop(2)
    // The first opening after the file was made checks it whole, so the next one is due in a week.
    await valueOf(await tryToOpen(path)).close()
    const file = new SqliteFile(path)
    file.unsafeMode()
    file.pragma('writable_schema = on')
    const index = file.prepare(`select * from sqlite_schema where name = 'piece_by_commission'`).get() as Record<
      string,
      unknown
    >
    file.prepare(`delete from sqlite_schema where name = 'piece_by_commission'`).run()
    file.close()
    const loose = new SqliteFile(path)
    loose.unsafeMode()
    loose.prepare(`update piece set position = 7 where id = 'order-1-piece'`).run()
    loose.pragma('writable_schema = on')
    loose
      .prepare(
        'insert into sqlite_schema (type, name, tbl_name, rootpage, sql) values (@type, @name, @tbl_name, @rootpage, @sql)',
      )
      .run(index)
    loose.close()

    await valueOf(await tryToOpen(path, START_MS + 6 * DAY_MS)).close()
    const before = folderBytes(dirname(path))
    const refusal = problemOf(await tryToOpen(path, START_MS + 7 * DAY_MS))
    expect(refusal.code).toBe('file-damaged')
    expect(refusal.message).toContain('piece_by_commission')
    expect(folderBytes(dirname(path))).toEqual(before)
  })
})

describe('a file that is not for this version', () => {
  test('written by a newer version is refused, names what is unknown, and is not written to', async () => {
    const path = await aFilledShop(2)
    const file = new SqliteFile(path)
    file.prepare('insert into kysely_migration (name, timestamp) values (?, ?)').run('0999-far-ahead', '2031-01-01')
    file.close()
    const before = folderBytes(dirname(path))
    const refusal = problemOf(await tryToOpen(path))
    expect(refusal.code).toBe('file-newer')
    expect(refusal.message).toContain('0999-far-ahead')
    expect(refusal.message).toContain('with 2 orders')
    expect(folderBytes(dirname(path))).toEqual(before)
  })

  test('that another program made is refused and not written to', async () => {
    const path = aShopPath()
    const file = new SqliteFile(path)
    file.exec('create table recipes (name text)')
    file.close()
    const before = folderBytes(dirname(path))
    expect(problemOf(await tryToOpen(path)).code).toBe('file-foreign')
    expect(folderBytes(dirname(path))).toEqual(before)
  })

  test('that is a folder is refused', async () => {
    const path = aShopPath()
    mkdirSync(path)
    expect(problemOf(await tryToOpen(path)).code).toBe('file-unreadable')
  })
})

describe('a file that is gone', () => {
  test('while backups are there is not replaced by an empty shop, unless that is wanted', async () => {
    const path = await aFilledShop(2)
    rmSync(path)
    const refusal = problemOf(await tryToOpen(path))
    expect(refusal.code).toBe('file-gone')
    expect(refusal.message).toContain('is missing')
    writeFileSync(path, '')
    expect(problemOf(await tryToOpen(path)).message).toContain('is empty')
    const fresh = await openShop(path, { startNew: true })
    expect(await orderBookRows(fresh.db)).toEqual([])
    expect(listBackups(path)).toHaveLength(1)
  })
})

describe('the daily backup', () => {
  test('is made at the first opening of a day and not again until the next', async () => {
    const path = await aFilledShop(1)
    const openAt = async (atMs: number) => {
      await valueOf(await tryToOpen(path, atMs)).close()
      return listBackups(path).length
    }
    expect(await openAt(START_MS + 1 * HOUR_MS)).toBe(1)
    expect(await openAt(START_MS + 19 * HOUR_MS)).toBe(1)
    expect(await openAt(START_MS + 24 * HOUR_MS)).toBe(2)
    expect(await openAt(START_MS + 25 * HOUR_MS)).toBe(2)
    // A clock that was years ahead once must not stop the backups for years.
    expect(await openAt(START_MS - 400 * DAY_MS)).toBe(3)
  })

  test('that cannot be made does not keep the maker out, but is told', async () => {
    const path = await aFilledShop(1)
    rmSync(backupFolder(path), { recursive: true })
    writeFileSync(backupFolder(path), 'a file where the folder should be')
    const shop = await openShop(path)
    expect(shop.warnings().map((warning) => warning.code)).toEqual(['backup-failed'])
    expect(await orderBookRows(shop.db)).toHaveLength(1)
  })
})

import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import SqliteFile from 'better-sqlite3'
import { type Kysely, sql } from 'kysely'
import type { Migration } from 'kysely/migration'
import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { loadAlmanac } from '../../db/almanac.ts'
import { announcedStarts } from '../../db/announced.ts'
import { backupFolder, listBackups } from '../../db/backup.ts'
import { commissionById, nextNumber, openBook } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { damagedRows } from '../../db/damaged-rows.ts'
import { drafts } from '../../db/drafts.ts'
import { entriesOf } from '../../db/log.ts'
import { moneyOf } from '../../db/money.ts'
import { noticesShown } from '../../db/notices.ts'
import { migrations } from '../../migrations/index.ts'
import { fillAsVersion, ROWS_OF_VERSION } from './support/earlier-versions.ts'
import { aShopPath, openShop, problemOf, START_MS } from './support/shop-files.ts'

const names = Object.keys(migrations)
const firstOf = (count: number) => Object.fromEntries(Object.entries(migrations).slice(0, count))

/** A closed file as the version with these migrations left it, filled. */
async function aFileOf(known: Readonly<Record<string, Migration>>): Promise<string> {
  const path = aShopPath()
  // Filled after each migration, as a file that has lived through all of them.
  for (let count = 1; count <= Object.keys(known).length; count++) {
    const upTo = Object.entries(known).slice(0, count)
    const shop = await openShop(path, { migrations: Object.fromEntries(upTo) })
    await fillAsVersion(shop.db as unknown as Kysely<unknown>, upTo.at(-1)?.[0] ?? '')
    await shop.close()
  }
  return path
}

const rowCounts = async (db: Kysely<never>, tables: readonly string[]) =>
  Object.fromEntries(
    await Promise.all(
      tables.map(async (table) => {
        const { rows } = await sql<{ n: number }>`select count(*) as n from ${sql.table(table)}`.execute(db)
        return [table, rows[0]?.n] as const
      }),
    ),
  )

describe('migrating', () => {
  test('the migrations are listed in the order of their numbers, and each has rows of its version', () => {
    expect(names).toEqual([...names].sort())
    expect(names.map((name) => Number(name.slice(0, 4)))).toEqual(names.map((_, at) => at + 1))
    expect(Object.keys(ROWS_OF_VERSION)).toEqual(names)
  })

  test('the rows of the first version fill every table that it has', async () => {
    const shop = await openShop(await aFileOf(firstOf(1)), { migrations: firstOf(1) })
    const { rows } = await sql<{ name: string }>`
      select name from pragma_table_list where schema = 'main' and type = 'table'
      and name not like 'sqlite_%' and name not like 'kysely_%'`.execute(shop.db)
    const counts = await rowCounts(
      shop.db as never,
      rows.map((row) => row.name),
    )
    expect(Object.entries(counts).filter(([, count]) => count === 0)).toEqual([])
  })

  test.each(names.map((name, at) => [name, at + 1] as const))(
    'a file of version %s is opened with all that it held',
    async (_, count) => {
      const shop = await openShop(await aFileOf(firstOf(count)))
      expect(shop.opened).toBe(count === names.length ? 'as-it-was' : 'upgraded')
      const { db } = shop
      const book = await openBook(db)
      expect(book.commissions).toMatchObject([
        {
          id: 'o1',
          number: 1,
          customer: { id: 'c1', name: 'Odile Marsh', address: '12 Mill Lane' },
          takenWhere: 'fair',
          standing: 'agreed',
          onHoldUntil: null,
          neededBy: '2026-12-20',
          promisedFor: '2026-12-18',
          weight: 1.5,
          priceMinor: 32_000,
        },
      ])
      expect(book.pieces).toMatchObject([{ id: 'p1', count: 2, spec: { cells: 8 } }])
      expect(book.steps).toMatchObject([
        {
          id: 's1',
          interruptible: false,
          holds: [{ station: 'clamps', units: 4, until: { kind: 'start-of', step: 'flatten' } }],
        },
        { id: 's2', dusty: true, setUp: { family: 'sander', minutes: 10 }, cautions: ['dust'] },
      ])
      expect(book.lags).toMatchObject([{ fromStep: 's1', toStep: 's2', minMin: 240, product: 'pva_type2' }])
      expect(book.log).toEqual([{ id: 2, atMin: 29_400_001, stepId: 's1', makerId: 'm1', action: { kind: 'started' } }])
      expect((await entriesOf(db, 'o1')).map((entry) => entry.counts)).toEqual([true, true, false, true])
      expect((await commissionById(db, 'o2'))?.commission.onHoldUntil).toBe('open-end')
      expect(await nextNumber(db)).toBe(3)
      expect(await drafts(db)).toMatchObject([{ id: 'd1', content: { customer: 'Tam' } }])
      expect(await noticesShown(db, ['n1', 'n2'], 1764000000000)).toEqual(new Set(['n1']))
      expect(await announcedStarts(db)).toEqual([{ step: 's2', start: 29_400_500 }])
      const almanac = await loadAlmanac(db, startingAlmanac({ timeZone: 'UTC', units: 'millimetre', currency: 'EUR' }))
      expect(almanac.shop).toMatchObject({
        name: 'Heron Lane Woodwork',
        timeZone: 'America/Chicago',
        temperatureC: 12.5,
      })
      expect(almanac.air).toMatchObject(
        count === 1 ? { heated: 'always', warmUpMin: 60 } : { heated: 'for-work', warmUpMin: 90 },
      )
      expect([almanac.air.unheatedC[0], almanac.air.unheatedRh[6]]).toEqual(count === 1 ? [3, 0.55] : [-2.5, 0.75])
      expect(almanac.home.dampest).toEqual({ celsius: 24, rh: count === 1 ? 0.6 : 0.7 })
      expect(almanac.makers).toEqual([
        { id: 'm1', name: 'Ines', attendance: 0.75, weeklyHours: { 2: [{ from: 1140, to: 1290 }] } },
      ])
      expect(almanac.allowances.sawKerfNm).toBe(2_381_250)
      // The deposit of an earlier version was money received; now it is an entry.
      expect(await moneyOf(db, ['o1', 'o2'])).toMatchObject([
        { commissionId: 'o1', kind: 'payment', minor: 16_000, how: 'cash', takesBack: null },
      ])
      // The promise of before there were records has one too, given when the order was taken, with a chance that nobody knows.
      expect(book.promises[0]).toMatchObject({ day: '2026-12-18', chance: null, givenAtMs: 1_764_000_000_000 })
    },
  )
})

/** Invented migrations of a later version, to see what becomes of a file of today. */
const later = (up: (db: Kysely<unknown>) => Promise<void>): Record<string, Migration> => ({
  ...migrations,
  '0801-made-for-this-test': {
    up: (db) => sql`create table shelf (id text not null primary key) strict`.execute(db).then(),
  },
  '0802-made-for-this-test': { up },
})

const rebuildPiece = async (db: Kysely<unknown>) => {
  for (const statement of [
    `create table piece_new (id text not null primary key,
      commission_id text not null references commission (id) deferrable initially deferred, position integer not null,
      construction text not null, title text not null, count integer not null, spec text not null, label text) strict`,
    `insert into piece_new select id, commission_id, position, construction, title, count, spec, null from piece`,
    `drop table piece`,
    `alter table piece_new rename to piece`,
  ])
    await sql.raw(statement).execute(db)
}

describe('upgrading a filled file', () => {
  test('what migrations did to rows is taken for what it was, and what is damaged afterwards is told', async () => {
    const path = await aFileOf(firstOf(20))
    const shop = await openShop(path)
    const file = new SqliteFile(path)
    // The rows of the versions break the chain of the log on purpose.
    const told = () => damagedRows(file).filter((words) => !words.startsWith('entry'))
    expect(told()).toEqual([])
    file.exec(`update piece set title = 'End-grain hoard'; update photo set media_type = 'image/webp'`)
    expect(told()).toEqual([
      'row 1 of photo is not as it was written',
      '“title” in a piece of order 1 is not as it was written (the log has “End-grain board”)',
    ])
    await shop.close()
    // An upgrade does not make it good.
    await (await openShop(path, { migrations: later(async () => undefined) })).close()
    expect(told()).toHaveLength(2)
    file.close()
  })

  test('a migration that rebuilds a table loses neither its rows nor those that refer to it', async () => {
    const path = await aFileOf(migrations)
    const shop = await openShop(path, { migrations: later(rebuildPiece) })
    expect(shop.opened).toBe('upgraded')
    const book = await openBook(shop.db)
    expect(book.steps.map((step) => step.id)).toEqual(['s1', 's2'])
    expect(book.lags).toHaveLength(1)
    await expect(shop.db.deleteFrom('piece').execute()).rejects.toThrow(/FOREIGN KEY/)
  })

  test('a backup from before is there, that the version before still opens', async () => {
    const path = await aFileOf(migrations)
    await (await openShop(path, { migrations: later(rebuildPiece) })).close()
    const [backup] = listBackups(path).filter((one) => one.reason === 'before-upgrade')
    expect(backup?.found).toMatchObject({ kind: 'sound', migrations: names, commissions: 2 })
    expect((await openBook((await openShop(backup!.path)).db)).steps).toHaveLength(2)
    expect(problemOf(await openShopFile(path, { clockMs: () => START_MS })).code).toBe('file-newer')
  })

  test('without a backup there is no upgrade', async () => {
    const path = await aFileOf(migrations)
    rmSync(backupFolder(path), { recursive: true, force: true })
    writeFileSync(backupFolder(path), 'a file where the folder should be')
    const before = readFileSync(path)
    const opened = await openShopFile(path, { clockMs: () => START_MS, migrations: later(rebuildPiece) })
    expect(problemOf(opened).code).toBe('backup-failed')
    expect(readFileSync(path).equals(before)).toBe(true)
  })

  const failures: [string, RegExp, (db: Kysely<unknown>) => Promise<void>][] = [
    [
      'that throws half-way',
      /the shelf fell down/,
      async (db) => {
        await sql`delete from log where 0`.execute(db)
        await sql`drop table announced_start`.execute(db)
        await sql`update commission set notes = 'half-way'`.execute(db)
        throw new Error('the shelf fell down')
      },
    ],
    [
      'that breaks a rule of a table',
      /CHECK constraint/,
      async (db) => void (await sql`update piece set count = 0`.execute(db)),
    ],
    [
      'that leaves steps without their piece',
      /a row of step refers to a missing row of piece/,
      async (db) => void (await sql`delete from piece`.execute(db)),
    ],
  ]

  test.each(failures)('a migration %s leaves the file as it was, to the byte', async (_, why, up) => {
    const path = await aFileOf(migrations)
    const before = readFileSync(path)
    const refusal = problemOf(await openShopFile(path, { clockMs: () => START_MS, migrations: later(up) }))
    expect(refusal.code).toBe('upgrade-failed')
    expect(refusal.message).toMatch(why)
    expect(refusal.message).toContain('0802-made-for-this-test')
    expect(readFileSync(path).equals(before)).toBe(true)
    const shop = await openShop(path)
    expect(shop.opened).toBe('as-it-was')
    expect((await openBook(shop.db)).steps).toHaveLength(2)
    expect(await announcedStarts(shop.db)).toHaveLength(1)
    // Nor is anything left of the migration before it, which had succeeded.
    const shelf = await sql`select 1 from sqlite_schema where name = 'shelf'`.execute(shop.db)
    expect(shelf.rows).toEqual([])
  })
})

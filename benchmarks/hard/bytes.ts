import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import { addCommission } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { examineFile } from '../../db/examine-file.ts'
import type { Database } from '../../db/schema.ts'
import { ShopDialect } from '../../db/shop-dialect.ts'
import { logStep } from '../../db/steps.ts'
import { migrations } from '../../migrations/index.ts'
import { everythingIn } from '../../test/db/support/everything.ts'
import { anOrder } from '../../test/db/support/orders.ts'
import type { Trial } from './trial.ts'
import { NOW_MS } from './whole-book.ts'

const WEEK_LATER_MS = NOW_MS + 8 * 24 * 3_600_000

/**
 * Every byte of a small book overwritten. It is told (refused, or a warning), or nothing of what the book says has changed; a
 * file that says something else without a word is broken. Bytes of rows and pages are tried one at a time. Long runs of zeros,
 * which is room that SQLite has not used, are overwritten together, and halved wherever that made a difference.
 */
export const everyByte: Trial = async ({ scale, random, part: [part, parts], isOver, folder }) => {
  const sound = await smallBook(join(folder, 'sound', 'shop.sqlite'))
  const bytes = readFileSync(sound)
  const was = await read(sound)
  if (typeof was === 'string') throw new Error(`The sound book is not sound: ${was}`)
  const opened = await readAsTheApp(sound)
  if (JSON.stringify(opened) !== JSON.stringify(was)) throw new Error('What is read differs from what the app reads')
  const counts = { refused: 0, warned: 0, harmless: 0 }
  const broken: string[] = []
  let runs = 0
  const path = join(folder, 'spoiled', 'shop.sqlite')
  const tryOut = async (at: number, end: number): Promise<void> => {
    if (isOver()) return
    const spoiled = Buffer.from(bytes)
    for (let each = at; each < end; each++) spoiled[each] = (bytes[each]! + 1 + Math.floor(random() * 255)) % 256
    rmSync(dirname(path), { recursive: true, force: true })
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(path, spoiled)
    let found = await read(path)
    // What the check says nothing of is opened as the app does where it differs, and now and then where it does not.
    const differs = typeof found !== 'string' && JSON.stringify(found) !== JSON.stringify(was)
    if (differs || (typeof found !== 'string' && random() < OPENED_SHARE)) found = await readAsTheApp(path)
    if (typeof found !== 'string' && JSON.stringify(found) === JSON.stringify(was)) counts.harmless += end - at
    else if (end - at > 1) {
      const middle = (at + end) >> 1
      await tryOut(at, middle)
      return tryOut(middle, end)
    } else if (typeof found === 'string') counts[found]++
    else
      broken.push(`byte ${at}: ${bytes[at]} -> ${spoiled[at]} opened without a word, ${differing(was, found)} differs`)
    runs += end - at
  }
  for (const [index, [at, end]] of portionsOf(bytes).entries())
    if (index % parts === part && random() < scale) await tryOut(at, end)
  return {
    runs,
    said: `of ${bytes.length} bytes: refused ${counts.refused}, told ${counts.warned}, no difference ${counts.harmless}`,
    broken,
  }
}

/** Opening a book writes to the disk many times; reading it after the same check tells the same. */
const OPENED_SHARE = 0.02

const PAGE = 4096
/** Zeros in a row from which on they are overwritten together. */
const LONG = 32

/** From where to where bytes are overwritten together, page by page. */
function portionsOf(bytes: Buffer): [number, number][] {
  const portions: [number, number][] = []
  for (let at = 0; at < bytes.length;) {
    const pageEnd = Math.min(bytes.length, (Math.floor(at / PAGE) + 1) * PAGE)
    let end = at
    while (end < pageEnd && bytes[end] === 0) end++
    if (end - at < LONG) end = at + 1
    portions.push([at, end])
    at = end
  }
  return portions
}

type Rows = Record<string, unknown[]>

const differing = (a: Rows, b: Rows): string =>
  Object.keys({ ...a, ...b })
    .filter((table) => JSON.stringify(a[table]) !== JSON.stringify(b[table]))
    .join(', ')

async function smallBook(path: string): Promise<string> {
  const opened = await openShopFile(path, { clockMs: () => NOW_MS })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  await addCommission(opened.value.db, anOrder('a'), { atMs: NOW_MS, makerId: null })
  await logStep(opened.value.db, 'a-piece-first-glue-up', { kind: 'started' }, { atMs: NOW_MS, makerId: null })
  await opened.value.close()
  const alone = join(dirname(path), 'alone.sqlite')
  copyFileSync(path, alone)
  return alone
}

/** What stands in the file; a word when the whole check refuses it or tells of damage. */
async function read(path: string): Promise<Rows | 'refused' | 'warned'> {
  const found = examineFile(path, Object.keys(migrations), 'whole')
  if (found.kind !== 'sound') return 'refused'
  if (found.damagedRows.length > 0) return 'warned'
  const db = new Kysely<Database>({ dialect: new ShopDialect(new SqliteFile(path, { readonly: true })) })
  try {
    return await rowsIn(db)
  } catch {
    // What the opening meets otherwise becomes a page of its own (`db/opening-faults.ts`): it is told.
    return 'refused'
  } finally {
    await db.destroy()
  }
}

/** The same, opened as the app does. */
async function readAsTheApp(path: string): Promise<Rows | 'refused'> {
  try {
    const opened = await openShopFile(path, { clockMs: () => WEEK_LATER_MS })
    if (!opened.ok) return 'refused'
    try {
      return await rowsIn(opened.value.db)
    } finally {
      await opened.value.close()
    }
  } catch {
    return 'refused'
  }
}

async function rowsIn(db: Kysely<Database>): Promise<Rows> {
  const { upkeep: _, kysely_migration, ...rows } = await everythingIn(db)
  // When a change of the tables was made is told nowhere and read by nothing; which were made matters.
  return { ...rows, migrations: (kysely_migration as { name: string }[]).map(({ name }) => name) }
}

import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { addCommission } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { examineFile } from '../../db/examine-file.ts'
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
    const found = await read(path)
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
  try {
    const opened = await openShopFile(path, { clockMs: () => WEEK_LATER_MS })
    if (!opened.ok) return 'refused'
    try {
      const { upkeep: _, ...rows } = await everythingIn(opened.value.db)
      return rows
    } finally {
      await opened.value.close()
    }
  } catch {
    // What the opening meets otherwise becomes a page of its own (`db/opening-faults.ts`): it is told.
    return 'refused'
  }
}

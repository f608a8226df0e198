import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { addCommission } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { logStep } from '../../db/steps.ts'
import { everythingIn } from '../../test/db/support/everything.ts'
import { anOrder } from '../../test/db/support/orders.ts'
import type { Trial } from './trial.ts'
import { NOW_MS } from './whole-book.ts'

const WEEK_LATER_MS = NOW_MS + 8 * 24 * 3_600_000

/**
 * Every byte of a small book overwritten, one at a time. It is told (refused, or a warning), or nothing of what the book says has
 * changed; a file that says something else without a word is broken.
 */
export const everyByte: Trial = async ({ scale, random, isOver, folder }) => {
  const sound = await smallBook(join(folder, 'sound', 'shop.sqlite'))
  const bytes = readFileSync(sound)
  const was = await read(sound)
  if (typeof was === 'string') throw new Error(`The sound book is not sound: ${was}`)
  const step = Math.max(1, Math.round(1 / scale))
  const counts = { refused: 0, warned: 0, harmless: 0 }
  const broken: string[] = []
  let runs = 0
  const path = join(folder, 'spoiled', 'shop.sqlite')
  for (let at = Math.floor(random() * step); at < bytes.length && !isOver(); at += step) {
    runs++
    rmSync(dirname(path), { recursive: true, force: true })
    mkdirSync(dirname(path), { recursive: true })
    const spoiled = Buffer.from(bytes)
    spoiled[at] = (bytes[at]! + 1 + Math.floor(random() * 255)) % 256
    writeFileSync(path, spoiled)
    const found = await read(path)
    if (typeof found === 'string') counts[found]++
    else if (JSON.stringify(found) === JSON.stringify(was)) counts.harmless++
    else
      broken.push(`byte ${at}: ${bytes[at]} -> ${spoiled[at]} opened without a word, ${differing(was, found)} differs`)
  }
  return {
    runs,
    said: `of ${bytes.length} bytes: refused ${counts.refused}, told ${counts.warned}, no difference ${counts.harmless}`,
    broken,
  }
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

/** What stands in the file; a word when it is refused or told as damaged. */
async function read(path: string): Promise<Rows | 'refused' | 'warned'> {
  try {
    const opened = await openShopFile(path, { clockMs: () => WEEK_LATER_MS })
    if (!opened.ok) return 'refused'
    try {
      if (opened.value.warnings().length > 0) return 'warned'
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

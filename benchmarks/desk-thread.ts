import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { startingAlmanac } from '../core/almanac/defaults.ts'
import { openBook } from '../db/commissions.ts'
import { openShopFile } from '../db/connection.ts'
import type { Desk } from '../desk/desk.ts'
import { momentOf } from '../desk/moment.ts'
import { openDesk } from '../desk/open-desk.ts'
import { draftOf, fillBook, place } from './large-book.ts'
import type { BenchView } from '../desk/screens/bench.ts'

// How long the desk's thread is held up in a large book: by what a press does, and by each look at a screen.
//   npm run --silent bench:desk-thread -- 200
// The book is framed end-grain boards of 23 steps; figures are milliseconds.
const orders = Number(process.argv[2] ?? 200)
const nowMs = Date.parse('2026-03-03T15:00:00Z')
const dataFolder = mkdtempSync(join(tmpdir(), 'desk-thread-'))

try {
  await fillBook(dataFolder, orders, nowMs)
  const desk = await openDesk({
    where: 'a benchmark',
    dataFolder,
    demo: false,
    forTests: true,
    clock: { nowMs: () => nowMs },
  })
  if (!desk.ok) throw new Error(JSON.stringify(desk.problems))
  await measure(desk.value)
  await desk.value.close()
} finally {
  rmSync(dataFolder, { recursive: true })
}

async function measure(desk: Desk): Promise<void> {
  const ask = async <T>(name: string, input: unknown = {}): Promise<T> => {
    const reply = await desk.call(name, input)
    if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.problems)}`)
    return reply.value as T
  }
  console.log(`${orders} commissions`.padEnd(28), 'until answered   longest hold-up')
  await timed('bench', () => ask('bench', { rows: 24 }))
  for (const name of ['rack', 'orderBook', 'shopState']) await timed(name, () => ask(name))
  await timed('timber', () => ask('timber', { askedAbout: false, lines: 24 }))
  await timed('weeksAhead', () => ask('weeksAhead', { weeks: 4 }))
  const { canStart, comingUp } = await ask<BenchView>('bench', { rows: 24 })
  const stepId = (canStart[0] ?? comingUp[0])?.stepId
  await timed('a step is started', () => ask('stepStart', { stepId, anyway: true }))
  await timed('what follows', () => ask('caughtUp'))
  await timed('a step is done', () => ask('stepDone', { stepId, anyway: true }))
  await timed('what follows that', () => ask('caughtUp'))
  await timed('dates while typing', () => ask('draftQuote', { draft: draftOf(orders), asked: 'dates' }))

  const file = await openShopFile(join(dataFolder, 'shop.sqlite'), { clockMs: () => nowMs })
  if (!file.ok) throw new Error(JSON.stringify(file.problems))
  const book = await timed('  the book is read', () => openBook(file.value.db))
  await file.value.close()
  const almanac = startingAlmanac(place)
  await timed('  a moment', () => momentOf(book, almanac, null, nowMs / 60_000, 'en-US'))
  await timed('  its planning problem', () => momentOf(book, almanac, null, nowMs / 60_000, 'en-US').asked)
  const { problem } = momentOf(book, almanac, null, nowMs / 60_000, 'en-US').asked
  await timed('  the problem is copied', () => structuredClone(problem))
}

/** Runs it three times and prints the last. */
async function timed<T>(name: string, run: () => T | Promise<T>): Promise<T> {
  let value!: T
  let line = ''
  for (let times = 0; times < (name.startsWith('a step') ? 1 : 3); times++) {
    await new Promise((resolve) => setTimeout(resolve, 50))
    const delay = monitorEventLoopDelay({ resolution: 1 })
    delay.enable()
    // It measures from one beat to the next: the first one has to be there.
    await new Promise((resolve) => setTimeout(resolve, 20))
    const from = performance.now()
    value = await run()
    const took = performance.now() - from
    await new Promise((resolve) => setTimeout(resolve, 20))
    delay.disable()
    line = `${took.toFixed(1).padStart(10)} ${(delay.max / 1e6).toFixed(1).padStart(17)}`
  }
  console.log(name.padEnd(28), line)
  return value
}

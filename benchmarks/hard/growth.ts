import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Desk } from '../../desk/desk.ts'
import { draftOf } from '../large-book.ts'
import { fillYears } from '../ten-years.ts'
import { share, type Trial } from './trial.ts'
import { trialDesk } from './trial-desk.ts'
import { NOW_MS } from './whole-book.ts'

/** What an old book may take of what a fresh one does. */
const MOST = 1.5
const YEARS = 10

/** Orders in work in either book. */
const IN_WORK = 8

/** What the screens ask for, as they ask. */
const SCREENS = [
  ['bench', { rows: 24 }],
  ['rack', {}],
  ['orderBook', {}],
  ['tally', {}],
  ['owed', {}],
  ['peopleDue', {}],
  ['almanac', {}],
  ['shopState', {}],
  ['backups', {}],
  ['customers', { sought: '', within: 'all', count: 50 }],
  ['weeksAhead', { weeks: 4 }],
  ['timber', { askedAbout: false, lines: 24 }],
  ['woodToCut', { askedAbout: false }],
  ['year', { year: null }],
] as const

/**
 * Ten years of use beside a fresh book with the same orders in work, each thing in turn in both: the start, each screen, a press and its
 * undoing, closing. Medians count, of rounds that alternate between both, as the machine is busy with other things as well.
 */
export const growth: Trial = async ({ scale, folder }) => {
  const orders = share(5_000, scale)
  const fresh = join(folder, 'fresh')
  const old = join(folder, 'old')
  for (const each of [fresh, old]) mkdirSync(each)
  await fillYears(old, orders, YEARS, NOW_MS)
  for (const each of [fresh, old]) await takeIn(each)
  const starts = { fresh: [] as number[], old: [] as number[] }
  const closings = { fresh: [] as number[], old: [] as number[] }
  const asked = { fresh: new Map<string, number[]>(), old: new Map<string, number[]>() }
  for (let round = 0; round < 3; round++) {
    const books = { fresh, old }
    for (const which of ['fresh', 'old'] as const) {
      const from = performance.now()
      const desk = await trialDesk(books[which], () => NOW_MS)
      await ask(desk, 'bench', { rows: 24 })
      starts[which].push(performance.now() - from)
      await askAll(desk, asked[which])
      const closingFrom = performance.now()
      await desk.close()
      closings[which].push(performance.now() - closingFrom)
    }
  }
  const lines = [line('start', starts.fresh, starts.old), line('closing', closings.fresh, closings.old)]
  for (const [name, times] of asked.fresh) lines.push(line(name, times, asked.old.get(name) ?? []))
  return {
    runs: lines.length,
    said: `${orders} orders of ${YEARS} years; ${lines.map(({ text }) => text).join('; ')}`,
    broken: lines.filter(({ ratio }) => ratio > MOST).map(({ text }) => `${text}, more than ${MOST}`),
  }
}

async function takeIn(folder: string): Promise<void> {
  const desk = await trialDesk(folder, () => NOW_MS)
  for (let at = 0; at < IN_WORK; at++)
    await ask(desk, 'takeOrder', { draft: draftOf(at), standing: 'agreed', promisedFor: null })
  await ask(desk, 'backupNow')
  await desk.close()
}

async function askAll(desk: Desk, times: Map<string, number[]>): Promise<void> {
  const timed = async <T>(name: string, work: () => Promise<T>): Promise<T> => {
    const from = performance.now()
    const value = await work()
    times.set(name, [...(times.get(name) ?? []), performance.now() - from])
    return value
  }
  for (let again = 0; again < 7; again++) {
    for (const [name, input] of SCREENS) await timed(name, () => ask(desk, name, input))
    const { canStart, comingUp } = await ask<Bench>(desk, 'bench', { rows: 24 })
    const { stepId } = (canStart[0] ?? comingUp[0])!
    const { open } = await ask<Orders>(desk, 'orderBook')
    const { commissionId } = open[0]!
    await timed('an order', () => ask(desk, 'commission', { id: commissionId }))
    const { entryId } = await timed('a press', () => ask<Pressed>(desk, 'stepStart', { stepId, anyway: true }))
    await timed('what follows', () => ask(desk, 'caughtUp'))
    await timed('undo', () => ask(desk, 'undo', { entryId }))
    await ask(desk, 'caughtUp')
  }
}

interface Bench {
  readonly canStart: readonly { readonly stepId: string }[]
  readonly comingUp: Bench['canStart']
}
interface Orders {
  readonly open: readonly { readonly commissionId: string }[]
}
interface Pressed {
  readonly entryId: number
}

function line(name: string, fresh: readonly number[], old: readonly number[]): { text: string; ratio: number } {
  const [a, b] = [median(fresh), median(old)]
  // Below a few milliseconds it is the clock and the machine that differ.
  const ratio = b < 5 ? 1 : b / a
  return { ratio, text: `${name} ${a.toFixed(1)} -> ${b.toFixed(1)} ms (${(b / a).toFixed(2)} x)` }
}

const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[times.length >> 1] ?? NaN

async function ask<T>(desk: Desk, name: string, input: unknown = {}): Promise<T> {
  const reply = await desk.call(name, input)
  if (!reply.ok) throw new Error(`${name}: ${reply.problems[0]?.message}`)
  return reply.value as T
}

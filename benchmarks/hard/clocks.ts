import { mkdtempSync } from 'node:fs'
import { join } from 'node:path'
import type { Desk } from '../../desk/desk.ts'
import { openDesk } from '../../desk/open-desk.ts'
import { draftOf } from '../large-book.ts'
import type { Trial } from './trial.ts'

/** Instants at which an order is taken, begun, looked at and done: what computers' clocks do, and what calendars do. */
const CASES: readonly (readonly [string, string, string, string])[] = [
  ['an hour ahead, then right', '2026-03-03T20:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T19:40:00Z'],
  ['a day ahead, then right', '2026-03-04T19:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['a month ahead, then right', '2026-04-03T19:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['ten years ahead, then right', '2036-03-03T19:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['a day behind, then right', '2026-03-02T19:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['an empty clock battery: 1970', '1970-01-01T00:10:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['2000, then right', '2000-01-01T00:00:00Z', '2026-03-03T19:00:00Z', '2026-03-03T20:00:00Z'],
  ['back to 1970 in the middle', '2026-03-03T19:00:00Z', '1970-01-01T00:10:00Z', '2026-03-03T20:00:00Z'],
  ['the night into summer time', '2026-03-08T07:30:00Z', '2026-03-08T08:30:00Z', '2026-03-08T09:30:00Z'],
  ['the night out of summer time', '2026-11-01T05:30:00Z', '2026-11-01T06:30:00Z', '2026-11-01T07:30:00Z'],
  ['the last minute of a leap day', '2028-02-29T23:59:30Z', '2028-03-01T00:00:30Z', '2028-03-01T01:00:00Z'],
  ['the turn of the year', '2026-12-31T23:59:30Z', '2027-01-01T00:00:30Z', '2027-01-01T01:00:00Z'],
  ['beyond 2038', '2038-01-19T03:14:06Z', '2038-01-19T03:14:09Z', '2038-01-19T04:00:00Z'],
  ['asleep for a year', '2026-03-03T19:00:00Z', '2027-03-03T19:00:00Z', '2027-03-03T20:00:00Z'],
]

/** Nothing ends in a fault, the order is there and has a date or a reason, and what was begun can be ended, at once or once asked. */
export const clockCases: Trial = async ({ folder }) => {
  const broken: string[] = []
  for (const [name, ...instants] of CASES) {
    const why = await live(mkdtempSync(join(folder, 'clock-')), instants)
    if (why !== null) broken.push(`${name}: ${why}`)
  }
  return { runs: CASES.length, said: CASES.map(([name]) => name).join('; '), broken }
}

async function live(dataFolder: string, [taken, looked, ended]: readonly string[]): Promise<string | null> {
  const opened = await openDesk({
    where: 'a trial',
    dataFolder,
    demo: false,
    forTests: true,
    clock: { nowMs: () => Date.parse(taken ?? '') },
  })
  if (!opened.ok) return opened.problems[0]?.message ?? 'not opened'
  const desk = opened.value
  try {
    const order = await ask<{ commissionId: string }>(desk, 'takeOrder', {
      draft: draftOf(1),
      standing: 'agreed',
      promisedFor: null,
    })
    const { pieces } = await ask<{ pieces: { steps: { stepId: string }[] }[] }>(desk, 'commission', {
      id: order.commissionId,
    })
    const stepId = pieces[0]?.steps[0]?.stepId
    await ask(desk, 'stepStart', { stepId, anyway: true })
    await ask(desk, 'testSetClock', { now: looked })
    await ask(desk, 'bench', { rows: 24 })
    for (const screen of ['rack', 'orderBook', 'shopState', 'tally']) await ask(desk, screen, {})
    await ask(desk, 'testSetClock', { now: ended })
    const done = await desk.call('stepDone', { stepId, anyway: true })
    // Begun at an instant that is still to come: it is asked how long it took. Left running through a night: until when.
    if (!done.ok && done.problems[0]?.code === 'begun-ahead') {
      await ask(desk, 'stepDone', { stepId, anyway: true, workedMin: 30 })
    } else if (!done.ok) {
      if (done.problems[0]?.code !== 'until-when') return `done: ${done.problems[0]?.code}`
      const day = new Date(Date.parse(ended ?? '') - 12 * 3_600_000).toISOString().slice(0, 10)
      await ask(desk, 'stepPutRight', {
        stepId,
        stretches: [{ day, from: '1 PM', until: '30 min', makerId: null }],
        isDone: true,
      })
    }
    await ask(desk, 'backupNow', {})
    return null
  } catch (fault) {
    return fault instanceof Error ? fault.message : String(fault)
  } finally {
    await desk.close()
  }
}

async function ask<T = unknown>(desk: Desk, name: string, input: unknown): Promise<T> {
  const reply = await desk.call(name, input)
  if (!reply.ok) throw new Error(`${name}: ${reply.problems[0]?.code} ${reply.problems[0]?.message}`)
  return reply.value as T
}

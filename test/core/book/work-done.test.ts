import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { StepAction, StepEntry } from '../../../core/book/book.ts'
import { hoursLogged } from '../../../core/book/hours-logged.ts'
import { isLeftRunning, lastNight, likelyStop } from '../../../core/book/left-running.ts'
import { progressOf, workedMinutes } from '../../../core/book/step-progress.ts'
import { minutesOver, workAt } from '../../../core/book/work-done.ts'

let ids = 0
const entry = (atMin: number, action: StepAction, makerId: string | null = 'wren'): StepEntry => ({
  ...{ id: ++ids, stepId: 'a', atMin, makerId, action },
})
const putRight = (
  stretches: readonly (readonly [from: number, to: number, makerId?: string])[],
  rest: { readonly runningSinceMin?: number; readonly doneAtMin?: number } = {},
): StepAction => ({
  kind: 'put-right',
  why: 'corrected',
  stretches: stretches.map(([fromMin, toMin, makerId = 'wren']) => ({ fromMin, toMin, makerId })),
  runningSinceMin: rest.runningSinceMin ?? null,
  doneAtMin: rest.doneAtMin ?? null,
})
const progress = (...entries: readonly StepEntry[]) => progressOf(entries).get('a')

describe('what was worked at a step', () => {
  test('is what a correction says, whatever was logged before it', () => {
    const pressed = [entry(600, { kind: 'started', setUpMin: 10 }), entry(900, { kind: 'done' })]
    const right = entry(
      700,
      putRight(
        [
          [600, 640],
          [660, 700, 'otto'],
        ],
        { doneAtMin: 700 },
      ),
    )
    expect(progress(...pressed, right)).toEqual({
      ...{ kind: 'done', startedAt: 600, endedAt: 700, workedMin: 80, makerId: 'otto' },
      ...{ pushedUntil: null, pinnedDay: null, stays: [], foundReady: null, woodOffList: false },
    })
    expect(workAt([...pressed, right]).get('a')?.setUpMin).toBe(10)
    expect(hoursLogged([...pressed, right], 100 * 60).stretches).toEqual([
      { from: 600, to: 640 },
      { from: 660, to: 700 },
    ])
  })

  test('goes on from a correction with the next press', () => {
    const log = [entry(700, putRight([[600, 640]])), entry(720, { kind: 'started' }), entry(750, { kind: 'done' })]
    expect(progress(...log)).toMatchObject({ kind: 'done', startedAt: 600, endedAt: 750, workedMin: 70 })
    expect(progress(entry(700, putRight([[600, 640]], { runningSinceMin: 650 })))).toMatchObject({
      ...{ kind: 'running', startedAt: 600, since: 650, workedMin: 40 },
    })
  })

  test('is nothing once it turns out to have been another step', () => {
    const log = [entry(600, { kind: 'started' }), entry(640, { kind: 'done' }), entry(650, putRight([]))]
    expect(progress(...log)).toMatchObject({ kind: 'to-do' })
    expect(hoursLogged(log, 100 * 60).stretches).toEqual([])
  })

  test('is what was said where Done was pressed without Start, and what was pressed where it was not', () => {
    expect(progress(entry(700, { kind: 'done', workedMin: 45 }))).toMatchObject({ startedAt: 655, workedMin: 45 })
    expect(progress(entry(600, { kind: 'started' }), entry(700, { kind: 'done', workedMin: 45 }))).toMatchObject({
      workedMin: 100,
    })
  })

  test('of a step that nobody stopped is no longer than the longest stretch there is', () => {
    const running = progress(entry(600, { kind: 'started' }))!
    expect(workedMinutes(running, 700)).toBe(100)
    expect(workedMinutes(running, 600 + 20 * 60)).toBe(6 * 60)
  })

  test('property: no press and no correction leaves minutes below zero or an end before the start', () => {
    const action = fc.oneof(
      fc.constantFrom<StepAction>(
        { kind: 'started' },
        { kind: 'paused' },
        { kind: 'done' },
        { kind: 'done', workedMin: 7 },
      ),
      fc
        .array(fc.tuple(fc.nat(5000), fc.integer({ min: 1, max: 300 })), { maxLength: 3 })
        .map((all) => putRight(all.sort((a, b) => a[0] - b[0]).map(([from, long]) => [from, from + long] as const))),
    )
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(5000), action)), (all) => {
        const log = all.toSorted((a, b) => a[0] - b[0]).map(([at, each]) => entry(at, each))
        for (const work of workAt(log).values()) {
          expect(minutesOver(work)).toBeGreaterThanOrEqual(0)
          for (const { from, to } of work.stretches) expect(to).toBeGreaterThanOrEqual(from)
          expect(work.running !== null && work.done !== null).toBe(false)
        }
      }),
    )
  })
})

describe('a step that was left in hand', () => {
  const zone = 'America/Chicago'
  const at = (iso: string): number => Date.parse(iso) / 60_000
  const since = at('2026-03-03T19:30:00-06:00')
  const running = (from: number) => progress(entry(from, { kind: 'started' }))!

  test('is one that a night has passed over, at four in the morning by the clock on the wall', () => {
    expect(isLeftRunning(running(since), at('2026-03-04T03:59:00-06:00'), zone)).toBe(false)
    expect(isLeftRunning(running(since), at('2026-03-04T04:01:00-06:00'), zone)).toBe(true)
    expect(isLeftRunning(running(at('2026-03-04T04:30:00-06:00')), at('2026-03-04T21:00:00-06:00'), zone)).toBe(false)
    // The night in which the clocks go forward.
    expect(lastNight(at('2026-03-08T12:00:00-05:00'), zone)).toBe(at('2026-03-08T04:00:00-05:00'))
  })

  test('most likely ended with its estimate, or with the session that it began in', () => {
    const session = { from: since - 30, to: since + 120 }
    expect(likelyStop(since, 45, [session], zone)).toBe(since + 45)
    expect(likelyStop(since, 300, [session], zone)).toBe(since + 120)
    expect(likelyStop(since, -20, [session], zone)).toBe(since + 1)
    expect(likelyStop(since, 2000, [], zone)).toBe(at('2026-03-04T04:00:00-06:00'))
  })
})

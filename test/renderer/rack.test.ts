import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mayBeUnready, pushBackMinutes } from '../../renderer/rack/push-back.ts'
import { isReady, readyFirst, withKeys } from '../../renderer/rack/ready.ts'
import { saySince } from '../../renderer/rack/say-since.ts'
import type { RackRow } from '../../desk/screens/rack.ts'

const row = (title: string, advice: RackRow['advice'], readyAt: number | null): RackRow => ({
  piece: { commissionId: title, number: 1, customer: 'Ada Harlow', pieceId: title, title, count: 1, lot: null },
  state: 'drying',
  waitName: 'first coat drying',
  place: 'Drying rack 3',
  sinceAt: 0,
  readyAt,
  why: [],
  still: [],
  spoiled: null,
  advice,
  next: null,
  window: null,
  afterStepId: 's0',
  standsIn: null,
  moves: [],
  tackyStepId: 'step',
})

describe('what is ready', () => {
  test('stands first, then what is ready soonest, last what stands still', () => {
    const rows = [
      row('still', { kind: 'stands-still', reason: 'Too cold.', goesOnAt: null }, null),
      row('later', { kind: 'wait' }, 900),
      row('soon', { kind: 'wait' }, 600),
      row('ready', { kind: 'ready' }, 300),
    ]
    expect(readyFirst(rows, 400).map((one) => one.piece.title)).toEqual(['ready', 'soon', 'later', 'still'])
  })

  test('becomes so by itself when its time comes, without asking the desk again', () => {
    const waiting = row('coat', { kind: 'wait' }, 600)
    expect(isReady(waiting, 599)).toBe(false)
    expect(isReady(waiting, 600)).toBe(true)
  })

  test('never is what stands still, however late it gets', () => {
    expect(isReady(row('cold', { kind: 'stands-still', reason: 'Too cold.', goesOnAt: null }, null), 1_000_000)).toBe(
      false,
    )
  })
})

describe('the shelves', () => {
  test('tell two waits apart that are alike in everything', () => {
    const twice = [row('panel', { kind: 'wait' }, 600), row('panel', { kind: 'wait' }, 600)]
    expect(new Set(withKeys(twice).map(({ key }) => key)).size).toBe(2)
  })
})

describe('still tacky', () => {
  test('pushes back by a sixth of the wait, in half hours', () => {
    expect(pushBackMinutes({ sinceAt: 0 }, 12 * 60)).toBe(120)
  })

  test('pushes back by half an hour at least and half a day at most, and the more the longer it has waited', () => {
    fc.assert(
      fc.property(fc.nat(60 * 24 * 60), fc.nat(60 * 24 * 60), (a, b) => {
        const [shorter, longer] = [Math.min(a, b), Math.max(a, b)]
        const pushed = [pushBackMinutes({ sinceAt: 0 }, shorter), pushBackMinutes({ sinceAt: 0 }, longer)] as const
        expect(pushed[0]).toBeLessThanOrEqual(pushed[1])
        for (const minutes of pushed) {
          expect(minutes % 30).toBe(0)
          expect(minutes).toBeGreaterThanOrEqual(30)
          expect(minutes).toBeLessThanOrEqual(720)
        }
      }),
    )
  })

  test('is offered from three quarters of the wait on, and not for what stands still', () => {
    expect(mayBeUnready({ sinceAt: 0, readyAt: 400 }, 299)).toBe(false)
    expect(mayBeUnready({ sinceAt: 0, readyAt: 400 }, 300)).toBe(true)
    expect(mayBeUnready({ sinceAt: 0, readyAt: null }, 300)).toBe(false)
  })

  test('is still offered to whoever comes the evening after: a coat of 7:10 PM that takes 5 h, looked at 24 h later', () => {
    expect(mayBeUnready({ sinceAt: 0, readyAt: 300 }, 24 * 60)).toBe(true)
    expect(mayBeUnready({ sinceAt: 0, readyAt: 300 }, 7 * 24 * 60)).toBe(true)
  })
})

describe('since when', () => {
  const wording = { timeZone: 'America/New_York', locale: 'en-GB' }
  const minute = (local: string): number => Date.parse(`${local}-05:00`) / 60_000
  const now = minute('2026-12-02T20:10:00')

  // A weekday alone would be read as the coming one.
  test.each([
    ['2026-12-02T19:20:00', '19:20'],
    ['2026-12-01T20:40:00', 'Tue 20:40'],
    ['2026-11-28T12:00:00', 'Sat 28 Nov'],
  ])('%s is said as %s', (local, words) => {
    expect(saySince(minute(local), now, wording).replace(',', '')).toBe(words)
  })
})

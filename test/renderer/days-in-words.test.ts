import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { nothingToSay } from '../../desk/screens/outlook.ts'
import { localDay } from '../../core/time/local-day.ts'
import { daysInWords } from '../../renderer/weeks/days-in-words.ts'
import type { WeeksBar, WeeksLane, WeeksView } from '../../desk/screens/weeks.ts'

const wording = { timeZone: 'America/New_York', locale: 'en-GB' }
const minute = (local: string): number => Date.parse(`${local}-05:00`) / 60_000
const now = minute('2026-12-02T20:10:00')

const bar = (kind: WeeksBar['kind'], from: string, to: string, name: string): WeeksBar => ({
  kind,
  state: kind === 'wait' ? 'drying' : 'on-the-bench',
  name,
  fromAt: minute(from),
  toAt: minute(to),
  done: false,
  stepId: name,
})

const lane = (bars: readonly WeeksBar[], extra: Partial<WeeksLane> = {}): WeeksLane => ({
  piece: {
    commissionId: 'c',
    number: 7,
    customer: 'Ada Harlow',
    pieceId: 'p',
    title: 'Serving tray',
    count: 1,
    lot: null,
  },
  startsAt: null,
  bars,
  doneAt: null,
  promisedFor: null,
  neededBy: null,
  outlook: nothingToSay,
  ...extra,
})

const view = (lanes: readonly WeeksLane[], specialDays: WeeksView['specialDays'] = []): WeeksView => ({
  fromAt: minute('2026-12-02T00:00:00'),
  toAt: minute('2026-12-16T00:00:00'),
  open: [],
  specialDays,
  lanes,
})

const written = (shown: WeeksView): string[] =>
  daysInWords(shown, now, wording).flatMap(({ day, unusual, lines }) => [
    `${day}${unusual === null ? '' : ` (${unusual})`}`,
    ...lines.map((line) => `${line.when}: ${line.what}`),
  ])

describe('the weeks written out', () => {
  test('tell work, ends of waits, being done and promises day by day', () => {
    const tray = lane(
      [
        bar('hands-on', '2026-12-03T19:00:00', '2026-12-03T19:20:00', 'Third coat'),
        bar('wait', '2026-12-03T19:20:00', '2026-12-04T07:20:00', 'third coat drying'),
      ],
      { doneAt: minute('2026-12-04T07:20:00'), promisedFor: '2026-12-05' },
    )
    expect(written(view([tray]))).toEqual([
      '2026-12-03',
      '19:00 to 19:20: Third coat',
      '2026-12-04',
      'from 7:20: ready: third coat drying is over',
      '7:20: all done',
      '2026-12-05',
      'by the end of the day: promised',
    ])
  })

  test('name a fair although nothing is worked on', () => {
    expect(written(view([], [{ day: '2026-12-12', kind: 'fair', note: 'Winter fair' }]))).toEqual([
      '2026-12-12 (at a fair: Winter fair)',
    ])
  })

  test('leave out what is over', () => {
    expect(
      written(view([lane([bar('hands-on', '2026-12-02T19:00:00', '2026-12-02T19:30:00', 'First coat')])])),
    ).toEqual([])
  })

  test('have every stretch of work ahead exactly once, under its own day, in order', () => {
    const start = fc.integer({ min: now - 3000, max: minute('2026-12-20T00:00:00') })
    fc.assert(
      fc.property(fc.array(start, { maxLength: 30 }), (starts) => {
        const bars = starts.map((at, index): WeeksBar => ({
          kind: 'hands-on',
          state: 'on-the-bench',
          name: `step ${index}`,
          fromAt: at,
          toAt: at + 30,
          done: false,
          stepId: String(index),
        }))
        const shown = view([lane(bars)])
        const days = daysInWords(shown, now, wording)
        const told = days.flatMap(({ day, lines }) => lines.map((line) => ({ day, line })))
        const expected = bars.filter((one) => one.fromAt >= now && one.fromAt < shown.toAt)
        expect(told.map(({ line }) => line.what).toSorted()).toEqual(expected.map((one) => one.name).toSorted())
        for (const { day, line } of told) expect(localDay(line.at, wording.timeZone)).toBe(day)
        const instants = told.map(({ line }) => line.at)
        expect(instants).toEqual(instants.toSorted((a, b) => a - b))
      }),
    )
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { barAt, filledPaths, fillOf } from '../../renderer/weeks/lane-fills.ts'
import { xOf, type TimeScale } from '../../renderer/weeks/time-scale.ts'
import type { PieceState } from '../../core/book/piece-state.ts'
import type { WeeksBar } from '../../desk/screens/weeks.ts'

const HOUR = 60
const scale: TimeScale = { fromAt: 0, toAt: 14 * 24 * HOUR, width: 700 }
const heights = { lane: 36, work: 24, wait: 16 }

const work = (fromAt: number, minutes: number): WeeksBar => ({
  kind: 'hands-on',
  state: 'on-the-bench',
  name: 'First glue-up',
  fromAt,
  toAt: fromAt + minutes,
  done: false,
  stepId: 'step',
})

const wait = (state: PieceState, fromAt: number, minutes: number): WeeksBar => ({
  ...work(fromAt, minutes),
  kind: 'wait',
  state,
  name: 'wait',
})

/** Left and right edges of all boxes of a path. */
const boxes = (path: string): readonly (readonly [number, number])[] =>
  [...path.matchAll(/M([\d.-]+) [\d.]+H([\d.-]+)/g)].map((match) => [Number(match[1]), Number(match[2])])

const anyBar = fc.record({
  wait: fc.constantFrom<PieceState | null>(null, 'in-clamps', 'curing', 'drying', 'resting'),
  fromAt: fc.integer({ min: -5000, max: 25_000 }),
  minutes: fc.integer({ min: 1, max: 6000 }),
})
const barsOf = (raw: { wait: PieceState | null; fromAt: number; minutes: number }[]): WeeksBar[] =>
  raw.map((one) => (one.wait === null ? work(one.fromAt, one.minutes) : wait(one.wait, one.fromAt, one.minutes)))

describe('a lane of bars', () => {
  test('every kind of wait has a fill of its own, and none looks like work', () => {
    const states: PieceState[] = ['in-clamps', 'curing', 'drying', 'resting', 'waiting-its-turn']
    const fills = [fillOf(work(0, 1)), ...states.map((state) => fillOf(wait(state, 0, 1)))]
    expect(new Set(fills).size).toBe(fills.length)
  })

  test('is drawn with one path a fill, however many bars it has', () => {
    const bars = Array.from({ length: 200 }, (_, index) =>
      index % 2 === 0 ? work(index * 90, 30) : wait('drying', index * 90, 80),
    )
    expect(filledPaths(bars, scale, heights).map((one) => one.fill)).toEqual(['drying', 'hands-on'])
  })

  test('five minutes of work are still seen', () => {
    const [path] = filledPaths([work(HOUR, 5)], scale, heights)
    const [box] = boxes(path?.path ?? '')
    expect((box?.[1] ?? 0) - (box?.[0] ?? 0)).toBeCloseTo(3, 1)
  })

  test('has a box for every bar that touches the weeks shown, within their edges, and none for others', () => {
    fc.assert(
      fc.property(fc.array(anyBar, { maxLength: 40 }), (raw) => {
        const bars = barsOf(raw)
        const shown = bars.filter((bar) => bar.toAt >= scale.fromAt && bar.fromAt < scale.toAt)
        const drawn = filledPaths(bars, scale, heights).flatMap((one) => boxes(one.path))
        expect(drawn.length).toBe(shown.length)
        for (const [left, right] of drawn) {
          expect(left).toBeGreaterThanOrEqual(0)
          expect(right).toBeLessThanOrEqual(scale.width + 3)
        }
      }),
    )
  })
})

describe('pointing at a lane', () => {
  test('finds a short piece of work before the wait that touches it', () => {
    const bars = [wait('in-clamps', 2 * HOUR, 20 * HOUR), work(1.5 * HOUR, 30)]
    expect(barAt(bars, scale, xOf(scale, 2 * HOUR))?.kind).toBe('hands-on')
  })

  test('finds nothing on bare ground', () => {
    expect(barAt([work(0, 30)], scale, 300)).toBeNull()
  })

  test('finds a bar at any place that the bar covers', () => {
    fc.assert(
      fc.property(
        fc.array(anyBar, { minLength: 1, maxLength: 12 }),
        fc.nat(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (raw, pick, share) => {
          const bars = barsOf(raw)
          const bar = bars[pick % bars.length]
          if (bar === undefined) return
          const at = bar.fromAt + share * (bar.toAt - bar.fromAt)
          fc.pre(at >= scale.fromAt && at <= scale.toAt)
          expect(barAt(bars, scale, xOf(scale, at))).not.toBeNull()
        },
      ),
    )
  })
})

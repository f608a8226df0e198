import { describe, expect, it } from 'vitest'
import { Bench } from '../../../benchmarks/year/executor/bench.ts'
import { workEvening, type Happening, type Listed } from '../../../benchmarks/year/executor/evening.ts'
import { overAt, type TrueStep, type TrueWait, type Truth } from '../../../benchmarks/year/executor/truth.ts'

// Every expected instant is worked out by hand in the test that expects it. An evening is 0 to 150, the next one 1440 to 1590.

const evening = { from: 0, to: 150 }
const nextEvening = { from: 1440, to: 1590 }

const step = (id: string, more: Partial<TrueStep> = {}): TrueStep => ({
  ...{ id, setUp: null, interruptible: false, smallestStretchMin: 0, dusty: false, tacky: null, holds: [] },
  ...more,
})

const wait = (from: string, minutes = 0, more: Partial<TrueWait> = {}): TrueWait => ({
  ...{ from, over: { minutes, clock: null }, openMin: null, remedyMin: 0 },
  ...more,
})

interface Given {
  readonly steps: readonly (readonly [TrueStep, number, ...TrueWait[]])[]
  readonly stations?: Readonly<Record<string, number>>
  readonly mishap?: Truth['mishap']
}

function benchOf({ steps, stations = {}, mishap = () => null }: Given): Bench {
  return new Bench({
    stations: new Map(Object.entries(stations)),
    steps: new Map(steps.map(([one]) => [one.id, one])),
    waitsInto: new Map(steps.map(([one, , ...waits]) => [one.id, waits])),
    minutes: (id) => steps.find(([one]) => one.id === id)![1],
    mishap,
  })
}

const line = (id: string, expectedMin = 10, notBefore = 0): Listed => ({ step: id, expectedMin, notBefore })
const told = (happened: readonly Happening[]): string =>
  happened.map(({ kind, step: id, at }) => `${id} ${kind} ${at}`).join(', ')

describe('an evening', () => {
  it('begins the first line that can be begun, and never a step before what leads to it', () => {
    const bench = benchOf({
      steps: [
        [step('b'), 20, wait('a')],
        [step('a'), 30],
        [step('c'), 10],
      ],
    })
    expect(told(workEvening(bench, evening, [line('b'), line('c'), line('a')]))).toBe(
      'c started 0, c done 10, a started 10, a done 40, b started 40, b done 60',
    )
  })

  it('uses a wait for what else there is, and goes on when it is truly over', () => {
    const bench = benchOf({
      steps: [
        [step('glue'), 20],
        [step('free'), 10, wait('glue', 60)],
        [step('other'), 30],
      ],
    })
    expect(told(workEvening(bench, evening, [line('glue'), line('free'), line('other')]))).toBe(
      'glue started 0, glue done 20, other started 20, other done 50, free started 80, free done 90',
    )
  })

  it('lets a wait run through the night on its own clock', () => {
    // Half speed until minute 100, full speed after it: 60 minutes of progress from 20 take 80 at half speed and 20 more.
    const clock = [
      { from: 0, rate: 0.5 },
      { from: 100, rate: 1 },
    ]
    expect(overAt(20, { minutes: 60, clock })).toBe(120)
    expect(overAt(110, { minutes: 60, clock })).toBe(170)
    expect(overAt(20, { minutes: 60, clock: [{ from: 0, rate: 0 }] })).toBe(Infinity)
    expect(overAt(20, { minutes: 0, clock })).toBe(20)
  })

  it('puts the next coat on where the piece lies, on a rack that is full, and nothing else there', () => {
    const coat = (id: string, until: string): TrueStep =>
      step(id, { holds: [{ station: 'rack', units: 2, until: { kind: 'start-of', step: until } }] })
    const bench = benchOf({
      steps: [
        [coat('first', 'second'), 10],
        [coat('second', 'pack'), 10, wait('first', 30)],
        [step('pack'), 5, wait('second', 30)],
        [coat('other', 'none'), 10],
      ],
      stations: { rack: 3 },
    })
    const list = ['first', 'second', 'other', 'pack'].map((id) => line(id))
    expect(told(workEvening(bench, evening, list))).toBe(
      'first started 0, first done 10, second started 40, second done 50, pack started 80, pack done 85, other started 85, other done 95',
    )
  })

  it('does not begin what does not fit as far as is known, and takes something shorter instead', () => {
    const bench = benchOf({
      steps: [
        [step('a'), 100],
        [step('long'), 60],
        [step('short'), 40],
      ],
    })
    expect(told(workEvening(bench, evening, [line('a', 100), line('long', 60), line('short', 40)]))).toBe(
      'a started 0, a done 100, short started 100, short done 140',
    )
  })

  it('finishes after closing time what takes longer than was thought and cannot be interrupted', () => {
    const bench = benchOf({ steps: [[step('a'), 170]] })
    expect(told(workEvening(bench, evening, [line('a', 100)]))).toBe('a started 0, a done 170')
  })

  it('interrupts at closing time what may be, and goes on with it first', () => {
    const sand = step('sand', { interruptible: true, smallestStretchMin: 15 })
    const bench = benchOf({
      steps: [
        [step('a'), 100],
        [sand, 80],
        [step('b'), 10],
      ],
    })
    expect(told(workEvening(bench, evening, [line('a', 100), line('sand', 80)]))).toBe(
      'a started 0, a done 100, sand started 100, sand paused 150',
    )
    expect(told(workEvening(bench, nextEvening, [line('b'), line('sand')]))).toBe(
      'sand went-on 1440, sand done 1470, b started 1470, b done 1480',
    )
  })

  it('does not begin it for less than its smallest stretch', () => {
    const sand = step('sand', { interruptible: true, smallestStretchMin: 15 })
    const bench = benchOf({
      steps: [
        [step('a'), 140],
        [sand, 80],
      ],
    })
    expect(told(workEvening(bench, evening, [line('a', 140), line('sand', 80)]))).toBe('a started 0, a done 140')
  })

  it('pays a setup once for a row of steps of the family, and again the next evening', () => {
    const planed = (id: string) => step(id, { setUp: { family: 'planer', minutes: 10 } })
    const bench = benchOf({
      steps: [
        [planed('a'), 20],
        [planed('b'), 20],
        [step('sawn', { setUp: { family: 'saw', minutes: 5 } }), 20],
        [planed('c'), 20],
      ],
    })
    expect(told(workEvening(bench, evening, [line('a'), line('b'), line('sawn'), line('c')]))).toBe(
      'a started 0, a done 30, b started 30, b done 50, sawn started 50, sawn done 75, c started 75, c done 105',
    )
    const again = benchOf({
      steps: [
        [planed('a'), 20],
        [planed('b'), 20],
      ],
    })
    workEvening(again, { from: 0, to: 40 }, [line('a', 20)])
    expect(told(workEvening(again, nextEvening, [line('b')]))).toBe('b started 1440, b done 1470')
  })

  it('keeps dust off tacky finish until that is dry', () => {
    const coat = step('coat', { tacky: { minutes: 60, clock: null } })
    const bench = benchOf({
      steps: [
        [coat, 10],
        [step('saw', { dusty: true }), 20],
        [step('draw'), 30],
      ],
    })
    expect(told(workEvening(bench, evening, [line('coat'), line('saw'), line('draw')]))).toBe(
      'coat started 0, coat done 10, draw started 10, draw done 40, saw started 70, saw done 90',
    )
  })

  it('begins what needs clamps when they come free: at the release, not when the glue is dry', () => {
    const until = { kind: 'end-of', step: 'release' } as const
    const glued = (id: string) => step(id, { holds: [{ station: 'clamps', units: 4, until }] })
    const bench = benchOf({
      stations: { clamps: 6 },
      steps: [
        [glued('first'), 20],
        [glued('second'), 20],
        [step('release'), 5, wait('first', 60)],
        [step('other'), 100],
      ],
    })
    expect(
      told(
        workEvening(bench, evening, [line('first', 20), line('second', 20), line('other', 100), line('release', 5)]),
      ),
    ).toBe(
      'first started 0, first done 20, other started 20, other done 120, release started 120, release done 125, second started 125, second done 145',
    )
  })

  it('waits for a station that comes free by itself', () => {
    const until = { kind: 'after', over: { minutes: 90, clock: null } } as const
    const held = (id: string) => step(id, { holds: [{ station: 'rack', units: 1, until }] })
    const bench = benchOf({
      stations: { rack: 1 },
      steps: [
        [held('a'), 10],
        [held('b'), 10],
      ],
    })
    expect(told(workEvening(bench, evening, [line('a'), line('b')]))).toBe(
      'a started 0, a done 10, b started 100, b done 110',
    )
  })

  it('pays the remedy of a window that has closed, and counts it', () => {
    // Open from 10 + 30 = 40 for 60 minutes: until 100.
    const second = wait('coat', 30, { openMin: 60, remedyMin: 15 })
    const given: Given = {
      steps: [
        [step('coat'), 10],
        [step('long'), 100],
        [step('next'), 10, second],
      ],
    }
    const late = benchOf(given)
    expect(told(workEvening(late, evening, [line('coat'), line('long', 100), line('next')]))).toBe(
      'coat started 0, coat done 10, long started 10, long done 110, next started 110, next done 135',
    )
    expect(late.missedWindows).toBe(1)
    const inTime = benchOf(given)
    workEvening(inTime, evening, [line('coat'), line('next')])
    expect(inTime.missedWindows).toBe(0)
    expect(inTime.endOf('next')).toBe(50)
  })

  it('holds back what is not to be begun before an instant', () => {
    const bench = benchOf({ steps: [[step('a'), 10]] })
    expect(told(workEvening(bench, evening, [line('a', 10, 70)]))).toBe('a started 70, a done 80')
    const beyond = benchOf({ steps: [[step('a'), 10]] })
    expect(workEvening(beyond, evening, [line('a', 10, 700)])).toEqual([])
  })

  it('does again what failed, and frees and takes its clamps with it', () => {
    const until = { kind: 'end-of', step: 'release' } as const
    const glue = step('glue', { holds: [{ station: 'clamps', units: 1, until }] })
    const bench = benchOf({
      stations: { clamps: 1 },
      steps: [
        [glue, 20],
        [step('release'), 5, wait('glue', 60)],
        [step('next'), 10, wait('release')],
      ],
      mishap: (id, attempt) =>
        id === 'release' && attempt === 1 ? { reason: 'glue-up', step: 'glue', undone: ['glue', 'release'] } : null,
    })
    const list = [line('glue'), line('release'), line('next')]
    expect(told(workEvening(bench, { from: 0, to: 200 }, list))).toBe(
      'glue started 0, glue done 20, release started 80, release done 85, glue failed 85, glue undone 85, release undone 85, ' +
        'glue started 85, glue done 105, release started 165, release done 170, next started 170, next done 180',
    )
  })
})

import { describe, expect, test } from 'vitest'
import type { StepAction, StepEntry } from '../../../core/book/book.ts'
import { hoursLogged, hoursOfBook } from '../../../core/book/hours-logged.ts'

let ids = 0
const entry = (stepId: string, atMin: number, kind: 'started' | 'paused' | 'done'): StepEntry => ({
  ...{ id: ++ids, stepId, atMin, makerId: null },
  action: { kind } satisfies StepAction,
})
const LATER = 100 * 60

describe('the hours that were logged', () => {
  test('are the stretches from start to pause and to done', () => {
    const log = [
      entry('a', 600, 'started'),
      entry('a', 640, 'paused'),
      entry('a', 700, 'started'),
      entry('a', 730, 'done'),
    ]
    expect(hoursLogged(log, LATER).stretches).toEqual([
      { from: 600, to: 640 },
      { from: 700, to: 730 },
    ])
  })

  test('are counted once where two work at the same time', () => {
    const log = [
      entry('a', 600, 'started'),
      entry('b', 620, 'started'),
      entry('a', 660, 'done'),
      entry('b', 690, 'done'),
    ]
    expect(hoursLogged(log, LATER).stretches).toEqual([{ from: 600, to: 690 }])
  })

  test('go on until the end of the present hour while somebody works', () => {
    const log = [entry('a', 605, 'started')]
    expect(hoursLogged(log, 610)).toEqual({ stretches: [{ from: 605, to: 660 }], until: 660 })
    expect(hoursLogged(log, 659)).toEqual(hoursLogged(log, 610))
  })

  test('are nothing where a press was forgotten or only Done was pressed', () => {
    const log = [entry('a', 600, 'started'), entry('a', 600 + 12 * 60, 'done'), entry('b', 700, 'done')]
    expect(hoursLogged(log, LATER).stretches).toEqual([])
  })

  test('of a book are those of its orders and of the closed ones together, in each hour anew', () => {
    const log = [entry('a', 600, 'started'), entry('a', 640, 'done'), entry('b', 700, 'started')]
    const lately = [entry('c', 630, 'started'), entry('c', 650, 'paused'), entry('d', 710, 'started')]
    for (const now of [720, 725, 790, 720])
      expect(hoursOfBook({ log, lately }, now)).toEqual(hoursLogged([...log, ...lately], now))
    expect(hoursOfBook({ log, lately }, 720).stretches).toEqual([
      { from: 600, to: 650 },
      { from: 700, to: 780 },
    ])
    expect(hoursOfBook({ log }, 720)).toEqual(hoursLogged(log, 720))
  })
})

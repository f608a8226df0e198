import { describe, expect, it } from 'vitest'
import { LUMBER_AS_COUNTED, lumberAhead, nextBuyingDay, type Lumber, type OnHand } from '../../../core/book/lumber.ts'
import { isoWeekday } from '../../../core/time/local-day.ts'

const saturday = 6
const habits = { buyingDay: saturday, restDays: 7 } as const
// A Monday; the Saturdays are 2026-12-05 and 2026-12-12.
const taken = { takenOn: '2026-11-30', today: '2026-11-30', habits } as const

const ahead = (said: Partial<Lumber>, onHand: OnHand, at: { takenOn?: string; today?: string } = {}) =>
  lumberAhead({ ...LUMBER_AS_COUNTED, ...said }, onHand, { ...taken, ...at })

describe('the wood of an order', () => {
  it('that is short is bought on the next buying day and cut when it has rested', () => {
    expect(ahead({}, 'short')).toEqual({
      ...{ kind: 'coming', from: 'yard', on: '2026-12-05', cutFrom: '2026-12-12', overdue: false },
    })
  })

  it('still counts on the trip on the buying day itself, but not on the day the order is taken', () => {
    expect(ahead({}, 'short', { today: '2026-12-05' })).toMatchObject({ on: '2026-12-05', overdue: false })
    expect(ahead({}, 'short', { takenOn: '2026-12-05', today: '2026-12-05' })).toMatchObject({
      on: '2026-12-12',
    })
    expect(ahead({}, 'short', { today: '2026-12-06' })).toMatchObject({ on: '2026-12-12' })
  })

  it('that is there is ready, unless its boards still rest', () => {
    expect(ahead({}, 'enough')).toEqual({ kind: 'ready' })
    expect(ahead({}, { restingSince: '2026-11-28' })).toEqual({
      ...{ kind: 'resting', since: '2026-11-28', cutFrom: '2026-12-05' },
    })
    expect(ahead({}, { restingSince: '2026-11-20' })).toEqual({ kind: 'ready' })
  })

  it('goes by what was said of the order before what was counted', () => {
    expect(ahead({ from: 'shop' }, 'short')).toEqual({ kind: 'ready' })
    expect(ahead({ from: 'yard' }, 'enough')).toMatchObject({ kind: 'coming', on: '2026-12-05' })
    expect(ahead({ from: 'customer', expectedOn: '2026-12-09' }, 'enough')).toMatchObject({
      ...{ kind: 'coming', from: 'customer', on: '2026-12-09', cutFrom: '2026-12-16' },
    })
    expect(ahead({ from: 'customer' }, 'enough')).toEqual({ kind: 'unknown' })
  })

  it('rests from the day it came, until somebody says that it may be cut', () => {
    expect(ahead({ hereOn: '2026-11-28' }, 'short')).toMatchObject({ kind: 'resting', cutFrom: '2026-12-05' })
    expect(ahead({ hereOn: '2026-11-28', rested: true }, 'short')).toEqual({ kind: 'ready' })
  })

  it('that did not come on its day is expected today, and said to be overdue', () => {
    expect(ahead({ from: 'customer', expectedOn: '2026-12-01' }, 'short', { today: '2026-12-03' })).toMatchObject({
      ...{ on: '2026-12-01', cutFrom: '2026-12-10', overdue: true },
    })
  })
})

it('the next buying day is of its weekday, after the day of the order and not before today', () => {
  for (const weekday of [1, 2, 3, 4, 5, 6, 7] as const)
    for (const today of ['2026-11-30', '2026-12-03', '2026-12-06']) {
      const day = nextBuyingDay('2026-11-30', today, weekday)
      expect(isoWeekday(day)).toBe(weekday)
      expect(day > '2026-11-30' && day >= today).toBe(true)
    }
})

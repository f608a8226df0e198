import { expect, test } from 'vitest'
import { readRange } from '../../../core/almanac/read-figures.ts'

const HOUR = 60

test('two figures of a label make a wait the later one and a deadline the sooner one', () => {
  const [wait, deadline] = (['wait', 'deadline'] as const).map((what) => readRange('12 h to 24 h', 'Recoat', what))
  expect(wait).toMatchObject({ ok: true, value: { min: 12 * HOUR, typical: 24 * HOUR, max: 24 * HOUR } })
  expect(deadline).toMatchObject({ ok: true, value: { min: 12 * HOUR, typical: 12 * HOUR, max: 24 * HOUR } })
})

test('of three figures the middle one is planned with, of one it is that', () => {
  for (const what of ['wait', 'deadline'] as const) {
    expect(readRange('1 h, 2 h, 4 h', 'Recoat', what)).toMatchObject({ value: { typical: 2 * HOUR } })
    expect(readRange('3 h', 'Recoat', what)).toMatchObject({ value: { min: 3 * HOUR, max: 3 * HOUR } })
  }
  expect(readRange('4 h, 2 h', 'Recoat', 'wait')).toMatchObject({ ok: false })
})

import { describe, expect, test } from 'vitest'
import { allowedFor, workedUntil } from '../../renderer/bench/worked.ts'

describe('worked minutes', () => {
  test('go on by themselves while the step is in hand', () => {
    expect(workedUntil({ state: 'running', workedMinutes: 12 }, 1000, 1005)).toBe(17)
  })

  test('stand still while it is put down', () => {
    expect(workedUntil({ state: 'paused', workedMinutes: 12 }, 1000, 1005)).toBe(12)
  })

  test('do not run backwards when the clock is set back', () => {
    expect(workedUntil({ state: 'running', workedMinutes: 12 }, 1000, 990)).toBe(12)
  })

  test('are held against the work and the setup together', () => {
    expect(allowedFor({ handsOnMinutes: 25, setUpMinutes: 10 })).toBe(35)
  })
})

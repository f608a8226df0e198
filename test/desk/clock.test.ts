import { expect, test } from 'vitest'
import { settableClock } from '../../desk/clock.ts'

test('a clock that can be set goes on from where it was set', async () => {
  const clock = settableClock(1_000_000)
  expect(clock.nowMs()).toBeGreaterThanOrEqual(1_000_000)
  await new Promise((resolve) => setTimeout(resolve, 30))
  expect(clock.nowMs()).toBeGreaterThanOrEqual(1_000_025)
  clock.setMs(5_000)
  expect(clock.nowMs()).toBeGreaterThanOrEqual(5_000)
  expect(clock.nowMs()).toBeLessThan(900_000)
})

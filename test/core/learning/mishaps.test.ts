import { expect, test } from 'vitest'
import { meanRate, mishapsFrom, PRIOR_MISHAPS } from '../../../core/learning/index.ts'

test('a shop whose glue-ups hold more often than is usual is believed to fail less, one whose boards crack to crack more', () => {
  const none = mishapsFrom({ gluedUp: { held: 0, failed: 0 }, lots: { begun: 0, cracked: 0 } })
  expect(none).toEqual(PRIOR_MISHAPS)
  const shop = mishapsFrom({ gluedUp: { held: 150, failed: 1 }, lots: { begun: 20, cracked: 3 } })
  expect(meanRate(shop.glueUp)).toBeLessThan(meanRate(PRIOR_MISHAPS.glueUp))
  // (1 + 3) of (100 + 20).
  expect(meanRate(shop.crack)).toBeCloseTo(4 / 120, 10)
})

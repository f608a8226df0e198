import { expect, test } from 'vitest'
import { commissionAddress, failedStepAddress, placeOf } from '../../renderer/screens.ts'

test('an address leads to its screen, and one that cannot be read to the Bench', () => {
  expect(placeOf('#/rack')).toEqual({ screen: 'rack' })
  expect(placeOf(commissionAddress('a b/ü'))).toEqual({ screen: 'commission', id: 'a b/ü' })
  expect(placeOf(failedStepAddress('a b', 'glue/up'))).toEqual({
    screen: 'commission',
    id: 'a b',
    failedStepId: 'glue/up',
  })
  expect(placeOf('#/commission/%E0%A4%A')).toEqual({ screen: 'bench' })
  expect(placeOf('#/customers')).toEqual({ screen: 'customers' })
  expect(placeOf('#/nowhere')).toEqual({ screen: 'bench' })
})

import { expect, test } from 'vitest'
import { sayChance, sayChanceShort } from '../../../core/book/chance.ts'

test.for([
  [1, 'nearly certain', 'over 9 in 10'],
  [0.96, 'nearly certain', 'over 9 in 10'],
  [0.94, '9 chances in 10', '9 in 10'],
  [0.49, '4 chances in 10', '4 in 10'],
  [0.08, '1 chance in 10', '1 in 10'],
  [0.02, 'hardly a chance', 'under 1 in 10'],
] as const)('a chance of %d is “%s”, in a narrow place “%s”: nothing is certain', ([chance, long, short]) => {
  expect([sayChance(chance), sayChanceShort(chance)]).toEqual([long, short])
})

import { expect, test } from 'vitest'
import { tallyInWords } from '../../renderer/timber/timber-words.ts'

const typed = (thickness: string, width: string, length: string) => ({ thickness, width, length })

// NHLA rules as explained by AHEC: 6 1/2 in x 8 ft is 4 1/3 square feet, counted as 4.
test('boards as they are typed are told as measured and as billed', () => {
  expect(tallyInWords(typed('4/4', '6 1/2', "8'"), '1')).toBe('Measures 4.3\u00a0bd\u00a0ft, billed as 4 (4/4).')
  expect(tallyInWords(typed('13/16', '6 1/2', "8'"), '3')).toBe('Measures 10.6\u00a0bd\u00a0ft, billed as 12 (4/4).')
})

test('nothing is told until every size can be read', () => {
  for (const [board, count] of [
    [typed('', '6', "8'"), '1'],
    [typed('4/4', 'wide', "8'"), '1'],
    [typed('4/4', '6', '0'), '1'],
    [typed('4/4', '6', "8'"), 'many'],
  ] as const)
    expect(tallyInWords(board, count)).toBe('')
})

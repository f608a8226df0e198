import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isFoundIn } from '../../../core/book/found-in.ts'

const text =
  'Inês Prado, (555) 010-0142, ines@example.org, End-grain board 12" × 16" × 1 1/2", Hard maple, $320.00, no. 104'

describe('everything typed is found', () => {
  test.each([
    ['INES prado'],
    ['16x12'],
    ['12 x 16 maple'],
    ['16" maple'],
    ['1 1/2'],
    ['5550100142'],
    ['555-010'],
    ['0142'],
    ['ines@example'],
    ['$320'],
    ['320 board'],
    ['no. 104'],
    [''],
  ])('%s', (sought) => expect(isFoundIn(text, sought)).toBe(true))

  test.each([['walnut'], ['14x12'], ['2 x 16'], ['board cherry'], ['555-0199'], ['20']])(
    'but not what it lacks: %s',
    (sought) => expect(isFoundIn(text, sought)).toBe(false),
  )

  test('any words of a text are found in it, in any order', () => {
    const word = fc.stringMatching(/^[a-z]{1,8}$/)
    fc.assert(
      fc.property(fc.array(word, { minLength: 1 }), (words) => {
        expect(isFoundIn(words.join(' '), words.toReversed().join('  ').toUpperCase())).toBe(true)
      }),
    )
  })
})

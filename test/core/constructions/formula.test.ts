import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FORMULA_WORDS, readFormula } from '../../../core/constructions/own/formula.ts'

const values = new Map([
  ['width', 12],
  ['stave', 1.75],
  ['lid', 1],
  ['nothing', 0],
])
const known = new Set(values.keys())

function valueOf(text: string): number | string {
  const formula = readFormula(text, known)
  if (!formula.ok) return formula.problems[0]?.message ?? ''
  const value = formula.value.evaluate(values)
  return value.ok ? value.value : (value.problems[0]?.message ?? '')
}

describe('formulas', () => {
  test.each([
    ['12', 12],
    ['.5', 0.5],
    ['1 + 2 * 3', 7],
    ['(1 + 2) * 3', 9],
    ['10 - 4 - 3', 3],
    ['12 / 4 / 3', 1],
    ['-2 * -3', 6],
    ['2 - -3', 5],
    ['ceil(width / stave)', 7],
    ['ceil(0.1 + 0.2 - 0.3)', 0],
    ['floor(width / stave)', 6],
    ['round(2.5) + abs(-1)', 4],
    ['min(3, 1, 2) + max(width, 20)', 21],
    ['if(lid, 15, 0)', 15],
    ['if(not lid, 15, 0)', 0],
    ['if(width > 10 and stave <= 2, 1, 2)', 1],
    ['if(nothing > 0, width / nothing, 7)', 7],
    ['width × 2 ≥ 24', 1],
    ['1 = 1 or 0', 1],
    ['3 <> 3', 0],
  ])('%s is %d', (text, value) => expect(valueOf(text)).toBe(value))

  test.each([
    ['', /No formula yet/],
    ['width +', /it ends too early/],
    ['(width', /a bracket is not closed/],
    ['width)', /“\)” does not belong there/],
    ['2 width', /“width” does not belong there/],
    ['depth * 2', /there is no field “depth”; there are width, stave, lid, nothing/],
    ['ceil 3', /after ceil comes a bracket/],
    ['if(1, 2)', /if takes 3 values, not 2/],
    ['ceil()', /does not belong there/],
    ['width; 2', /“;” is not a sign of a formula/],
    ['width / nothing', /gives no number/],
    ['"a"', /is not a sign/],
    ['constructor', /there is no field “constructor”/],
    ['width.constructor', /“[.]” is not a sign|does not belong/],
    [`${'('.repeat(60)}1${')'.repeat(60)}`, /too many brackets/],
    [`${'-'.repeat(200)}1`, /too many brackets/],
    [`1${' + 1'.repeat(200)}`, /at most 300 characters/],
  ])('“%s” is refused in a sentence', (text, message) => {
    expect(valueOf(text)).toMatch(message)
    expect(valueOf(text)).toMatch(/[.?]$/)
  })

  test('says which fields it uses', () => {
    const formula = readFormula('ceil(width / stave) + if(lid, 1, 0)', known)
    expect(formula.ok ? [...formula.value.names] : []).toEqual(['width', 'stave', 'lid'])
    expect(FORMULA_WORDS.has('if')).toBe(true)
  })

  test('is never anything but a number or a refusal, whatever is typed', () => {
    const pieces = fc.constantFrom(
      '1',
      '2.5',
      'width',
      'nothing',
      '+',
      '-',
      '*',
      '/',
      '(',
      ')',
      ',',
      'if',
      'min',
      'not',
      'and',
      '<',
      '=',
      ' ',
      '$',
      '[',
      "'",
    )
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 25 }), (typed) => {
        const value = valueOf(typed.join(' '))
        expect(typeof value === 'string' ? value.length > 0 : Number.isFinite(value)).toBe(true)
      }),
      { numRuns: 500 },
    )
  })

  // Backup contact: reckon the same tree while it is written.
  test('brackets and ranks of signs give what arithmetic gives', () => {
    type Written = { text: string; value: number }
    const { tree } = fc.letrec<{ tree: Written; leaf: Written; pair: Written }>((tie) => ({
      leaf: fc.integer({ min: 0, max: 99 }).map((value) => ({ text: String(value), value })),
      pair: fc.tuple(tie('tree'), fc.constantFrom('+', '-', '*'), tie('tree')).map(([a, sign, b]) => ({
        text: `(${a.text} ${sign} ${b.text})`,
        value: sign === '+' ? a.value + b.value : sign === '-' ? a.value - b.value : a.value * b.value,
      })),
      tree: fc.oneof({ maxDepth: 4 }, tie('leaf'), tie('pair')),
    }))
    fc.assert(
      fc.property(tree, ({ text, value }) => {
        fc.pre(text.length <= 300)
        // A formula never gives -0.
        expect(valueOf(text)).toBe(value + 0)
      }),
    )
  })
})

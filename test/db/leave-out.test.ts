import fc from 'fast-check'
import { expect, test } from 'vitest'
import { constructions } from '../../core/constructions/constructions.ts'
import { ERASED_NAME, leavingOut, TYPED_IN } from '../../db/leave-out.ts'

test.each([
  ['whatever the case of its letters', 'call ada quist back', 'call Erased back'],
  ['with other spaces', 'Ada  Quist', 'Erased'],
  ['beside punctuation', '“Ada Quist’s board”', '“Erased’s board”'],
  ['not inside another word', 'Ada Quistgard', 'Ada Quistgard'],
  ['a number as typed', 'ring 555-0100, not 555-01001', 'ring Erased, not 555-01001'],
  ['signs that mean something in patterns', 'a+b@example.org?', 'Erased?'],
])('a phrase is found %s', (_, text, without) => {
  expect(leavingOut(['Ada Quist', '555-0100', 'a+b@example.org']).text(text)).toBe(without)
})

test('in data only what was typed is changed: names of fields and the program’s own words stay', () => {
  const { value } = leavingOut(['Cherry'])
  expect(value({ Cherry: 'for Cherry', wood: 'cherry', rows: ['Cherry', 3, null, true] })).toEqual({
    Cherry: 'for Erased',
    wood: 'cherry',
    rows: ['Erased', 3, null, true],
  })
})

test('a name typed as one word in small letters goes wherever somebody typed it, and stays where the program wrote it', () => {
  const { value } = leavingOut(['ada'])
  expect(
    value({
      ...{ title: 'ada', wood: 'ada', engraving: { by: 'shop', says: 'ada' }, inlay: { wood: 'cherry', shows: 'Ada' } },
      ...{ rows: [{ name: 'ada', kind: 'coat' }], texts: [{ heading: 'ada', text: 'for ada' }] },
    }),
  ).toEqual({
    ...{ title: 'Erased', wood: 'ada', engraving: { by: 'shop', says: 'Erased' } },
    ...{ inlay: { wood: 'cherry', shows: 'Erased' }, rows: [{ name: 'Erased', kind: 'coat' }] },
    texts: [{ heading: 'Erased', text: 'for Erased' }],
  })
})

/** Numbers, durations and patterns as typed: nobody's name stands there. */
const FIGURES = new Set(['minutes', 'wait', 'atMost', 'after', 'cells'])

test('every field of a construction in which words are typed is known as one', () => {
  const fields = constructions.flatMap((construction) => construction.fields)
  const columns = fields.flatMap((field) => (field.kind === 'rows' ? field.columns : []))
  const typed = [...fields, ...columns].filter(({ kind, key }) => kind === 'text' && !FIGURES.has(key))
  expect(typed.length).toBeGreaterThan(3)
  expect(typed.map(({ key }) => key).filter((key) => !TYPED_IN.has(key))).toEqual([])
})

test('nothing to leave out, or only what is too short to mean one person, changes nothing', () => {
  expect(leavingOut(['', ' ', 'Bo']).text('Bo and the boards')).toBe('Bo and the boards')
})

test('property: once left out it is in no text any more, however it is put together', () => {
  const phrase = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9 .+@'-]{1,20}[A-Za-z0-9]$/)
  fc.assert(
    fc.property(fc.array(phrase, { minLength: 1, maxLength: 4 }), fc.array(fc.string()), (phrases, between) => {
      fc.pre(!phrases.some((each) => leavingOut([each]).isIn(ERASED_NAME)))
      const out = leavingOut(phrases)
      const text = phrases.flatMap((each, at) => [between[at] ?? '', ` ${each} `]).join(' ')
      expect(out.isIn(out.text(text))).toBe(false)
    }),
  )
})

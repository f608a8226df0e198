import { expect, test } from 'vitest'
import { forMaker, makerIs } from '../../../core/planning/problem/maker-words.ts'

const [me, wren] = ['Me', 'Wren'].map((name) => ({ id: name, name, hours: [] })) as [
  { id: string; name: string; hours: [] },
  { id: string; name: string; hours: [] },
]

test('who works alone is not named: nobody reads "no shop time for Me"', () => {
  expect(forMaker(me, [me])).toBe('')
  expect(forMaker(wren, [wren])).toBe('')
})

test('of several people each is named, and who has no name yet is spoken to', () => {
  expect(forMaker(wren, [me, wren])).toBe(' for Wren')
  expect(forMaker(me, [me, wren])).toBe(' for you')
  expect(makerIs(wren)).toBe('Wren is')
  expect(makerIs(me)).toBe('you’re')
})

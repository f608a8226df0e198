import { describe, expect, test } from 'vitest'
import { LONG_TEXTS, LONG_UNDER_FIELDS } from './long-texts.ts'
import { BRITISH, OUT, UNITS_OUT } from './words-that-are-out.ts'
import { textsOfSource, textsUnderFields, type Said } from './texts-of-source.ts'

/** Published figures are written down as their sources spell them. */
const TRANSCRIBED = /^core\/waits\/[a-z-]*figures\.ts$/
const texts = textsOfSource().filter(({ file }) => !TRANSCRIBED.test(file))
const where = ({ file, line, text }: Said): string => `${file}:${line} ${text}`
const saying = (form: RegExp): readonly string[] => texts.filter(({ text }) => form.test(text)).map(where)

test('texts of every folder that speaks are read', () => {
  for (const folder of ['core', 'db', 'desk', 'electron', 'renderer']) {
    expect(
      texts.some(({ file }) => file.startsWith(`${folder}/`)),
      folder,
    ).toBe(true)
  }
  const read = texts.map(({ text }) => text)
  expect(read).toContain('New order')
  expect(read).toContain('Clamps can come off')
  expect(read).toContain('Who is it for? Type a name.')
})

describe('no text says', () => {
  test.each(OUT.map(({ out, better }) => [out, better] as const))('%s', (out) => expect(saying(out)).toEqual([]))
})

describe('no text is spelled', () => {
  test.each(BRITISH)('%s', (form) => expect(saying(form)).toEqual([]))
})

describe('no text that is not a citation writes a measure as', () => {
  /** Tables and citations keep the units of their sources. */
  const cited = /^core\/(wood|waits|cautions|glue)\//
  const both = /°C or|°F or/
  const own = texts.filter(({ file, text }) => !cited.test(file) && !both.test(text))
  test.each(UNITS_OUT.map(({ out, better }) => [out, better] as const))('%s', (out) =>
    expect(own.filter(({ text }) => out.test(text)).map(where)).toEqual([]),
  )
})

describe('no text is longer than it needs to be', () => {
  const MOST_WORDS = 15
  const MOST_CHARACTERS_UNDER_A_FIELD = 60
  const wordsOf = (text: string): number => text.split(/[\s…]+/).filter((word) => /[A-Za-z]/.test(word)).length
  const long = texts.flatMap((said) =>
    said.text
      .split(/(?<=[.!?:])\s+/)
      .filter((sentence) => wordsOf(sentence) > MOST_WORDS)
      .map((text) => ({ ...said, text })),
  )

  test('no sentence has more than 15 words without a reason', () => {
    const excused = (file: string): boolean => LONG_TEXTS.some((entry) => entry.file.test(file))
    expect(long.filter(({ file }) => !excused(file)).map(where)).toEqual([])
  })

  test.each(LONG_TEXTS)('those of $file are no more than $most', ({ file, most }) => {
    const found = long.filter((said) => file.test(said.file)).map(where)
    expect(found.length, found.join('\n')).toBeLessThanOrEqual(most)
    expect(found.length, 'an exception that nothing needs').toBeGreaterThan(0)
  })

  test('what stands under a field says in 60 characters what to type', () => {
    const messages = textsUnderFields()
    expect(messages.length).toBeGreaterThan(100)
    const long = messages.filter(({ text }) => text.length > MOST_CHARACTERS_UNDER_A_FIELD)
    const excused = (file: string): boolean => LONG_UNDER_FIELDS.some((entry) => entry.file.test(file))
    expect(long.filter(({ file }) => !excused(file)).map(where)).toEqual([])
  })
})

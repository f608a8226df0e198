import { describe, expect, test } from 'vitest'
import { BRITISH, OUT, UNITS_OUT } from './words-that-are-out.ts'
import { textsOfSource, type Said } from './texts-of-source.ts'

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

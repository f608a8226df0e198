import { describe, expect, test } from 'vitest'
import { CHANGED } from './changed-texts.ts'
import { textsOfSource } from './texts-of-source.ts'

/** Published figures are written down as their sources spell them. */
const TRANSCRIBED = /^core\/waits\/[a-z-]*figures\.ts$/
const texts = textsOfSource().filter(({ file }) => !TRANSCRIBED.test(file))

describe('the text that was chosen stands in the program', () => {
  test.each(CHANGED.map(({ now }) => now))('%s', (now) => {
    expect(texts.some(({ text }) => now.test(text))).toBe(true)
  })
})

describe('the text that was given up stands nowhere', () => {
  test.each(CHANGED.flatMap(({ was }) => was ?? []))('%s', (was) => {
    expect(texts.filter(({ text }) => was.test(text)).map(({ file, line, text }) => `${file}:${line} ${text}`)).toEqual(
      [],
    )
  })
})

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { howItReckons } from '../../renderer/almanac/how-it-reckons.ts'

test('the page “How it reckons” and the README’s table of sources say the same', () => {
  const readme = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8')
  const [, table = ''] = readme.split(/^\| what .*\n\| -.*\n/m)
  const rows = /^(\|.*\n)+/.exec(table)?.[0].trim().split('\n') ?? []
  const inReadme = rows.map((row) =>
    row
      .slice(1, -1)
      .split('|')
      .map((cell) => cell.trim().replaceAll(/[`_]/g, '')),
  )
  expect(inReadme.length).toBeGreaterThan(5)
  expect(howItReckons.map(({ what, how, source }) => [what, how, source])).toEqual(inReadme)
})

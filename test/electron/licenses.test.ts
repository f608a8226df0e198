import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { BUNDLED, licensesText } from '../../commands/licenses.ts'

const project = join(import.meta.dirname, '../..')

/** Names of the packages that the app's own sources import. */
function imported(): Set<string> {
  const names = new Set<string>()
  for (const file of globSync('{core,db,desk,electron,migrations,renderer}/**/*.{ts,svelte,css}', { cwd: project })) {
    const source = readFileSync(join(project, file), 'utf8')
    for (const [, from = ''] of source.matchAll(/(?:from |import\(?|@import )'([^'.][^']*)'/g)) {
      const name = from.startsWith('@') ? from.split('/').slice(0, 2).join('/') : from.split('/')[0]
      if (name !== undefined && !from.startsWith('node:') && name !== 'electron') names.add(name)
    }
  }
  return names
}

test('every library that the app imports has its license in About', () => {
  const names = imported()
  expect(names.size).toBeGreaterThan(5)
  expect([...names].filter((name) => !BUNDLED.some((known) => known === name))).toEqual([])
})

test('each license is there with its text', () => {
  const text = licensesText()
  for (const name of BUNDLED) expect(text).toContain(`\n${name} `)
  expect(
    text.match(/permission notice|Permission is hereby|SIL OPEN FONT|Apache License/gi)?.length,
  ).toBeGreaterThanOrEqual(BUNDLED.length)
})

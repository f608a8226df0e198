import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'

const root = join(import.meta.dirname, '../..')
const FOLDERS = ['commands', 'core', 'db', 'desk', 'electron', 'renderer']
const EXPORTED =
  /^export (?:default )?(?:async )?(?:abstract )?(?:function\*?|const|let|class|interface|type|enum) +(\w+)/gm

const sources = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.(ts|svelte)$/.test(file))
    .map((file) => join(folder, file)),
)

test('no two files export the same name for different things', () => {
  const filesOf = new Map<string, Set<string>>()
  for (const file of sources) {
    for (const [, name] of readFileSync(join(root, file), 'utf8').matchAll(EXPORTED)) {
      filesOf.set(name!, (filesOf.get(name!) ?? new Set()).add(file))
    }
  }
  expect(filesOf.size).toBeGreaterThan(1000)
  const twice = [...filesOf].filter(([, files]) => files.size > 1)
  expect(twice.map(([name, files]) => `${name}: ${[...files].join(', ')}`)).toEqual([])
})

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, inject } from 'vitest'
import program from '../../package.json' with { type: 'json' }
import { test } from '../support/app.ts'

test('the window’s tests say which Electron they ran on, which is the pinned one wherever that can be had', async ({
  openWindow,
}) => {
  const { electron } = await openWindow()
  const version = await electron.evaluate(() => process.versions['electron'])
  const pinned = program.devDependencies.electron
  const shell = inject('shell')
  if (shell.kind !== 'window') throw new Error('Only the project "shell" opens windows.')
  console.log(
    `The window’s tests run on Electron ${version}; package.json pins ${pinned}` +
      (shell.isPinnedThere ? '.' : ', which cannot be downloaded here.'),
  )
  if (shell.isPinnedThere) expect(version).toBe(pinned)
  // Older than the one out of the registry, which the code is written for as well, is none.
  else expect(readFileSync(join(import.meta.dirname, 'runtime/prepare'), 'utf8')).toContain(`Electron ${version}`)
})

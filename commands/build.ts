import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { licensesText } from './licenses.ts'
import { projectFolder, runProgram } from './run-program.ts'

const sources = [
  'core',
  'db',
  'desk',
  'electron',
  'migrations',
  'renderer',
  'electron.vite.config.ts',
  'package-lock.json',
]

/**
 * Builds main process, preload script and pages into `out/` when a source has changed since the last build.
 * @returns whether there is a build of these sources now
 */
export async function buildIfStale(): Promise<boolean> {
  const stamp = join(projectFolder, 'out/built-from')
  const print = fingerprint()
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === print) return true
  rmSync(stamp, { force: true })
  const { code } = await runProgram('electron-vite/bin/electron-vite.js', ['build', '--logLevel', 'warn'])
  if (code === 0) {
    writeFileSync(join(projectFolder, 'out/renderer/licenses.txt'), licensesText())
    writeFileSync(stamp, print)
  }
  return code === 0
}

/** Changes with every file that is written, added or removed. */
function fingerprint(): string {
  const hash = createHash('sha256')
  for (const source of sources) {
    const path = join(projectFolder, source)
    if (!existsSync(path)) continue
    const files = statSync(path).isDirectory() ? readdirSync(path, { recursive: true, encoding: 'utf8' }).sort() : ['']
    for (const file of files) {
      const { mtimeMs, size } = statSync(join(path, file))
      hash.update(`${source}/${file} ${mtimeMs} ${size}\n`)
    }
  }
  return hash.digest('hex')
}

import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { pathToFileURL } from 'node:url'
import { buildIfStale } from '../commands/build.ts'
import { sandboxSwitch } from '../commands/electron.ts'
import { projectFolder } from '../commands/run-program.ts'
import { openDisplay } from '../test/support/display.ts'
import { findElectron } from '../test/support/electron-program.ts'
import { fillBook } from './large-book.ts'

// How long after its program was started the app shows its first heading, and what memory it takes 8 s later, beside a bare
// Electron window: by turns in one run, each with its own median.
//   npm run --silent bench:start -- 7
const times = Number(process.argv[2] ?? 7)

const electron = await findElectron()
const display = await openDisplay()
if (!electron.there || !display.there) throw new Error('There is no Electron, or no display for it.')
if (!(await buildIfStale())) process.exit(1)
const { program, env } = electron.value
const displayEnv = display.value.env

const folders = mkdtempSync(join(tmpdir(), 'start-'))
const folder = (name: string): string => join(folders, name)
await fillBook(folder('of 200 orders'), 200, Math.floor(Date.now() / 60_000) * 60_000)

const kinds: readonly { readonly name: string; readonly arguments: readonly string[] | null }[] = [
  { name: 'bare window', arguments: null },
  { name: 'new shop', arguments: [`--data=${folder('new')}`] },
  { name: 'demo shop', arguments: [`--data=${folder('demo')}`, '--demo'] },
  { name: '200 orders', arguments: [`--data=${folder('of 200 orders')}`] },
]

try {
  // The first start of each makes its files.
  const measured = new Map<string, Start[]>()
  for (let time = -1; time < times; time++) {
    for (const { name, arguments: given } of kinds) {
      const start = await startOnce(given)
      if (time >= 0) measured.set(name, [...(measured.get(name) ?? []), start])
    }
  }
  report(measured)
} finally {
  display.value.close()
  rmSync(folders, { recursive: true })
}

interface Start {
  readonly headingMs: number
  readonly memoryMb: number
}

async function startOnce(given: readonly string[] | null): Promise<Start> {
  const bare = folder('bare')
  const own = given === null ? [`--user-data-dir=${bare}`] : [...given, '--tray=never']
  const began = Date.now()
  const child = spawn(program, [...sandboxSwitch(), join(import.meta.dirname, 'start'), ...own], {
    env: {
      ...process.env,
      ...env,
      ...displayEnv,
      ...(given === null ? {} : { START_MAIN: pathToFileURL(join(projectFolder, 'out/main/index.js')).href }),
    },
    stdio: ['ignore', 'pipe', process.argv.includes('--explain') ? 'inherit' : 'ignore'],
  })
  const over = once(child, 'exit')
  let headingMs = NaN
  let memoryMb = NaN
  for await (const line of createInterface({ input: child.stdout })) {
    if (!line.startsWith('{')) continue
    const said = JSON.parse(line) as { headingAt?: number; memoryKb?: number }
    if (said.headingAt !== undefined) headingMs = said.headingAt - began
    if (said.memoryKb === undefined) continue
    memoryMb = said.memoryKb / 1024
    child.kill('SIGTERM')
  }
  await over
  return { headingMs, memoryMb }
}

function report(measured: ReadonlyMap<string, readonly Start[]>): void {
  const figure = (name: string, of: keyof Start): number => median((measured.get(name) ?? []).map((one) => one[of]))
  const bare = { headingMs: figure('bare window', 'headingMs'), memoryMb: figure('bare window', 'memoryMb') }
  console.log(`${times} starts of each, by turns; medians`)
  console.log(
    ''.padEnd(14),
    'first heading'.padStart(16),
    'times bare'.padStart(11),
    'memory'.padStart(10),
    'times bare'.padStart(11),
  )
  for (const name of measured.keys()) {
    const [heading, memory] = [figure(name, 'headingMs'), figure(name, 'memoryMb')]
    console.log(
      name.padEnd(14),
      `${heading.toFixed(0)} ms`.padStart(16),
      (heading / bare.headingMs).toFixed(2).padStart(11),
      `${memory.toFixed(0)} MB`.padStart(10),
      (memory / bare.memoryMb).toFixed(2).padStart(11),
    )
  }
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN
}

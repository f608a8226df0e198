import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import { sandboxSwitch } from '../commands/electron.ts'
import { projectFolder } from '../commands/run-program.ts'
import { fillBook } from './large-book.ts'
import { windowToMeasure } from './window-to-measure.ts'

// How long after its program was started the app shows its first heading and the Bench's content, and what memory it takes 8 s
// later, beside a bare Electron window: by turns in one run, each with its own median. With `--before` a second build is measured
// in the same turns: a folder like `out/` that lies within the project.
//   npm run --silent bench:start -- 7 [--before FOLDER]
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { before: { type: 'string' }, explain: { type: 'boolean' } },
})
const times = Number(positionals[0] ?? 7)

const { program, env, closeDisplay } = await windowToMeasure()

const folders = mkdtempSync(join(tmpdir(), 'start-'))
const folder = (name: string): string => join(folders, name)
await fillBook(folder('of 200 orders'), 200, Math.floor(Date.now() / 60_000) * 60_000)

interface Kind {
  readonly name: string
  /** The build that is started; null: a bare window. */
  readonly build: string | null
  readonly arguments: readonly string[]
}

const shops = [
  { name: 'new shop', arguments: [`--data=${folder('new')}`] },
  { name: 'demo shop', arguments: [`--data=${folder('demo')}`, '--demo'] },
  { name: '200 orders', arguments: [`--data=${folder('of 200 orders')}`] },
]
const builds = [
  { build: 'out', note: '' },
  ...(values.before === undefined ? [] : [{ build: values.before, note: ', before' }]),
]
const kinds: readonly Kind[] = [
  { name: 'bare window', build: null, arguments: [`--user-data-dir=${folder('bare')}`] },
  ...shops.flatMap((shop) =>
    builds.map(({ build, note }) => ({
      name: shop.name + note,
      build,
      arguments: [...shop.arguments, '--tray=never'],
    })),
  ),
]

try {
  // The first start of each makes its files.
  const measured = new Map<string, Start[]>()
  for (let time = -1; time < times; time++) {
    for (const kind of kinds) {
      const start = await startOnce(kind)
      if (time >= 0) measured.set(kind.name, [...(measured.get(kind.name) ?? []), start])
    }
  }
  report(measured)
} finally {
  closeDisplay()
  rmSync(folders, { recursive: true })
}

interface Start {
  readonly headingMs: number
  /** NaN for a bare window, which has nothing but its heading. */
  readonly contentMs: number
  readonly memoryMb: number
}

async function startOnce({ build, arguments: given }: Kind): Promise<Start> {
  const began = Date.now()
  const main = build === null ? {} : { START_MAIN: pathToFileURL(join(projectFolder, build, 'main/index.js')).href }
  const child = spawn(program, [...sandboxSwitch(), join(import.meta.dirname, 'start'), ...given], {
    env: { ...process.env, ...env, ...main },
    stdio: ['ignore', 'pipe', values.explain ? 'inherit' : 'ignore'],
  })
  const over = once(child, 'exit')
  let [headingMs, contentMs, memoryMb] = [NaN, NaN, NaN]
  for await (const line of createInterface({ input: child.stdout })) {
    if (!line.startsWith('{')) continue
    const said = JSON.parse(line) as { headingAt?: number; contentAt?: number; memoryKb?: number }
    if (said.headingAt !== undefined) headingMs = said.headingAt - began
    if (said.contentAt !== undefined) contentMs = said.contentAt - began
    if (said.memoryKb === undefined) continue
    memoryMb = said.memoryKb / 1024
    child.kill('SIGTERM')
  }
  await over
  return { headingMs, contentMs, memoryMb }
}

function report(measured: ReadonlyMap<string, readonly Start[]>): void {
  const figure = (name: string, of: keyof Start): number => median((measured.get(name) ?? []).map((one) => one[of]))
  const bare = { headingMs: figure('bare window', 'headingMs'), memoryMb: figure('bare window', 'memoryMb') }
  console.log(`${times} starts of each, by turns; medians`)
  const head = ['heading', 'times bare', 'content', 'times bare', 'memory', 'times bare']
  console.log(''.padEnd(20), ...head.map((word) => word.padStart(10)))
  for (const name of measured.keys()) {
    const [heading, content, memory] = [figure(name, 'headingMs'), figure(name, 'contentMs'), figure(name, 'memoryMb')]
    const cells = [
      `${heading.toFixed(0)} ms`,
      (heading / bare.headingMs).toFixed(2),
      Number.isNaN(content) ? '' : `${content.toFixed(0)} ms`,
      Number.isNaN(content) ? '' : (content / bare.headingMs).toFixed(2),
      `${memory.toFixed(0)} MB`,
      (memory / bare.memoryMb).toFixed(2),
    ]
    console.log(name.padEnd(20), ...cells.map((cell) => cell.padStart(10)))
  }
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN
}

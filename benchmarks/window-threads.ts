import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type ElectronApplication, type Page } from 'playwright-core'
import { projectFolder } from '../commands/run-program.ts'
import { startArguments, startEnvironment, usualInstant } from '../test/support/browser-mode.ts'
import { launchHeldBack } from '../test/support/launch-held-back.ts'
import { deskOf } from '../test/support/desk-of-page.ts'
import { fillBook } from './large-book.ts'
import { windowToMeasure } from './window-to-measure.ts'
import { heldUp, type TraceEvent } from './trace.ts'

// How long the page's thread and the thread of Electron's main process are held up while the real window is used, in a
// book of so many commissions.
//   npm run --silent bench:window-threads -- 200
// Chromium's own record of what each thread ran is read: every task, with its time by the wall and by the processor.
const orders = Number(process.argv[2] ?? 200)
const times = Number(process.argv[3] ?? 5)

/** Until nothing that an action began is still under way, in milliseconds. */
const REST_MS = 900

const { program, env, closeDisplay } = await windowToMeasure()
const dataFolder = mkdtempSync(join(tmpdir(), 'window-threads-'))

try {
  await fillBook(dataFolder, orders, Date.parse(usualInstant))
  const args = [projectFolder, ...startArguments({ dataFolder }), '--tray=never']
  const app = await launchHeldBack(program, args, { ...startEnvironment({ dataFolder }), ...env })
  await measure(app)
  await app.close()
} finally {
  closeDisplay()
  rmSync(dataFolder, { recursive: true })
}

async function measure(app: ElectronApplication): Promise<void> {
  const page = await app.firstWindow()
  await page.getByRole('main').waitFor()
  await rest(5 * REST_MS)
  const actions = actionsOn(page)
  const traceFile = await traced(app, async () => {
    for (let time = 0; time < times; time += 1) {
      for (const [name, act] of Object.entries(actions)) {
        await page.evaluate((name) => void performance.mark(`begin ${name}`), name)
        await act()
        await rest(REST_MS)
        await page.evaluate((name) => void performance.mark(`end ${name}`), name)
      }
    }
  })
  const { traceEvents } = JSON.parse(readFileSync(traceFile, 'utf8')) as { traceEvents: TraceEvent[] }
  rmSync(traceFile)
  report(Object.keys(actions), traceEvents)
}

/** What a maker does, from screen to screen by key, and at a counter. */
function actionsOn(page: Page): Readonly<Record<string, () => Promise<void>>> {
  const desk = deskOf(page)
  const press = (key: string) => () => page.keyboard.press(key)
  return {
    'open Bench': press('b'),
    'start a step': async () => {
      await page.evaluate(() =>
        [...document.querySelectorAll('button')].find((one) => /^Start/.test(one.innerText))?.click(),
      )
      await rest(2 * REST_MS)
    },
    'take it back': async () => {
      await press('u')()
      await rest(2 * REST_MS)
    },
    'open Rack': press('r'),
    'open Order book': press('o'),
    'find in the Order book': async () => {
      await page.keyboard.press('/')
      await page.keyboard.type('mer 15', { delay: 120 })
      await page.keyboard.press('Tab')
    },
    'open a Commission': () => page.evaluate(() => document.querySelector<HTMLElement>('tbody a')?.click()),
    'open Weeks ahead': press('w'),
    'twelve weeks': async () => {
      await page.evaluate(() =>
        [...document.querySelectorAll('label')].find((one) => one.innerText === '12 weeks')?.click(),
      )
    },
    'two weeks': async () => {
      await page.evaluate(() =>
        [...document.querySelectorAll('label')].find((one) => one.innerText === '2 weeks')?.click(),
      )
    },
    // In a large book the desk takes seconds over the cutting plan.
    'open Timber': async () => {
      await press('l')()
      await rest(orders * 25)
    },
    'open Almanac': press('a'),
    'open New order': press('n'),
    'type in New order': async () => {
      await page.keyboard.type('Ada Quist, 2 boards 16x12 walnut/maple, by 12 Dec, oil', { delay: 60 })
      await page.keyboard.press('Enter')
      await rest(REST_MS)
      await page.keyboard.type('555-0100', { delay: 120 })
    },
    'discard it': async () => {
      const drafts = await desk.drafts()
      for (const { key } of drafts.ok ? drafts.value : []) await desk.draftDiscard({ key })
      await page.evaluate(() => document.querySelector<HTMLElement>('main')?.focus())
    },
  }
}

/** Records what all threads run while something happens. @returns the record's file */
async function traced(app: ElectronApplication, run: () => Promise<void>): Promise<string> {
  await app.evaluate(({ contentTracing }) =>
    contentTracing.startRecording({
      recording_mode: 'record-as-much-as-possible',
      trace_buffer_size_in_kb: 400_000,
      included_categories: [
        'toplevel',
        'devtools.timeline',
        'disabled-by-default-devtools.timeline',
        'blink.user_timing',
      ],
      excluded_categories: ['*'],
    } as Electron.TraceConfig),
  )
  await run()
  return app.evaluate(({ contentTracing }) => contentTracing.stopRecording())
}

function report(names: readonly string[], events: readonly TraceEvent[]): void {
  console.log(`${orders} commissions, ${times} times; longest task in ms by the processor: median (most)`)
  console.log('and the median by the wall; how many tasks above 16 ms by the processor each time')
  console.log(
    ''.padEnd(24),
    'page'.padStart(16),
    'wall'.padStart(6),
    'above'.padStart(6),
    'main process'.padStart(20),
    'wall'.padStart(6),
  )
  for (const name of names) {
    const each = heldUp(events, name)
    const page = each.map((time) => time.page)
    const main = each.map((time) => time.main)
    console.log(
      name.padEnd(24),
      figures(page.map(({ longestCpuMs }) => longestCpuMs)).padStart(16),
      median(page.map(({ longestMs }) => longestMs))
        .toFixed(0)
        .padStart(6),
      (page.reduce((sum, { aboveFrame }) => sum + aboveFrame, 0) / page.length).toFixed(1).padStart(6),
      figures(main.map(({ longestCpuMs }) => longestCpuMs)).padStart(20),
      median(main.map(({ longestMs }) => longestMs))
        .toFixed(0)
        .padStart(6),
    )
    if (process.argv.includes('--explain')) console.log(page.at(-1)?.longestParts)
  }
}

function figures(values: readonly number[]): string {
  return `${median(values).toFixed(1)} (${Math.max(...values).toFixed(1)})`
}

function rest(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN
}

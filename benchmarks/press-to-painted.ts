import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import { type Page } from 'playwright-core'
import { projectFolder } from '../commands/run-program.ts'
import { startArguments, startEnvironment, usualInstant } from '../test/support/browser-mode.ts'
import { launchHeldBack } from '../test/support/launch-held-back.ts'
import { fillBook } from './large-book.ts'
import { windowToMeasure } from './window-to-measure.ts'

// How long after a press its screen is painted in the real window, in a book of so many orders: until two frames after the screen has
// its heading and text of the desk's below it, or the line that says what a press did; and until its last row stands. Timed in the
// page, from the press as the page hears of it. With `--before` a second build is measured, turn by turn, in a window of its own.
//   npm run --silent bench:press -- 200 20 [--before FOLDER]
const { values, positionals } = parseArgs({ allowPositionals: true, options: { before: { type: 'string' } } })
const orders = Number(positionals[0] ?? 200)
const times = Number(positionals[1] ?? 20)

const { program, env, closeDisplay } = await windowToMeasure()
const folders = mkdtempSync(join(tmpdir(), 'press-to-painted-'))

/** What is pressed: a key, or the first button whose words begin so; and what stands in the page afterwards. */
interface Press {
  readonly name: string
  readonly key?: string
  readonly button?: string
  readonly heading?: string
  readonly says?: string
}

const presses: readonly Press[] = [
  { name: 'open Rack', key: 'r', heading: 'Rack' },
  { name: 'open Order book', key: 'o', heading: 'Order book' },
  { name: 'open Weeks ahead', key: 'w', heading: 'Weeks ahead' },
  { name: 'open Lumber', key: 'l', heading: 'Lumber' },
  { name: 'open Tally', key: 't', heading: 'Tally' },
  { name: 'open Almanac', key: 'a', heading: 'Almanac' },
  { name: 'open New order', key: 'n', heading: 'New order' },
  { name: 'open Bench', key: 'b', heading: 'Bench' },
  { name: 'start a step', button: 'Start', says: 'Started' },
  { name: 'take it back', key: 'u', says: 'Undone' },
]

interface Painted {
  readonly firstMs: number
  readonly lastMs: number
}

const builds = ['out', ...(values.before === undefined ? [] : [values.before])]

try {
  const measured = new Map<string, Painted[]>()
  const windows = []
  const book = join(folders, 'book')
  await fillBook(book, orders, Date.parse(usualInstant))
  for (const build of builds) {
    const dataFolder = join(folders, String(windows.length))
    cpSync(book, dataFolder, { recursive: true })
    const args = [join(import.meta.dirname, 'start'), ...startArguments({ dataFolder }), '--tray=never']
    const app = await launchHeldBack(program, args, {
      ...startEnvironment({ dataFolder }),
      ...env,
      START_MAIN: pathToFileURL(join(projectFolder, build, 'main/index.js')).href,
    })
    const page = await app.firstWindow()
    await page.getByRole('main').getByRole('button').first().waitFor()
    windows.push({ app, page, build })
  }
  // The first time warms up.
  for (let time = -1; time < times; time++) {
    for (const { page, build } of windows) {
      for (const press of presses) {
        const painted = await timePress(page, press)
        const name = build === 'out' ? press.name : `${press.name}, before`
        if (time >= 0) measured.set(name, [...(measured.get(name) ?? []), painted])
      }
    }
  }
  for (const { app } of windows) await app.close()
  report(measured)
} finally {
  closeDisplay()
  rmSync(folders, { recursive: true })
}

/** Presses within the page and waits until nothing comes any more. */
function timePress(page: Page, press: Press): Promise<Painted> {
  return page.evaluate(async ({ key, button, heading, says }) => {
    const main = document.querySelector('main')
    const target = [...document.querySelectorAll('main button')].find((each) =>
      (each as HTMLElement).innerText.startsWith(button ?? '\0'),
    ) as HTMLElement | undefined
    if (main === null || (button !== undefined && target === undefined)) throw new Error('nothing to press')
    const stands = (): boolean =>
      says === undefined
        ? main.querySelector('h1')?.textContent === heading && main.innerText.length > 200
        : [...document.querySelectorAll('[role=status]')].some((each) => each.textContent.trim().startsWith(says))
    const frame = (): Promise<number> => new Promise(requestAnimationFrame)
    const beganAt = performance.now()
    let changedAt = beganAt
    const watch = new MutationObserver(() => (changedAt = performance.now()))
    watch.observe(document.body, { childList: true, subtree: true })
    if (key === undefined) target?.click()
    else document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
    while (!stands()) {
      if (performance.now() - beganAt > 60_000) throw new Error(`not painted: ${heading ?? says}`)
      await new Promise((resolve) => setTimeout(resolve, 2))
    }
    await frame()
    await frame()
    const firstMs = performance.now() - beganAt
    // Until the page has been left alone for a while.
    while (performance.now() - changedAt < 600) await new Promise((resolve) => setTimeout(resolve, 50))
    watch.disconnect()
    return { firstMs, lastMs: Math.max(firstMs, changedAt - beganAt) }
  }, press)
}

function report(measured: ReadonlyMap<string, readonly Painted[]>): void {
  console.log(`${orders} orders, each pressed ${times} times; milliseconds`)
  const head = ['median', '95 in 100', 'last row', '95 in 100']
  console.log(''.padEnd(26), ...head.map((word) => word.padStart(10)))
  for (const [name, each] of measured) {
    const first = each.map(({ firstMs }) => firstMs)
    const last = each.map(({ lastMs }) => lastMs)
    const cells = [share(first, 0.5), share(first, 0.95), share(last, 0.5), share(last, 0.95)]
    console.log(name.padEnd(26), ...cells.map((ms) => ms.toFixed(0).padStart(10)))
  }
}

function share(all: readonly number[], part: number): number {
  return all.toSorted((a, b) => a - b)[Math.ceil(all.length * part) - 1] ?? NaN
}

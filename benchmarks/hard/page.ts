import { chromium, type Locator, type Page } from 'playwright-core'
import { buildIfStale } from '../../commands/build.ts'
import { screens } from '../../renderer/screens.ts'
import { startBrowserMode, usualInstant } from '../../test/support/browser-mode.ts'
import { findBrowser } from '../../test/support/browser-program.ts'
import { share, type Trial } from './trial.ts'

/** What is typed into any field, whatever it is for. */
const TYPED = [
  ...['', ' ', 'mar', 'mar 6', 'fri', 'in 3 weeks', '2026-13-45', '7pm', '25:00', '3h'],
  ...['0', '-3', '12', '1,5', '1e9', '999999', '50%', '$120', '16"', '1/2', '3 1/2', '16x12'],
  ...['2 boards 16x12 walnut/maple, oil, by Dec 12, for Ana Reyes', 'Zoë 😀', '<b>', 'x'.repeat(300)],
]
const KEYS = [
  ...['Escape', 'Enter', 'Tab', 'ArrowDown', 'ArrowUp', 'Home', 'End', 'Control+Enter', 'z', '?'],
  ...screens.map(({ key }) => key.toLowerCase()),
]
/** Whatever can be pressed or typed into: on the screen, in what was said last, and in a dialog. */
const THINGS = [
  'main :is(button, a[href^="#"], input:not([type=file]), select, textarea, summary):visible',
  '[role=status] button:visible',
  'dialog button:visible',
].join(', ')
/** A thing that went away meanwhile is not waited for. */
const SOON = { timeout: 1_000 }

/**
 * Somebody presses and types at random all over a shop of examples, in a browser, before the answers are there: each third call of the desk
 * waits up to two seconds. No script of the page may fail; what was done last is told with what failed.
 */
export const randomPage: Trial = async ({ scale, random, isOver, folder }) => {
  const browser = await findBrowser()
  if (!browser.there) return { runs: 0, said: 'not tried', broken: [browser.why] }
  if (!(await buildIfStale())) return { runs: 0, said: 'not tried', broken: ['the app could not be built'] }
  const launched = await chromium.launch(browser.value)
  const program = await startBrowserMode({ dataFolder: folder, demo: true, clock: usualInstant })
  const broken: string[] = []
  let acts = 0
  let outOfReach = 0
  try {
    const viewport = random() < 0.3 ? { width: 390, height: 844 } : { width: 1280, height: 800 }
    const page = await (await launched.newContext({ viewport, reducedMotion: 'reduce' })).newPage()
    const last: string[] = []
    page.on('pageerror', (error) => broken.push(`${String(error)}, after ${last.slice(-6).join(', ')}`))
    await page.route('**/call', async (route) => {
      if (random() < 1 / 3) await new Promise((later) => setTimeout(later, 2_000 * random()))
      await route.continue().catch(() => undefined)
    })
    await page.goto(program.address)
    await page.getByRole('heading', { level: 1 }).waitFor()
    for (const most = share(2_000, scale); acts < most && !isOver(); acts++)
      // What is covered, switched off or gone by now cannot be pressed by anybody.
      await act(page, random, (what) => last.push(what)).catch(() => (outOfReach += 1))
  } finally {
    await launched.close()
    await program.stop()
  }
  return { runs: acts, said: `random acts on all screens, answers late; ${outOfReach} out of reach by then`, broken }
}

async function act(page: Page, random: () => number, say: (what: string) => void): Promise<void> {
  const pick = <T>(all: readonly T[]): T => all[Math.floor(random() * all.length)]!
  const dice = random()
  if (dice < 0.06) {
    const { address } = pick(screens)
    say(`to ${address}`)
    return page.evaluate((hash) => void (location.hash = hash), address)
  }
  const things = dice < 0.1 ? [] : await page.locator(THINGS).all()
  if (things.length === 0) {
    const key = pick(KEYS)
    say(`key ${key}`)
    return page.keyboard.press(key)
  }
  const thing = pick(things)
  const { name, kind, options } = await thing.evaluate(whatItIs, undefined, SOON)
  if (kind === 'choice') {
    const option = pick(options)
    say(`${name}: chosen ${option}`)
    await thing.selectOption(option, SOON)
  } else if (kind === 'text') await typeInto(thing, pick(TYPED), name, say, random)
  // The dialog of the browser or the system for a file or a printer would stay in the way.
  else if (!/save as|download|print/i.test(name)) {
    say(`pressed ${name}`)
    await thing.click(SOON)
  }
}

async function typeInto(
  field: Locator,
  text: string,
  name: string,
  say: (what: string) => void,
  random: () => number,
): Promise<void> {
  say(`${name}: typed ${text.slice(0, 40)}`)
  await field.fill('', SOON)
  // By keys each letter is a state of its own, half typed.
  if (random() < 0.5) await field.fill(text, SOON)
  else await field.pressSequentially(text.slice(0, 30), { timeout: 3_000 })
  if (random() < 0.3) await field.press('Enter', SOON)
}

function whatItIs(element: HTMLElement | SVGElement): {
  readonly name: string
  readonly kind: 'choice' | 'text' | 'other'
  readonly options: readonly string[]
} {
  const label = element instanceof HTMLInputElement ? element.labels?.[0]?.textContent : null
  const name = (element.getAttribute('aria-label') ?? label ?? element.textContent ?? '').trim().replace(/\s+/g, ' ')
  const isPressed =
    element instanceof HTMLInputElement && ['checkbox', 'radio', 'button', 'submit'].includes(element.type)
  const isText = element instanceof HTMLTextAreaElement || (element instanceof HTMLInputElement && !isPressed)
  const options = element instanceof HTMLSelectElement ? [...element.options].map(({ value }) => value) : []
  const kind = element instanceof HTMLSelectElement ? 'choice' : isText ? 'text' : 'other'
  return { name: name.slice(0, 50), kind, options }
}

import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { chromium, type Page } from 'playwright-core'
import { commissionAddress, screens } from '../renderer/screens.ts'
import { startBrowserMode } from '../test/support/browser-mode.ts'
import { findBrowser } from '../test/support/browser-program.ts'
import { deskOf } from '../test/support/desk-of-page.ts'
import { buildIfStale } from './build.ts'
import { projectFolder } from './run-program.ts'

// Pictures of every screen of the demo shop, into shots/. `npm run shots -- rack` takes those of one screen,
// `--look dark` one of the looks.
const looks = {
  light: { width: 1280, height: 800, colorScheme: 'light' },
  dark: { width: 1280, height: 800, colorScheme: 'dark' },
  large: { width: 1920, height: 1080, colorScheme: 'light' },
  tablet: { width: 820, height: 1180, colorScheme: 'light' },
  phone: { width: 390, height: 844, colorScheme: 'light' },
} as const

/** What a screen says while it still works something out. */
const working = /Working out|working it out|Laying out|Checking/

/** Pages of a screen that have no address of their own: the button that opens each. */
const pages: Readonly<Record<string, { readonly screen: string; readonly press: RegExp }>> = {
  'timber-on-hand': { screen: 'timber', press: /^On hand/ },
  'timber-plan': { screen: 'timber', press: /^Cutting plan/ },
  'timber-to-buy': { screen: 'timber', press: /^To buy/ },
  'almanac-air': { screen: 'almanac', press: /^Heat and humidity/ },
  'almanac-finishes': { screen: 'almanac', press: /^Finishes/ },
  'almanac-yard': { screen: 'almanac', press: /^Lumberyard/ },
  'almanac-prices': { screen: 'almanac', press: /^Prices/ },
  'almanac-papers': { screen: 'almanac', press: /^Papers/ },
  'almanac-your-times': { screen: 'almanac', press: /^Your times/ },
  'almanac-side-by-side': { screen: 'almanac', press: /^Compare/ },
  'almanac-backups': { screen: 'almanac', press: /^Backups/ },
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { look: { type: 'string' }, full: { type: 'boolean' } },
})
const others = ['customers', 'commission', 'constructions', 'construction']
const names = [...screens.map(({ name }) => name), ...Object.keys(pages), ...others]
const wanted = positionals.length === 0 ? names : positionals
const wantedLooks = Object.entries(looks).filter(([look]) => values.look === undefined || values.look === look)
if (wanted.some((name) => !names.includes(name)) || wantedLooks.length === 0) {
  console.error(`The screens are ${names.join(', ')}; the looks ${Object.keys(looks).join(', ')}.`)
  process.exit(1)
}

const browserFound = await findBrowser()
if (!browserFound.there) {
  console.error(`No pictures: ${browserFound.why}.`)
  process.exit(1)
}
if (!(await buildIfStale())) process.exit(1)

const folder = join(projectFolder, 'shots')
mkdirSync(folder, { recursive: true })
const dataFolder = mkdtempSync(join(tmpdir(), 'out-of-clamps-shots-'))
const app = await startBrowserMode({ dataFolder, demo: true, clock: null })
const browser = await chromium.launch(browserFound.value)
try {
  const context = await browser.newContext({ reducedMotion: 'reduce' })
  const page = await context.newPage()
  page.on('console', (message) => {
    if (message.type() === 'error') console.error(`The page complains: ${message.text()}`)
  })
  await page.goto(app.address)
  const start = page.url()
  const addresses = await addressesOf(page)
  for (const [look, { width, height, colorScheme }] of wantedLooks) {
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ colorScheme })
    for (const [name, address] of addresses.filter(([name]) => wanted.includes(name))) {
      // By way of an empty page, so that each screen opens as after a start.
      await page.goto('about:blank')
      await page.goto(`${start}${address}`)
      const press = pages[name]?.press
      if (press !== undefined) await page.getByRole('button', { name: press }).click()
      await settled(page)
      await waysOn(name, page)
      const path = join(folder, `${name}-${look}.png`)
      await page.screenshot({ path, fullPage: values.full ?? false })
      console.log(path)
    }
  }
} finally {
  await browser.close()
  await app.stop()
  rmSync(dataFolder, { recursive: true, force: true })
}

/** What is pressed on a screen before its picture is taken. */
function waysOn(name: string, page: Page): Promise<void> {
  if (name === 'constructions') return openConstructions(page)
  return name === 'construction' ? openConstruction(page) : Promise.resolve()
}

async function openConstructions(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Constructions', exact: true }).click()
  await page.getByRole('button', { name: /^Change: / }).waitFor()
}

async function openConstruction(page: Page): Promise<void> {
  await openConstructions(page)
  await page.getByRole('button', { name: /^Change: / }).click()
  await page.getByText(/^About .* days$/).waitFor()
}

/** Every screen with its address: those of the list, the customers, and one commission. */
async function addressesOf(page: Page): Promise<[string, string][]> {
  const listed = screens.map(({ name, address }): [string, string] => [name, address])
  for (const [name, { screen }] of Object.entries(pages)) {
    const address = screens.find((entry) => entry.name === screen)?.address
    if (address !== undefined) listed.push([name, address])
  }
  const orders = await deskOf(page).orderBook()
  const commission = orders.ok ? orders.value.open[0] : undefined
  const almanac = screens.find(({ name }) => name === 'almanac')?.address ?? ''
  listed.push(['customers', '#/customers'], ['constructions', almanac], ['construction', almanac])
  return commission === undefined ? listed : [...listed, ['commission', commissionAddress(commission.commissionId)]]
}

/** Until nothing is asked any more, the fonts are there, and the picture stands still. */
async function settled(page: Page): Promise<void> {
  await page.getByRole('main').waitFor()
  await page.evaluate(() => document.fonts.ready)
  let before = ''
  for (let tries = 0; tries < 80; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 250))
    const now = await page.evaluate(() => document.body.innerText)
    if (now === before && now !== '' && !working.test(now)) return
    before = now
  }
}

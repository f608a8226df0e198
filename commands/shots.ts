import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
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
const working = /Working out|working it out|Laying out|being laid out|Checking|Earliest finish/

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
/** Screens of a new shop, and what is seen where the file cannot be read. */
const emptyNames = [...screens.map(({ name }) => `empty-${name}`), 'first-start', 'trouble']
const names = [...screens.map(({ name }) => name), ...Object.keys(pages), ...others, ...emptyNames]
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
const browser = await chromium.launch(browserFound.value)
try {
  const empty = wanted.filter((name) => emptyNames.includes(name))
  if (wanted.length > empty.length) await inShop({ demo: true }, async (page) => takeAll(page, await addressesOf(page)))
  if (empty.includes('first-start'))
    await inShop({ demo: false }, (page) => takeAll(page, [['first-start', '#/bench']]))
  if (empty.includes('trouble'))
    await inShop({ demo: false, damaged: true }, (page) => takeAll(page, [['trouble', '#/bench']]))
  if (empty.some((name) => name.startsWith('empty-')))
    await inShop({ demo: false }, async (page) => {
      const put = { papers: null, hours: null, daysOfTen: null, stations: null, heated: null, usual: null, times: null }
      await deskOf(page).firstAnswers(put)
      await takeAll(
        page,
        screens.map(({ name, address }) => [`empty-${name}`, address]),
      )
    })
} finally {
  await browser.close()
}

/** Opens a shop of its own, and puts all of it away afterwards. */
async function inShop(
  { demo, damaged = false }: { readonly demo: boolean; readonly damaged?: boolean },
  run: (page: Page) => Promise<void>,
): Promise<void> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'out-of-clamps-shots-'))
  if (damaged) writeFileSync(join(dataFolder, 'shop.sqlite'), 'not a data file at all '.repeat(400))
  const app = await startBrowserMode({ dataFolder, demo, clock: null })
  const context = await browser.newContext({ reducedMotion: 'reduce' })
  try {
    const page = await context.newPage()
    page.on('console', (message) => {
      if (message.type() === 'error') console.error(`The page complains: ${message.text()}`)
    })
    await page.goto(app.address)
    await run(page)
  } finally {
    await context.close()
    await app.stop()
    rmSync(dataFolder, { recursive: true, force: true })
  }
}

/** Pictures of these screens in every look that is wanted. */
async function takeAll(page: Page, addresses: readonly (readonly [string, string])[]): Promise<void> {
  const start = page.url().replace(/#.*$/, '')
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
  await page.getByRole('heading').first().waitFor()
  await page.evaluate(() => document.fonts.ready)
  let before = ''
  for (let tries = 0; tries < 80; tries += 1) {
    await new Promise((resolve) => setTimeout(resolve, 250))
    const now = await page.evaluate(() => document.body.innerText)
    if (now === before && now !== '' && !working.test(now)) return
    before = now
  }
}

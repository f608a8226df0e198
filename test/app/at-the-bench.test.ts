import type { Browser, BrowserContext, Page } from 'playwright-core'
import { expect, onTestFinished } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { type OpenApp, test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

const phoneSize = { width: 390, height: 844 }

/** Switches the door on at the desk and shows a code, all by its page. */
async function showCode({ page }: OpenApp, name: string, may = 'Look, start and finish steps'): Promise<string> {
  const off = page.getByRole('button', { name: 'Switch on' })
  await off.or(page.getByText('Switched on:')).waitFor()
  if (await off.isVisible()) {
    await page.getByLabel('Network').selectOption('127.0.0.1')
    await off.press('Enter')
  }
  await page.getByLabel('Its name').fill(name)
  await page.getByLabel('It may').selectOption(may)
  await page.getByRole('button', { name: 'Show a code' }).press('Enter')
  await page.getByRole('img', { name: `Code that opens the pairing page for ${name}` }).waitFor()
  const typed = await page.locator('.typed').innerText()
  const address = /https:\S+\d/.exec(await page.locator('p', { hasText: 'Switched on:' }).innerText())?.[0] ?? ''
  return `${address}/#/pair/${typed.replace(' ', '')}`
}

async function aPhone(browser: Browser | undefined): Promise<{ phone: BrowserContext; page: Page }> {
  // Whoever holds the phone has compared the fingerprint and gone on.
  const phone = await browser!.newContext({
    ignoreHTTPSErrors: true,
    viewport: phoneSize,
    hasTouch: true,
    isMobile: true,
  })
  onTestFinished(() => phone.close())
  return { phone, page: await phone.newPage() }
}

async function paired(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await page.getByRole('button', { name: 'Pair' }).click()
  await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor()
}

async function openDevices(app: OpenApp): Promise<void> {
  await goTo(app, '#/almanac')
  await app.page.getByRole('button', { name: 'Phones and tablets' }).press('Enter')
}

test('a phone is paired by the code at the desk and presses there; the desk’s log names it', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  expect(await accessibilityProblems(app.page)).toEqual([])
  const address = await showCode(app, 'Phone')
  expect(await accessibilityProblems(app.page)).toEqual([])
  const { page } = await aPhone(browser)
  await page.goto(address)
  await page.getByRole('heading', { name: 'Pair with the desk' }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await paired(page, address)
  // The code is used up, and shown no more.
  await app.page.getByRole('button', { name: 'Remove Phone' }).waitFor()
  await expect.poll(() => app.page.locator('.typed').count()).toBe(0)

  const screens = page.getByRole('navigation', { name: 'Screens' }).getByRole('link')
  await expect.poll(() => screens.allInnerTexts()).toEqual(['Bench', 'Rack'])
  expect(await accessibilityProblems(page)).toEqual([])
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
  expect(await page.evaluate(() => document.cookie)).toBe('')

  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .click()
  await page.getByText(/^Started: /).waitFor()
  const { history } = valueOf(await app.desk.commission({ id }))
  expect(history[0]?.who).toMatch(/on Phone$/)
})

test('a phone that may only look shows the work and no press that it would be refused', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  await paired(page, await showCode(app, 'Shop wall', 'Look only'))
  await page.getByText('Cut the boards').first().waitFor()
  const presses = page
    .getByRole('main')
    .getByRole('button', { name: /^(Start|Resume|Done|Pause|Already done|Out of|Undo)/ })
  await expect.poll(() => presses.count()).toBe(0)
  const [first] = valueOf(await app.desk.commission({ id })).pieces[0]!.steps
  valueOf(await app.desk.stepStart({ stepId: first!.stepId, anyway: true }))
  await page.getByRole('heading', { name: 'Cut the boards' }).waitFor()
  await expect.poll(() => presses.count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
})

test('presses made without a connection are kept and sent once, in order, when it is back', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { phone, page } = await aPhone(browser)
  await paired(page, await showCode(app, 'Phone'))
  const start = page.getByRole('button', { name: /^Start/ }).first()
  await start.waitFor()
  const before = valueOf(await app.desk.commission({ id })).history.length

  await phone.setOffline(true)
  await start.click()
  await page.getByText('1 press waits').waitFor()
  await page.getByText('Kept on this device.').waitFor()
  expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before)
  await phone.setOffline(false)
  await page.getByText('1 press waits').waitFor({ state: 'detached' })
  const { history } = valueOf(await app.desk.commission({ id }))
  expect(history).toHaveLength(before + 1)
  expect(history[0]).toMatchObject({ text: expect.stringMatching(/^Started/), who: expect.stringMatching(/on Phone$/) })
})

test('an answer that is lost on its way makes no second press', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  await paired(page, await showCode(app, 'Phone'))
  const before = valueOf(await app.desk.commission({ id })).history.length
  let lost = 0
  await page.route('**/call', async (route) => {
    const isPress = route.request().postData()?.includes('stepStart') === true
    if (!isPress || lost > 0) return route.continue()
    lost += 1
    await route.fetch()
    await route.abort('connectionreset')
  })
  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .click()
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
  expect(lost).toBe(1)
  expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before + 1)
})

test('a phone that is removed sees nothing more, and a code that was used pairs nobody', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await openDevices(app)
  const address = await showCode(app, 'Phone')
  const first = await aPhone(browser)
  await paired(first.page, address)
  const second = await aPhone(browser)
  await second.page.goto(address)
  await second.page.getByRole('button', { name: 'Pair' }).click()
  await second.page.getByText('This code does not work.').waitFor()
  await second.page.goto(address.replace(/#.*$/, '#/bench'))
  await second.page.reload()
  await second.page.getByText('This device is not paired any more.').waitFor()

  await app.page.getByRole('button', { name: 'Remove Phone' }).click()
  await app.page.getByRole('button', { name: 'Remove Phone' }).waitFor({ state: 'detached' })
  await first.page.reload()
  await first.page.getByText('This device is not paired any more.').waitFor()
})

test('a phone that may take orders has New order, made for thumbs', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  await paired(page, await showCode(app, 'Tablet', 'Also take orders'))
  await page.getByRole('link', { name: 'New order' }).click()
  await page.getByRole('heading', { name: 'New order' }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
  await page.goto(page.url().replace(/#.*$/, `#/commission/${id}`))
  await page.getByRole('heading', { name: /no\. 1/ }).waitFor()
  await expect.poll(() => page.getByRole('heading', { name: 'Money' }).count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
})

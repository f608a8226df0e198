import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { expect, onTestFinished } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { type OpenApp, test } from '../support/app.ts'
import { PATIENCE_MS } from '../support/patience.ts'
import { goTo, newestDraft, passMinutes, smallDraft, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

const MINUTE_MS = 60_000
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
  phone.setDefaultTimeout(PATIENCE_MS)
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

async function aPairedPhone(
  app: OpenApp,
  browser: Browser | undefined,
  ...code: [name: string, may?: string]
): Promise<{ phone: BrowserContext; page: Page }> {
  await openDevices(app)
  const { phone, page } = await aPhone(browser)
  await paired(page, await showCode(app, ...code))
  return { phone, page }
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

  // It takes back what was pressed on it, not what was done at the desk.
  expect(history).toHaveLength(2)
  await page.goto(page.url().replace(/#.*$/, `#/commission/${id}`))
  await page.getByRole('heading', { name: 'History' }).waitFor()
  await expect
    .poll(() =>
      page
        .getByRole('button', { name: /^Undo/ })
        .evaluateAll((all) => all.map((each) => each.getAttribute('aria-label'))),
    )
    .toEqual(['Undo: Started: cut the boards of Wall shelf'])
})

test('a stream of events that was refused is asked for again: what is pressed at the desk shows on the phone', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  await page.addInitScript(() => {
    const RealSource = EventSource
    let opened = 0
    // The door has no such page, and refuses the first two.
    globalThis.EventSource = class extends RealSource {
      constructor(address: string | URL) {
        opened += 1
        super(opened > 2 ? address : '/no-such-stream')
      }
    }
  })
  await paired(page, await showCode(app, 'Phone'))
  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .waitFor()
  const [first] = valueOf(await app.desk.commission({ id })).pieces[0]!.steps
  valueOf(await app.desk.stepStart({ stepId: first!.stepId, anyway: true }))
  await page.getByRole('button', { name: 'Done: Cut the boards, Wall shelf', exact: true }).waitFor()
})

test('a phone that may only look shows the work and no press that it would be refused', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Shop wall', 'Look only')
  await page.getByText('Cut the boards').first().waitFor()
  // Hours are set at the desk.
  await page.getByText('Shop hours not set yet.').waitFor()
  await expect.poll(() => page.getByRole('link', { name: 'Set them' }).count()).toBe(0)
  const presses = page.getByRole('main').getByRole('button', {
    name: /^(Start|Resume|Done|Pause|Already done|Out of|Undo|Do this on|Change day|Any day|Later|It failed|.* failed)/,
  })
  await expect.poll(() => presses.count()).toBe(0)
  const [first] = valueOf(await app.desk.commission({ id })).pieces[0]!.steps
  valueOf(await app.desk.stepStart({ stepId: first!.stepId, anyway: true }))
  await page.getByRole('heading', { name: 'Cut the boards' }).waitFor()
  await expect.poll(() => presses.count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
  await page.goto(page.url().replace(/#.*$/, `#/commission/${id}`))
  await page.getByRole('heading', { name: 'History' }).waitFor()
  await page.getByText('Started: cut the boards of Wall shelf').waitFor()
  await expect.poll(() => presses.count()).toBe(0)
  await expect.poll(() => page.getByText('Set a day for a step').count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
})

test('a glue-up that fails is said on the phone, where it is seen', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await workOff(app, 2)
  const { page } = await aPairedPhone(app, browser, 'Phone')
  await page.getByRole('button', { name: 'Glue the shelf failed: Wall shelf' }).click()
  const form = page.getByRole('region', { name: 'Glue the shelf failed' })
  await form.getByLabel('What happened').fill('starved joint')
  await form.getByRole('button', { name: 'Make it again' }).click()
  await page
    .getByRole('status')
    .getByText(/^Failed: glue the shelf of Wall shelf/)
    .waitFor()
  const { pieces, history } = valueOf(await app.desk.commission({ id }))
  expect(pieces[0]!.steps.filter(({ lost }) => lost).map(({ name }) => name)).toEqual(['Glue the shelf'])
  expect(history.map(({ text }) => text)).toContainEqual(expect.stringMatching(/^Failed .*starved joint/))
})

test('a failure that is said without a connection is kept, and sent when it is back', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await workOff(app, 2)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  const fails = page.getByRole('button', { name: 'Glue the shelf failed: Wall shelf' })
  await fails.waitFor()
  await phone.setOffline(true)
  await fails.click()
  const form = page.getByRole('region', { name: 'Glue the shelf failed' })
  await form.getByLabel('What happened').fill('starved joint')
  await form.getByRole('button', { name: 'Make it again' }).click()
  await page.getByText('Kept on this device.').waitFor()
  await page.getByText('It failed: Glue the shelf, Wall shelf').waitFor()
  await page.getByText('Glue the shelf failed here. What to make again, the desk says once it hears.').first().waitFor()
  await expect.poll(() => fails.count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
  await phone.setOffline(false)
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
  await page.getByText('failed here').first().waitFor({ state: 'detached' })
  const { pieces, history } = valueOf(await app.desk.commission({ id }))
  expect(pieces[0]!.steps.filter(({ lost }) => lost).map(({ name }) => name)).toEqual(['Glue the shelf'])
  expect(history.filter(({ text }) => /^Failed .*starved joint/.test(text))).toHaveLength(1)
})

test('a phone puts a notice to sleep, and one whose step is done goes by itself', async ({ openApp, browser }) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  const address = await showCode(app, 'Phone')
  // Before it is paired it is refused.
  const listens = page.waitForResponse((response) => response.url().endsWith('/events') && response.ok())
  await paired(page, address)
  await listens
  await workOff(app, 2)
  await passMinutes(app, 4 * 60)
  // An hour from when, the phone knows once its clock is the desk's.
  const hour = new Date(valueOf(await app.desk.shopState()).nowMs).getUTCHours() % 12 || 12
  await expect.poll(() => page.locator('.clock').innerText()).toMatch(new RegExp(`^${hour}:`))
  await page.getByLabel('Later: Clamps can come off').selectOption('In an hour')
  await page.getByText('Clamps can come off').waitFor({ state: 'detached' })
  await passMinutes(app, 90)
  await page.getByLabel('Later: Clamps can come off').waitFor()
  const { canStart } = valueOf(await app.desk.bench({ rows: 24 }))
  valueOf(await app.desk.stepStart({ stepId: canStart[0]!.stepId }))
  await page.getByLabel('Later: Clamps can come off').waitFor({ state: 'detached' })
})

test('what was told while a phone was not there it shows once it is, until it is closed there', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await workOff(app, 2)
  await passMinutes(app, 4 * 60)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  const off = page.getByLabel('Later: Clamps can come off')
  await off.waitFor()
  // Put to sleep there it is told again when it wakes, though the phone was away then.
  await off.selectOption('In an hour')
  await off.waitFor({ state: 'detached' })
  await page.goto('about:blank')
  await passMinutes(app, 70)
  await page.goBack()
  await page.getByRole('button', { name: 'Close: Clamps can come off' }).click()
  await off.waitFor({ state: 'detached' })
  const told = page.waitForResponse((response) => response.request().postData()?.includes('noticesTold') === true)
  await page.reload()
  await told
  await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor()
  await expect.poll(() => off.count()).toBe(0)

  // The connection was away meanwhile.
  const { canStart } = valueOf(await app.desk.bench({ rows: 24 }))
  valueOf(await app.desk.stepStart({ stepId: canStart[0]!.stepId }))
  await passMinutes(app, 10)
  valueOf(await app.desk.stepDone({ stepId: canStart[0]!.stepId }))
  await phone.setOffline(true)
  await workOff(app, 1)
  await passMinutes(app, 13 * 60)
  await phone.setOffline(false)
  await page.getByLabel('Later: Ready for second coat').waitFor()
})

test('presses made without a connection are kept and sent once, in order, each with its own time, when it is back', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { phone, page } = await aPhone(browser)
  await page.clock.install()
  const pass = async (minutes: number): Promise<void> => {
    await page.clock.fastForward(minutes * MINUTE_MS)
    await passMinutes(app, minutes)
  }
  const answered: string[] = []
  page.on('response', (response) => {
    const { name } = (response.request().postDataJSON() ?? {}) as { name?: string }
    if (name?.startsWith('step') === true) answered.push(name)
  })
  await paired(page, await showCode(app, 'Phone'))
  const start = page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true })
  await start.waitFor()
  const before = valueOf(await app.desk.commission({ id })).history.length

  await phone.setOffline(true)
  await start.click()
  await page.getByText('1 press waits for a connection').waitFor()
  await page.getByText('Kept on this device.').waitFor()
  // It is in hand on this phone: what follows can be pressed, the same not again.
  await page.getByText('the desk doesn’t know yet').waitFor()
  await start.waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Pause: Cut the boards, Wall shelf', exact: true }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  // Also for who looked at another screen meanwhile.
  await page.getByRole('link', { name: 'Rack' }).click()
  await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor({ state: 'detached' })
  await page.getByRole('link', { name: 'Bench' }).click()
  await page.getByText('the desk doesn’t know yet').waitFor()
  await pass(25)
  await page.getByText('25 min of about').waitFor()
  await page.getByRole('button', { name: 'Done: Cut the boards, Wall shelf', exact: true }).click()
  await page.getByText('2 presses wait for a connection').waitFor()
  await page.getByText('Done: Cut the boards, Wall shelf', { exact: false }).first().waitFor()
  await page.getByText('the desk doesn’t know yet').waitFor({ state: 'detached' })
  await expect.poll(() => start.count()).toBe(0)
  await pass(15)
  expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before)
  expect(answered).toEqual([])

  await phone.setOffline(false)
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
  await page.getByText(/^\d press/).waitFor({ state: 'detached' })
  await expect.poll(() => answered).toEqual(['stepStart', 'stepDone'])
  const { history } = valueOf(await app.desk.commission({ id }))
  expect(history).toHaveLength(before + 2)
  const [done, started] = history
  expect(started).toMatchObject({
    text: expect.stringMatching(/^Started/),
    who: expect.stringMatching(/on Phone$/),
  })
  expect(done).toMatchObject({ text: expect.stringMatching(/^Done/), who: expect.stringMatching(/on Phone$/) })
  const { nowMs } = valueOf(await app.desk.shopState())
  const minutesAgo = (line: typeof done): number => (nowMs - (line?.atMs ?? 0)) / MINUTE_MS
  // The phone's clock ran on by what the test itself took.
  expect(minutesAgo(done)).toBeGreaterThanOrEqual(15)
  expect(minutesAgo(done)).toBeLessThan(20)
  expect(minutesAgo(started)).toBeGreaterThanOrEqual(40)
  expect(minutesAgo(started)).toBeLessThan(45)
})

test('what a kept Done lets go can be started, and what was pressed is offered nowhere again', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  const before = valueOf(await app.desk.commission({ id })).history.length
  const button = (name: string) => page.getByRole('button', { name: `${name}, Wall shelf`, exact: true })
  await button('Start: Cut the boards').waitFor()
  await phone.setOffline(true)
  await button('Start: Cut the boards').click()
  await button('Done: Cut the boards').click()
  await page.getByText('Free once the desk hears that cut the boards is done.').waitFor()
  await expect.poll(() => page.getByText('Waiting on: cut the boards.').count()).toBe(0)
  await expect
    .poll(() => page.getByRole('button', { name: /: Cut the boards, Wall shelf$/ }).allInnerTexts())
    .toEqual(['Take back'])
  await expect.poll(() => button('Start anyway: Glue the shelf').count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
  await button('Start: Glue the shelf').click()
  await page.getByText('3 presses wait').waitFor()
  await button('Done: Glue the shelf').click()
  await page.getByText('4 presses wait').waitFor()
  await page.getByText('Glue the shelf is done here. How long to wait, the desk says once it hears.').first().waitFor()

  await phone.setOffline(false)
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
  const { history } = valueOf(await app.desk.commission({ id }))
  expect(history.slice(0, history.length - before).map(({ text }) => text.replace(/ of .*/, ''))).toEqual([
    'Done: glue the shelf',
    'Started: glue the shelf',
    'Done: cut the boards',
    'Started: cut the boards',
  ])
  await page.getByText('is done here').first().waitFor({ state: 'detached' })
})

test('what is pressed on the Rack without a connection is said to be kept, and not offered again', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await workOff(app, 2)
  await passMinutes(app, 5 * 60)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  await page.getByRole('link', { name: 'Rack' }).click()
  // The Bench has a button of the same words.
  await page.getByRole('heading', { name: 'Rack', level: 1 }).waitFor()
  const start = page.getByRole('button', {
    name: 'Start: Take off the clamps (Glue the shelf), Wall shelf',
    exact: true,
  })
  await start.waitFor()
  await phone.setOffline(true)
  await start.click()
  await page
    .getByText('Start: Take off the clamps (Glue the shelf), Wall shelf. Kept here, sent when the desk answers.')
    .waitFor()
  await expect.poll(() => start.count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
  await phone.setOffline(false)
  await page.getByText('Kept here').waitFor({ state: 'detached' })
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
})

test('a kept press can be taken back before it is sent, the newest first', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  const before = valueOf(await app.desk.commission({ id })).history.length
  const start = page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true })
  await start.waitFor()
  await phone.setOffline(true)
  await start.click()
  await page.getByText('1 press waits').waitFor()
  await page.getByRole('button', { name: 'Pause: Cut the boards, Wall shelf', exact: true }).click()
  await page.getByText('2 presses wait').waitFor()
  await expect.poll(() => page.getByRole('button', { name: /^Take back/ }).count()).toBe(1)
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByRole('button', { name: 'Take back: Pause: Cut the boards, Wall shelf' }).click()
  await page.getByRole('button', { name: 'Done: Cut the boards, Wall shelf', exact: true }).waitFor()
  await page.getByRole('button', { name: 'Take back: Start: Cut the boards, Wall shelf' }).click()
  await start.waitFor()
  await page.getByText(/^\d press/).waitFor({ state: 'detached' })
  await phone.setOffline(false)
  await start.click()
  await page.getByText(/^Started: /).waitFor()
  expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before + 1)
})

/** Answers presses of Start in the desk's place, with a problem of the newest code, until there is none. */
async function refuseStarts(page: Page, codes: string[]): Promise<{ readonly sent: () => number }> {
  let sent = 0
  await page.route('**/call', (route) => {
    if (route.request().postData()?.includes('stepStart') !== true) return route.continue()
    sent += 1
    const code = codes.length > 1 ? codes.shift() : codes[0]
    if (code === undefined || code === '') return route.continue()
    return route.fulfill({ json: { ok: false, problems: [{ code, message: 'Not now.' }] } })
  })
  return { sent: () => sent }
}

/** Lets a page that is to be opened not hear what the desk tells for a while: it tells of more than what a test does, and when it likes. */
async function keepFromHearing(page: Page): Promise<{ readonly stop: () => Promise<void>; goOn: () => Promise<void> }> {
  await page.addInitScript(() => {
    const RealSource = EventSource
    globalThis.EventSource = class extends RealSource {
      override set onmessage(hear: (message: MessageEvent) => void) {
        super.onmessage = (message) => {
          if (!document.documentElement.hasAttribute('data-deaf')) hear(message)
        }
      }
    }
  })
  const isDeaf = (deaf: boolean) =>
    page.evaluate((deaf) => void document.documentElement.toggleAttribute('data-deaf', deaf), deaf)
  return { stop: () => isDeaf(true), goOn: () => isDeaf(false) }
}

/** Moves the phone's clock, which stands still otherwise, and waits until what was to be sent meanwhile is. */
async function passSeconds(page: Page, seconds: number): Promise<void> {
  await page.clock.runFor(seconds * 1000)
  await page.evaluate(() => navigator.locks.request('presses-waiting', () => undefined))
}

async function holdClock(page: Page): Promise<void> {
  await page.clock.pauseAt((await page.evaluate(() => Date.now())) + 1000)
}

test('a press is kept while the desk cannot write it down, and sent once it can', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  await openDevices(app)
  const { page } = await aPhone(browser)
  const hearing = await keepFromHearing(page)
  await page.clock.install()
  await paired(page, await showCode(app, 'Phone'))
  const before = valueOf(await app.desk.commission({ id })).history.length
  const { sent } = await refuseStarts(page, ['not-open', 'disk-full', ''])
  const start = page.getByRole('button', { name: /^Start/ }).first()
  await start.waitFor()
  await holdClock(page)
  await hearing.stop()
  await start.click()
  await page.getByText('Kept on this device. The desk can’t write it down now').waitFor()
  await page.getByText('1 press waits until the desk can write again').waitFor()
  await passSeconds(page, 5)
  expect(sent()).toBe(2)
  // A change at the desk says that it can write again.
  await passSeconds(page, 6)
  expect(sent()).toBe(2)
  await hearing.goOn()
  await takeSmallOrder(app, 'Bo Kestrel', 'Stool')
  await expect
    .poll(async () => {
      await passSeconds(page, 1)
      return page.evaluate(() => localStorage.getItem('presses-waiting'))
    })
    .toBe('[]')
  expect(sent()).toBe(3)
  await page.getByText('1 press waits').waitFor({ state: 'detached' })
  await expect.poll(() => page.getByText('Not taken at the desk').count()).toBe(0)
  expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before + 1)
})

/** Answers presses of Start, or all calls, with an HTTP status in the door's place, until there is none. */
async function answerWith(page: Page, statuses: number[], all = false): Promise<{ readonly sent: () => number }> {
  let sent = 0
  await page.route('**/call', (route) => {
    if (!all && route.request().postData()?.includes('stepStart') !== true) return route.continue()
    sent += 1
    const status = statuses.shift()
    return status === undefined ? route.continue() : route.fulfill({ status, body: 'Not now.' })
  })
  return { sent: () => sent }
}

const NOT_TAKEN = [
  [429, 'Kept on this device. Too much was sent at once', '1 press waits a few seconds: too much was sent at once.'],
  [500, 'Kept on this device. Something goes wrong at the desk', 'Something goes wrong at the desk with “Start'],
] as const
for (const [status, kept, waits] of NOT_TAKEN)
  test(`a press that the door answers with ${status} is kept, said for what it is, and sent once more`, async ({
    openApp,
    browser,
  }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    await openDevices(app)
    const { page } = await aPhone(browser)
    await page.clock.install()
    await paired(page, await showCode(app, 'Phone'))
    const before = valueOf(await app.desk.commission({ id })).history.length
    const { sent } = await answerWith(page, [status])
    const start = page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true })
    await start.waitFor()
    await holdClock(page)
    await start.click()
    await page.getByText(kept).waitFor()
    await page.getByText(waits).waitFor()
    await expect.poll(() => page.getByText('for a connection').count()).toBe(0)
    await expect.poll(() => page.getByText('No connection').count()).toBe(0)
    await passSeconds(page, 5)
    await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
    expect(sent()).toBe(2)
    expect(valueOf(await app.desk.commission({ id })).history).toHaveLength(before + 1)
  })

test('what the phone asks when it asked too much is asked again; a desk that breaks is said, and what stood stays', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Phone')
  const start = page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true })
  await start.waitFor()
  // Each of the questions that a change at the desk brings is sent again until it is answered.
  const busy = await answerWith(page, [429, 429, 429, 429], true)
  await takeSmallOrder(app, 'Bo Kestrel', 'Stool')
  await page.getByText('Stool').first().waitFor()
  expect(busy.sent()).toBeGreaterThan(4)
  await expect.poll(() => page.getByText('Too much was asked').count()).toBe(0)
  await page.unroute('**/call')

  await answerWith(
    page,
    Array.from({ length: 1000 }, () => 500),
    true,
  )
  await takeSmallOrder(app, 'Cleo Marsh', 'Rack')
  await page.getByText('Something went wrong at the desk. Try again').first().waitFor()
  await start.waitFor()
  await expect.poll(() => page.getByText('No connection').count()).toBe(0)
  await page.unroute('**/call')
  await takeSmallOrder(app, 'Dan Ivers', 'Ladder')
  await page.getByText('Ladder').first().waitFor()
  await page.getByText('Something went wrong at the desk').waitFor({ state: 'detached' })
})

test('a press at which the desk breaks is sent more and more seldom, told, and taken back alone', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await takeSmallOrder(app, 'Bo Kestrel', 'Stool')
  await openDevices(app)
  const { page } = await aPhone(browser)
  await page.clock.install()
  await paired(page, await showCode(app, 'Phone'))
  const { sent } = await refuseStarts(page, ['fault'])
  await page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true }).waitFor()
  await holdClock(page)
  await page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true }).click()
  await page.getByText('Something goes wrong at the desk with “Start: Cut the boards, Wall shelf”.').waitFor()
  await page.getByText('Sent once').waitFor()
  for (const [times, seconds] of [
    [1, 5],
    [2, 10],
    [3, 20],
    [4, 40],
  ] as const) {
    await passSeconds(page, seconds - 1)
    expect(sent()).toBe(times)
    await passSeconds(page, 1)
    expect(sent()).toBe(times + 1)
    await page.getByText(`Sent ${times + 1} times`).waitFor()
  }
  await page.getByRole('button', { name: 'Send now' }).click()
  await page.getByText('Sent 6 times').waitFor()
  // What was pressed after it is not lost with it.
  await page.getByRole('button', { name: 'Done: Cut the boards, Wall shelf', exact: true }).click()
  await page.getByText('2 presses wait').waitFor()
  await page.clock.resume()
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByRole('button', { name: 'Take back: Start: Cut the boards, Wall shelf' }).click()
  await expect.poll(() => page.evaluate(() => localStorage.getItem('presses-waiting'))).toBe('[]')
})

test('a kept press that is refused is named with its step', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  const start = page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf', exact: true })
  await start.waitFor()
  await phone.setOffline(true)
  await start.click()
  await page.getByText('1 press waits').waitFor()
  const [first] = valueOf(await app.desk.commission({ id })).pieces[0]!.steps
  valueOf(await app.desk.stepDone({ stepId: first!.stepId, anyway: true }))
  await phone.setOffline(false)
  await page.getByText('Start: Cut the boards, Wall shelf. Cut the boards is done already.').waitFor()
  await page.getByText('1 press waits').waitFor({ state: 'detached' })
  expect(await accessibilityProblems(page)).toEqual([])
})

test('an answer that is lost on its way makes no second press', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Phone')
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

test('an order whose answer is lost on its way is taken once, however often it is pressed', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Tablet', 'Also take orders')
  await page.getByRole('link', { name: 'New order' }).click()
  const { pieces } = smallDraft()
  await page.getByLabel('Name', { exact: true }).fill('Bo Kestrel')
  await page.getByLabel('Phone or email').fill('555-0117')
  await expect.poll(async () => (await newestDraft(app.desk))?.customer.reach).toBe('555-0117')
  // The steps are many fields: the desk fills them in, and the phone has them when it loads the draft.
  const [line] = valueOf(await app.desk.drafts())
  const typed = valueOf(await app.desk.draftLoad({ key: line!.key }))!
  valueOf(await app.desk.draftSave({ key: line!.key, draft: { ...typed, pieces, price: '90', deposit: '40' } }))
  await page.reload()
  await expect.poll(() => page.locator('#price').inputValue()).toBe('90')

  let lost = 0
  await page.route('**/call', async (route) => {
    const isTaking = route.request().postData()?.startsWith('{"name":"takeOrder"') === true
    if (!isTaking || lost > 0) return route.continue()
    lost += 1
    await route.fetch()
    await route.abort('connectionreset')
  })
  const take = page.getByRole('button', { name: /^Take the order/ })
  await take.press('Enter')
  await page.getByText('No connection to the desk at ').first().waitFor()
  await take.press('Enter')
  await page.getByText('No. 2, Bo Kestrel, is in the book already.').waitFor()
  expect(lost).toBe(1)
  const { open } = valueOf(await app.desk.orderBook())
  expect(open.map(({ number }) => number).sort()).toEqual([1, 2])
  const id = open.find(({ number }) => number === 2)!.commissionId
  const { money, promises } = valueOf(await app.desk.commission({ id }))
  expect(money.entries.map(({ minor }) => minor)).toEqual([4_000])
  expect(promises).toHaveLength(1)
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
  const start = first.page.getByRole('button', { name: /^Start/ }).first()
  await start.waitFor()
  const second = await aPhone(browser)
  await second.page.goto(address)
  await second.page.getByRole('button', { name: 'Pair' }).click()
  await second.page.getByText('This code does not work.').waitFor()
  await second.page.goto(address.replace(/#.*$/, '#/bench'))
  await second.page.reload()
  await second.page.getByText('This device is not paired any more.').waitFor()

  await first.phone.setOffline(true)
  await start.click()
  await first.page.getByText('1 press waits').waitFor()
  await app.page.getByRole('button', { name: 'Remove Phone' }).click()
  await app.page.getByRole('button', { name: 'Remove Phone' }).waitFor({ state: 'detached' })
  // The page that is open says so by itself, and what was pressed is still there.
  await first.phone.setOffline(false)
  await first.page.getByText('This device is not paired any more.').waitFor()
  await first.page.getByText('1 press waits until this device is paired again.').waitFor()
  expect(await accessibilityProblems(first.page)).toEqual([])
  await first.page.reload()
  await first.page.getByText('This device is not paired any more.').waitFor()
  await first.page.getByText('1 press waits').waitFor()
})

test('a phone of another address of the desk is named on every screen, and goes on by a new code', async ({
  openApp,
  browser,
  dataFolder,
}) => {
  const lost = {
    id: 'phone-1',
    name: 'Phone',
    right: 'press',
    keyHash: 'of-a-key',
    pairedAtMs: 0,
    address: '192.168.1.4',
  }
  const kept = { isOn: true, address: '127.0.0.1', network: 'loopback', port: 0, identity: null, devices: [lost] }
  await writeFile(join(dataFolder, 'devices.json'), JSON.stringify(kept))
  const app = await openApp({ dataFolder })
  await takeSmallOrder(app)
  const said = app.page.getByText('The desk’s address is now 127.0.0.1: Phone can’t connect.')
  await said.waitFor()
  await openDevices(app)
  await app.page.getByText('Paired at 192.168.1.4, so it can’t connect now.').waitFor()
  expect(await accessibilityProblems(app.page)).toEqual([])
  await app.page.getByRole('button', { name: 'New code for Phone' }).press('Enter')
  const code = app.page.getByRole('group', { name: 'Code for Phone' })
  await expect.poll(() => code.evaluate((shown) => shown === document.activeElement)).toBe(true)
  const { offered } = valueOf(await app.desk.devices())
  const { page } = await aPhone(browser)
  await paired(page, offered!.url)
  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .waitFor()
  await said.first().waitFor({ state: 'detached' })
  await expect.poll(() => app.page.getByRole('button', { name: /^Remove / }).count()).toBe(1)
  expect(valueOf(await app.desk.devices()).devices).toMatchObject([{ id: 'phone-1', name: 'Phone', lostAt: null }])
})

test('a phone out of reach says at which address it looks for the desk', async ({ openApp, browser }) => {
  const app = await openApp()
  await takeSmallOrder(app)
  const { phone, page } = await aPairedPhone(app, browser, 'Phone')
  // Its code is on the phone from then on.
  await page.getByRole('link', { name: 'Rack' }).click()
  await page.getByRole('heading', { name: 'Rack', level: 1 }).waitFor()
  await page.getByRole('link', { name: 'Bench', exact: true }).click()
  await page.getByRole('heading', { name: 'Bench', level: 1 }).waitFor()
  await phone.setOffline(true)
  await page.getByRole('link', { name: 'Rack' }).click()
  await page.getByText(`No connection to the desk at ${new URL(page.url()).host}.`).waitFor()
  await page.getByText('If the desk’s address has changed, show a new code there').waitFor()
})

test('a screen that a phone could not fetch says so, and is there once it is opened again in reach of the desk', async ({
  openApp,
  browser,
}) => {
  const app = await openApp()
  await takeSmallOrder(app)
  await openDevices(app)
  const { phone, page } = await aPhone(browser)
  const codeOfRack = /\/assets\/Rack-[^/]*\.js$/
  await page.route(codeOfRack, (route) => route.abort('internetdisconnected'))
  await paired(page, await showCode(app, 'Phone'))
  const start = page.getByRole('button', { name: /^Start/ }).first()
  const goToRack = async () => {
    await page.getByRole('link', { name: 'Bench', exact: true }).click()
    await start.waitFor()
    await page.getByRole('link', { name: 'Rack' }).click()
  }
  await start.waitFor()
  // Out of reach the page that is there must stay.
  await phone.setOffline(true)
  const missing = page.getByText('This screen isn’t on this device yet. Connect to the desk, then open it again.')
  for (let time = 0; time < 2; time++) {
    await goToRack()
    await missing.waitFor()
  }
  expect(await accessibilityProblems(page)).toEqual([])

  await page.unroute(codeOfRack)
  await phone.setOffline(false)
  await goToRack()
  await page.getByRole('list', { name: 'Places in use' }).waitFor()
})

test('who presses on a phone that was removed is told so, not that it will be sent', async ({ openApp, browser }) => {
  const app = await openApp()
  await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Phone')
  await page.route('**/call', (route) =>
    route.request().postData()?.includes('stepStart') === true
      ? route.fulfill({ status: 401, body: 'This device is not paired.' })
      : route.continue(),
  )
  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .click()
  await page.getByText('This device is not paired any more, and the desk was not told.').waitFor()
  await expect.poll(() => page.getByText('once there is a connection').count()).toBe(0)
})

test('a phone that may take orders has New order, made for thumbs', async ({ openApp, browser }) => {
  const app = await openApp()
  const id = await takeSmallOrder(app)
  const { page } = await aPairedPhone(app, browser, 'Tablet', 'Also take orders')
  await page.getByRole('link', { name: 'New order' }).click()
  await page.getByRole('heading', { name: 'New order' }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
  await page.goto(page.url().replace(/#.*$/, `#/commission/${id}`))
  await page.getByRole('heading', { name: /no\. 1/ }).waitFor()
  await expect.poll(() => page.getByRole('heading', { name: 'Money' }).count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])
})

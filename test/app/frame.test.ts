import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

/**
 * Opens the page anew until it hears the desk: it asks for the almanac when it begins, and again once its stream of events is open; a notice
 * that is told before is lost. The notices of these tests speak of nothing in the book, and would be dropped at any change of it, as what
 * a shop has learned after its start is one: here they are due until they are put away.
 */
async function hearing(page: Page): Promise<void> {
  const address = page.url()
  await page.goto('about:blank')
  await page.route('**/call', async (route) => {
    const asked = route.request().postDataJSON() as { name: string; input: { ids?: readonly string[] } }
    if (asked.name !== 'noticesDue') return route.continue()
    await route.fulfill({ json: { ok: true, value: asked.input.ids } })
  })
  let asked = 0
  page.on('requestfinished', (request) => {
    if (request.url().endsWith('/call') && /"name":"almanac"/.test(request.postData() ?? '')) asked += 1
  })
  await page.goto(address)
  await expect.poll(() => asked).toBeGreaterThanOrEqual(2)
}

/** Presses a screen's key and says how many of its rows stand in the frame in which the first of them come in. */
const rowsInFirstFrame = (page: Page, key: string, rows: string): Promise<number> =>
  page.evaluate(
    ([key, rows]) =>
      new Promise<number>((counted) => {
        const count = () => document.querySelectorAll(rows).length
        const watch = new MutationObserver(() => {
          if (count() === 0) return
          watch.disconnect()
          requestAnimationFrame(() => counted(count()))
        })
        watch.observe(document.body, { childList: true, subtree: true })
        document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
      }),
    [key, rows] as const,
  )

const focused = (id: string) => id === document.activeElement?.id

/** What has words in the color of the ground behind them. */
const inOneColor = (elements: readonly Element[]): string[] =>
  elements
    .filter((element) => {
      let ground = element
      while (getComputedStyle(ground).backgroundColor === 'rgba(0, 0, 0, 0)' && ground.parentElement !== null)
        ground = ground.parentElement
      return getComputedStyle(element).color === getComputedStyle(ground).backgroundColor
    })
    .map(({ outerHTML }) => outerHTML.slice(0, 160))

describe('the frame around every screen', () => {
  test('goes from anywhere to anywhere by one key, but not while somebody types', async ({ app }) => {
    const { page } = app
    const here = page.getByRole('navigation', { name: 'Screens' }).locator('[aria-current=page]')
    await here.waitFor()
    for (const [key, word] of [
      ['r', 'Rack'],
      ['o', 'Order book'],
      ['w', 'Weeks ahead'],
      ['l', 'Lumber'],
      ['t', 'Tally'],
      ['a', 'Almanac'],
      ['b', 'Bench'],
      ['n', 'New order'],
    ] as const) {
      await page.keyboard.press(key)
      await expect.poll(() => here.innerText()).toBe(word)
    }
    await expect.poll(() => page.evaluate(focused, 'order-line')).toBe(true)
    await page.keyboard.type('rob')
    await expect.poll(() => here.innerText()).toBe('New order')
    await expect.poll(() => page.getByLabel('The whole order in one line').inputValue()).toBe('rob')
  })

  test('a screen asks before the one before it is taken away, and its first frame has no rows but the first', async ({
    openApp,
  }) => {
    const app = await openApp({ demo: true })
    const { page } = app
    // Its code is there from then on.
    await goTo(app, '#/orders')
    await page.getByRole('heading', { name: 'Order book', level: 1 }).waitFor()
    await page.keyboard.press('r')
    await page.getByRole('heading', { name: 'Rack', level: 1 }).waitFor()
    await page.evaluate(() => {
      const { fetch } = globalThis
      globalThis.fetch = (to, init) => {
        if (String(init?.body).includes('"orderBook"'))
          document.documentElement.dataset['asked'] ??= document.querySelector('main h1')?.textContent ?? ''
        return fetch(to, init)
      }
    })
    expect(await rowsInFirstFrame(page, 'o', 'main tbody tr')).toBe(6)
    expect(await page.evaluate(() => document.documentElement.dataset['asked'])).toBe('Rack')
  })

  test('lets single keys be switched off by those who speak to their computer', async ({ openApp }) => {
    const { page } = await openApp()
    await page.getByRole('button', { name: /^Show keys/ }).click()
    await page.getByLabel('Single keys work').uncheck()
    await page.getByRole('heading', { level: 1 }).first().click()
    await page.keyboard.press('r')
    await page.keyboard.press('o')
    expect(page.url()).not.toContain('#/rack')
    expect(page.url()).not.toContain('#/orders')
  })

  test('shows a notice as a line that leads to its screen, until it is put away', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await hearing(page)
    const notice = { title: 'Clamps off', body: 'The wall shelf may come out of clamps.', opens: '#/rack' }
    valueOf(await desk.testNotice({ id: 'first', ...notice }))
    await page.getByText(notice.body).waitFor()
    await page.getByRole('button', { name: 'Close: Clamps off' }).click()
    await page.getByText(notice.body).waitFor({ state: 'detached' })
    valueOf(await desk.testNotice({ id: 'second', ...notice }))
    await page.getByRole('link', { name: 'Show' }).click()
    await expect.poll(() => page.url()).toContain('#/rack')
  })

  test('keeps notices to two lines, and puts one to sleep', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await hearing(page)
    for (const which of ['first', 'second', 'third'])
      valueOf(await desk.testNotice({ id: which, title: `The ${which}`, body: 'is ready', opens: '#/rack' }))
    await page.getByText('1 more notice').waitFor()
    await expect.poll(() => page.getByText('The first').count()).toBe(0)
    await page.getByLabel('Later: The third').selectOption('Tomorrow morning')
    await page.getByText('The third').waitFor({ state: 'detached' })
    await page.getByText('The first').waitFor()
  })

  test('keeps a notice that comes while the desk is asked which of the others are still due', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await hearing(page)
    const notice = async (which: string) =>
      valueOf(await desk.testNotice({ id: which, title: `The ${which}`, body: 'is ready', opens: '#/rack' }))
    await notice('first')
    await page.getByText('The first').waitFor()
    const going = Promise.withResolvers<void>()
    let [asked, answered] = [0, 0]
    await page.route('**/call', async (route) => {
      const call = route.request().postDataJSON() as { name: string; input: { ids: readonly string[] } }
      if (call.name !== 'noticesDue') return route.fallback()
      asked += 1
      await going.promise
      await route.fulfill({ json: { ok: true, value: call.input.ids } })
      answered += 1
    })
    valueOf(await desk.almanacChangeFact({ key: 'shop.name', input: 'Quiet Yard' }))
    await expect.poll(() => asked).toBeGreaterThan(0)
    await notice('second')
    await page.getByText('The second').waitFor()
    going.resolve()
    await expect.poll(() => answered).toBeGreaterThan(0)
    // What is done with the answer is done in the page by the time that it has drawn twice.
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))))
    await expect.poll(() => page.getByText(/^The (first|second)/).count()).toBe(2)
  })

  test('says what a press did on the screen that opens after it, and can take it back', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Cancel order' }).click()
    await page.getByRole('textbox', { name: 'Why' }).waitFor()
    await page.getByRole('button', { name: 'Cancel order' }).last().click()
    await page.getByText('Canceled: No. 1, Ada Quist.').waitFor()
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click()
    await expect.poll(async () => valueOf(await desk.commission({ id })).standing).toBe('agreed')
  })

  test('tells of a damaged order book alone, and opens a copy of it', async ({ openApp, dataFolder }) => {
    const before = await openApp({ dataFolder })
    await takeSmallOrder(before)
    valueOf(await before.desk.backupNow())
    await before.close()
    const file = join(dataFolder, 'shop.sqlite')
    const bytes = await readFile(file)
    bytes.fill(77, 4096)
    await writeFile(file, bytes)

    const app = await openApp({ dataFolder })
    const { page, desk } = app
    await page.getByRole('heading', { name: 'The order book could not be opened' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByText(dataFolder, { exact: true }).waitFor()
    await page.getByRole('button', { name: 'Begin anew' }).click()
    await page.getByRole('button', { name: 'Cancel' }).click()
    await page.getByRole('button', { name: 'Try again' }).click()
    await page.getByRole('heading', { name: 'The order book could not be opened' }).waitFor()
    await page
      .getByRole('button', { name: /^Open this copy/ })
      .first()
      .click()
    await page.getByRole('navigation', { name: 'Screens' }).waitFor()
    expect(valueOf(await desk.orderBook()).open[0]?.customer).toBe('Ada Quist')
  })

  test.for([1280, 820, 390])(
    'says at %i wide that a demo is one, and how to see the keys',
    async (width, { openApp }) => {
      const { page } = await openApp({ demo: true })
      await page.setViewportSize({ width, height: 844 })
      for (const mark of [page.getByText('Demo shop').first(), page.getByRole('button', { name: 'Show keys' })]) {
        await mark.waitFor()
        await expect
          .poll(async () => {
            const box = await mark.boundingBox()
            return box !== null && box.x >= 0 && box.y >= 0 && box.x + box.width <= width && box.y + box.height <= 844
          })
          .toBe(true)
      }
    },
  )

  test('where the system chooses the colors, words keep apart from their ground and the screen that is open is marked', async ({
    openApp,
  }) => {
    const app = await openApp({ demo: true })
    const { page } = app
    await page.emulateMedia({ forcedColors: 'active' })
    for (const address of ['#/bench', '#/new-order', '#/orders', '#/weeks', '#/almanac']) {
      await goTo(app, address)
      await page.getByRole('heading', { level: 1 }).first().waitFor()
      const pressable = page.locator('main :is(button, a):visible')
      await pressable.first().waitFor()
      expect(await pressable.evaluateAll(inOneColor), address).toEqual([])
      const here = page.getByRole('navigation', { name: 'Screens' }).locator('[aria-current=page]')
      expect(await here.evaluate((link) => getComputedStyle(link).outlineStyle), address).toBe('solid')
    }
  })

  test.for([
    [1280, 800],
    [820, 1180],
    [640, 400],
  ] as const)('needs no scrolling sideways at %i by %i', async ([width, height], { openApp }) => {
    const app = await openApp({ demo: true })
    const { page, desk } = app
    await page.setViewportSize({ width, height })
    const id = valueOf(await desk.orderBook()).open[0]?.commissionId ?? ''
    for (const address of [
      '#/new-order',
      '#/bench',
      '#/rack',
      '#/orders',
      '#/timber',
      '#/almanac',
      `#/commission/${id}`,
    ]) {
      await goTo(app, address)
      await page.getByRole('heading', { level: 1 }).first().waitFor()
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      )
      expect(over, address).toBe(0)
    }
  })
})

import { describe, expect } from 'vitest'
import { test } from '../support/app.ts'
import { hasFocus, tabTo } from './support/keyboard.ts'
import { takeSmallOrder, valueOf } from './support/small-order.ts'

describe('by keyboard alone', () => {
  test('a whole order goes from New order to hand-over and payment', async ({ openApp }) => {
    const { page, desk } = await openApp()
    await page.getByRole('navigation').waitFor()
    await page.keyboard.press('n')
    await hasFocus(page, /^The whole order in one line/)
    await page.keyboard.type('1 edge-grain board 12x9 maple, oil, for Ada Quist, 555-0100, $240')
    await page.keyboard.press('Enter')
    await page.getByText(/^Filled in/).waitFor()
    await hasFocus(page, /^Phone or email/)
    await page.keyboard.press('Control+Enter')
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()

    // At the bench: a step started by the link, the next by its key.
    await page.keyboard.press('b')
    await page.getByRole('region', { name: /^Next: / }).waitFor()
    await hasFocus(page, /^the page$/)
    await tabTo(page, /^Skip to the next step/, 3)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Start: /)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: /^On the bench: / }).waitFor()
    await page.keyboard.press('d')
    await page
      .getByText(/^Done: /)
      .first()
      .waitFor()
    await page.getByRole('region', { name: /^Next: / }).waitFor()

    // The rest was done without the app.
    await page.keyboard.press('o')
    await page.getByRole('heading', { name: 'Order book' }).waitFor()
    await page.getByRole('link', { name: /^Ada Quist/ }).waitFor()
    await hasFocus(page, /^the page$/)
    await tabTo(page, /^Ada Quist/, 12)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
    await hasFocus(page, /^the page$/)
    await tabTo(page, /^Skip to the next move/, 2)
    await page.keyboard.press('Enter')
    await tabTo(page, /^All done/, 4)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Finished on/)
    await page.keyboard.press('Enter')
    await page.getByText(/^All done: No\. 1/).waitFor()

    // Fetched and paid.
    await page.getByRole('button', { name: 'Handed over' }).waitFor()
    await hasFocus(page, /^the page$/)
    await tabTo(page, /^Skip to the next move/, 2)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Handed over/)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Amount/)
    await page.keyboard.press('Enter')
    await page
      .getByText(/^Handed over: No\. 1/)
      .first()
      .waitFor()
    const [row] = valueOf(await desk.closedOrders({ count: 50 }))
    expect(row).toMatchObject({ customer: 'Ada Quist', standing: 'handed-over', totalMinor: 24000, paidMinor: 24000 })
  })

  test('promise, price and Save are a few Tabs from the top of New order, over all fields of the piece', async ({
    openApp,
  }) => {
    const { page } = await openApp()
    await page.getByRole('navigation').waitFor()
    await page.keyboard.press('n')
    await hasFocus(page, /^The whole order in one line/)
    const toLink = await tabTo(page, /^Skip to promise and price/, 3)
    const link = page.getByRole('link', { name: /^Skip to promise and price. Ctrl Enter takes the order/ })
    await expect.poll(async () => (await link.boundingBox())?.height ?? 0).toBeGreaterThan(40)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Promise/)
    const toSave = await tabTo(page, /^Save as inquiry/, 5)
    expect(toLink + toSave).toBeLessThanOrEqual(6)
  })

  test('Start and Done are three Tabs and two links from the top of the Bench', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    await page.reload()
    await page.getByRole('region', { name: /^Next: / }).waitFor()
    expect(await tabTo(page, /^To the page/, 2)).toBeLessThanOrEqual(1)
    await page.keyboard.press('Enter')
    await tabTo(page, /^Skip to the next step. S starts it/, 1)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Start: Cut the boards/)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: /^On the bench: / }).waitFor()
    await tabTo(page, /^Skip to what’s on the bench. D is done, P pauses/, 2)
    await page.keyboard.press('Enter')
    await tabTo(page, /^Done: Cut the boards/, 1)
    await page.keyboard.press('Enter')
    await page.getByRole('region', { name: /^Next: Glue the shelf/ }).waitFor()
  })
})

import { describe, expect } from 'vitest'
import { test } from '../support/app.ts'
import { goTo, smallDraft, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('the Order book', () => {
  test('has a line for every open commission, and finds one by name or number', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    const { page, desk } = app
    await goTo(app, '#/orders')
    const { open } = valueOf(await desk.orderBook())
    const lines = page.getByRole('table', { name: 'Open orders, by promise date' }).getByRole('rowheader')
    await expect.poll(() => lines.allInnerTexts()).toEqual(open.map((row) => row.customer))

    const one = open.at(-1)
    if (one === undefined) throw new Error('The order is not in the book.')
    await page.keyboard.press('/')
    await page.keyboard.type(one.customer.toUpperCase())
    await expect.poll(() => lines.allInnerTexts()).toEqual([one.customer])
    await page.keyboard.press('Control+A')
    await page.keyboard.type('nobody of that name')
    await page.getByText('No open order has').waitFor()
  })

  test('calls an order late once its day is over, and cuts nothing of how it stands', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    const { page, desk } = app
    const standing = page.locator('tbody .danger').first()
    const room = () => standing.evaluate((cell) => ({ is: cell.clientWidth, takes: cell.scrollWidth }))
    await goTo(app, '#/orders')
    await standing.getByText('over 9 in 10').waitFor()
    await expect.poll(async () => (await room()).takes - (await room()).is).toBe(0)

    valueOf(await desk.testSetClock({ now: '2026-06-03T15:00:00Z' }))
    await goTo(app, '#/orders')
    await page.getByText('1 open, 1 late').waitFor()
    await expect.poll(async () => (await standing.innerText()).replace(/\s+/g, ' ').trim()).toBe('late 4 days')
    await goTo(app, '#/bench')
    await page.getByText('4 days late').first().waitFor()
  })

  test('opens a commission from its line', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    const { page, desk } = app
    await goTo(app, '#/orders')
    const first = valueOf(await desk.orderBook()).open[0]
    if (first === undefined) throw new Error('The order is not in the book.')
    // The whole line can be pressed: what lies under the pointer there is the link of the customer's name.
    await page
      .getByRole('row')
      .nth(1)
      .click({ position: { x: 300, y: 10 } })
    await expect.poll(() => page.url()).toContain(`#/commission/${first.commissionId}`)
  })

  test('opens the closed orders where they are what is owed, each with what; once it is paid its paper is the receipt', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const draft = { ...smallDraft(), price: '240' }
    const { commissionId: id } = valueOf(
      await desk.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-30', draftKey: '' }),
    )
    await workOff(app, valueOf(await desk.commission({ id })).pieces[0]?.steps.length ?? 0)
    valueOf(await desk.commissionHandOver({ id }))
    await goTo(app, '#/orders')
    await page.getByRole('button', { name: 'Owing (1)' }).press(' ')
    const closed = page.getByRole('table', { name: 'Closed orders, newest first' })
    await closed.getByRole('row').filter({ hasText: 'Ada Quist' }).getByText('owed $240').waitFor()
    await expect.poll(() => page.getByText(/^No (open )?order/).count()).toBe(0)

    valueOf(
      await desk.moneyEnter({ id, money: { kind: 'payment', amount: '240', how: 'cash', day: '', reference: '' } }),
    )
    await goTo(app, `#/commission/${id}`)
    await page.getByText('Paid in full').waitFor()
    await page.getByRole('button', { name: 'Write a paper' }).press('Enter')
    await expect.poll(() => page.getByRole('combobox', { name: 'Paper' }).inputValue()).toBe('receipt')
    await page.getByRole('region', { name: 'Preview' }).getByText('Received today').waitFor()
  })

  test('offers the first step while it is empty', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/orders')
    await page.getByRole('link', { name: 'Take the first order' }).click()
    await expect.poll(() => page.url()).toContain('#/new-order')
  })
})

import { describe, expect } from 'vitest'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { localDay } from '../../core/time/local-day.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, newestDraft, smallDraft, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('finding', () => {
  test('looks in everything typed, closed orders too, and by what is to be done', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await workOff(app, 6)
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    await goTo(app, '#/orders')
    const open = page.getByRole('table', { name: 'Open orders, by promise date' }).getByRole('rowheader')
    await page.getByRole('button', { name: 'To call (1)' }).click()
    await expect.poll(() => open.allInnerTexts()).toEqual(['Ada Quist'])
    await page.getByRole('button', { name: 'To call (1)' }).press('Enter')
    await expect.poll(() => open.count()).toBe(2)

    valueOf(await desk.commissionHandOver({ id }))
    // What is closed comes once it is opened, and is counted before.
    const { nowMs, timeZone } = valueOf(await desk.shopState())
    await page.getByRole('button', { name: 'To call (0)' }).waitFor()
    valueOf(await desk.commissionRemind({ id, day: localDay(nowMs / 60_000, timeZone) }))
    await page.getByRole('button', { name: 'To call (1)' }).waitFor()
    await page.getByRole('heading', { name: 'Closed (1)' }).click()
    const closed = page.getByRole('table', { name: 'Closed orders, newest first' }).getByRole('rowheader')
    await expect.poll(() => closed.allInnerTexts()).toEqual(['Ada Quist'])
    await page.getByLabel('Find').fill('5550100 wall')
    await expect.poll(() => open.count()).toBe(0)
    await expect.poll(() => closed.allInnerTexts()).toEqual(['Ada Quist'])
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('finds an order by its price, size, wood, notes and mail, open or closed, and has who is to fetch and who owes', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const small = smallDraft('Ada Quist')
    const board = { ...constructionOf('edge-grain-board')?.starting('inch'), woodA: 'cherry' }
    const { commissionId: id } = valueOf(
      await desk.takeOrder({
        draft: {
          ...small,
          customer: { ...small.customer, secondReach: 'ada@example.org' },
          pieces: [{ construction: 'edge-grain-board', count: '1', input: board }],
          ...{ notes: 'Initials on the back', price: '247' },
        },
        ...{ standing: 'agreed', promisedFor: null },
      }),
    )
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    const findsAda = async (table: string) => {
      const rows = page.getByRole('table', { name: table }).getByRole('rowheader')
      for (const sought of ['247', '16 x 10', 'cherry', 'initials back', 'ada@example.org']) {
        await page.getByLabel('Find').fill(sought)
        await expect.poll(() => rows.allInnerTexts(), { message: sought }).toEqual(['Ada Quist'])
      }
      await page.getByLabel('Find').fill('')
    }
    await goTo(app, '#/orders')
    await findsAda('Open orders, by promise date')

    for (const { stepId } of valueOf(await desk.commission({ id })).pieces[0]!.steps)
      valueOf(await desk.stepDone({ stepId, anyway: true, workedMin: 10 }))
    const open = page.getByRole('table', { name: 'Open orders, by promise date' }).getByRole('rowheader')
    await page.getByRole('button', { name: 'To pick up (1)' }).press('Enter')
    await expect.poll(() => open.allInnerTexts()).toEqual(['Ada Quist'])
    await page.getByRole('button', { name: 'To pick up (1)' }).press('Enter')

    valueOf(await desk.commissionHandOver({ id }))
    await findsAda('Closed orders, newest first')
    await page.getByRole('button', { name: 'Owing (1)' }).press('Enter')
    const closed = page.getByRole('table', { name: 'Closed orders, newest first' }).getByRole('rowheader')
    await expect.poll(() => closed.allInnerTexts()).toEqual(['Ada Quist'])
    await expect.poll(() => open.count()).toBe(0)
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('knows a customer again while the name is typed, and lists them with their orders', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await goTo(app, '#/new-order')
    await page.getByLabel('Name', { exact: true }).fill('qui')
    await page.getByRole('button', { name: /^Ada Quist/ }).press('Enter')
    await expect.poll(() => page.getByLabel('Phone or email').inputValue()).toBe('555-0100')
    const {
      found: [known],
    } = valueOf(await desk.customers({ sought: '', within: 'all', count: 50 }))
    await expect.poll(async () => (await newestDraft(desk))?.customer.id).toBe(known!.customer.id)
    // Another name is somebody else.
    await page.getByLabel('Name', { exact: true }).fill('Cleo')
    await expect.poll(async () => (await newestDraft(desk))?.customer.id).toBeUndefined()

    await goTo(app, '#/orders')
    await page.getByRole('link', { name: 'Customers' }).click()
    await page.getByRole('heading', { name: 'Ada Quist' }).waitFor()
    await page.getByRole('link', { name: 'No. 1' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'New order for Ada Quist' }).click()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Ada Quist')
  })
})

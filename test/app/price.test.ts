import { describe, expect } from 'vitest'
import { constructionOf } from '../../core/constructions/constructions.ts'
import type { Draft } from '../../desk/orders/draft.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, smallDraft, takeSmallOrder, valueOf } from './support/small-order.ts'

const take = async ({ desk }: OpenApp, draft: Draft, standing: 'agreed' | 'asked-about'): Promise<string> =>
  valueOf(await desk.takeOrder({ draft, standing, promisedFor: null })).commissionId

const moneyOf = ({ page }: OpenApp) => page.getByRole('region', { name: 'Money' })

describe('a price through the page', () => {
  // 90 min of hands-on work, nothing bought: 300.00 leave 200.00 an hour and 150.00 leave 100.00, before setups.
  test('inquiries stand one below the other by what an hour of each brings, the best first, each a press away', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const low = await take(app, { ...smallDraft('Ida Moss'), price: '150' }, 'asked-about')
    const high = await take(app, { ...smallDraft('Ada Quist'), price: '300' }, 'asked-about')
    await take(app, smallDraft('No Price'), 'asked-about')
    const worth = valueOf(await desk.inquiriesWorth())
    expect(worth.map(({ commissionId }) => commissionId)).toEqual([high, low])
    await goTo(app, `#/commission/${low}`)
    const lines = page.getByRole('region', { name: 'Inquiries by hour' }).getByRole('listitem')
    const perHour = worth.map(({ perHourMinor }) => `$${(perHourMinor / 100).toFixed(2)}`)
    await expect
      .poll(async () => (await lines.allInnerTexts()).map((line) => line.replaceAll(/\s+/g, ' ')))
      .toEqual([`${perHour[0]} Ada Quist, no. 2`, `${perHour[1]} this one`])
    expect(await accessibilityProblems(page)).toEqual([])
    await lines.getByRole('link', { name: 'Ada Quist, no. 2' }).click()
    await page.getByRole('heading', { name: 'Ada Quist no. 2' }).waitFor()
  })

  test('an order that has a deposit and no price yet owes nothing that anybody could say', async ({ openApp }) => {
    const app = await openApp()
    await take(app, { ...smallDraft('Ada Quist'), deposit: '80', depositHow: 'cash' }, 'agreed')
    await goTo(app, '#/orders')
    const row = app.page.getByRole('row', { name: /Ada Quist/ })
    await row.getByText('no price yet').waitFor()
    await expect.poll(() => row.innerText()).not.toMatch(/owed/)
  })

  // Two shelves and one stool of the same work for 100.01: by what each costs, to the last cent.
  test('of an order of several kinds says what each piece is of it', async ({ openApp }) => {
    const app = await openApp()
    const { desk } = app
    valueOf(await desk.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' }))
    const [shelves, stool] = [smallDraft('Ada Quist', 'Wall shelf', '2'), smallDraft('Ada Quist', 'Stool', '1')]
    const id = await take(app, { ...shelves, pieces: [...shelves.pieces, ...stool.pieces], price: '100.01' }, 'agreed')
    const { byPiece } = valueOf(await desk.commission({ id })).price
    expect(byPiece.reduce((sum, { minor }) => sum + minor, 0)).toBe(10_001)
    await goTo(app, `#/commission/${id}`)
    const [first, second] = byPiece.map(({ minor }) => `$${(minor / 100).toFixed(2)}`)
    await moneyOf(app).getByText(`Wall shelf: ${first} for 2 · Stool: ${second}`).waitFor()
  })

  test('has no charge for the customer’s own lumber, which the shopping list leaves out', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    const input = { ...constructionOf('edge-grain-board')?.starting('inch') }
    const pieces = [{ construction: 'edge-grain-board', input, count: '1' }]
    const lumber = { from: 'customer', expectedOn: '2026-05-20' } as const
    const id = await take(app, { ...smallDraft(), pieces, lumber }, 'agreed')
    await goTo(app, `#/commission/${id}`)
    await moneyOf(app).locator('summary', { hasText: 'this price' }).click()
    await moneyOf(app)
      .getByRole('row', { name: /^Wood The customer’s own lumber: no charge\. \$0\.00$/ })
      .waitFor()
    await goTo(app, '#/timber')
    await page.getByText('No. 1 is of the customer’s own lumber: its parts are left out.').first().waitFor()
  })

  test('stands beside what pieces like it were sold for, each a press away', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const before = await takeSmallOrder(app, 'Ida Moss', 'Wall shelf')
    valueOf(await desk.commissionChange({ id: before, changes: { priceMinor: 12_500 } }))
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await goTo(app, `#/commission/${id}`)
    const sold = page.getByRole('region', { name: 'Sold before' })
    await sold.getByText('$125.00').waitFor()
    await sold.getByText(/no\. 1/).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await sold.getByRole('link', { name: 'Wall shelf' }).click()
    await page.getByRole('heading', { name: 'Ida Moss no. 1' }).waitFor()
  })
})

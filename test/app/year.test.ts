import { readFile } from 'node:fs/promises'
import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('the year through the page', () => {
  test('shows what was paid by month, takes a figure typed in place, and is saved as a table', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 8500 } }))
    await goTo(app, '#/bench')
    await page.keyboard.press('y')
    await page.getByRole('heading', { name: 'Year', level: 1 }).waitFor()
    await page.getByText('Nobody owes you anything.').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    await workOff(app, 6)
    valueOf(
      await desk.moneyEnter({ id, money: { kind: 'payment', amount: '40', how: 'cash', day: '', reference: '' } }),
    )
    await page.reload()
    await page.getByText('$40 in 2026 so far').waitFor()
    const owed = page.getByRole('region', { name: 'Owed to you today' })
    await owed.getByRole('row', { name: /Ada Quist.*Balance.*\$45/ }).waitFor()
    valueOf(await desk.commissionHandOver({ id }))
    const earned = page.getByRole('region', { name: 'Earned per hour' })
    await earned.getByRole('row', { name: /^1 × / }).waitFor()

    const supplies = page.getByRole('textbox', { name: 'Materials and supplies, 2026' })
    await supplies.fill('a lot')
    await supplies.press('Enter')
    await page.getByText('“a lot” is not an amount').waitFor()
    await supplies.fill('12.50')
    await supplies.press('Enter')
    await page.getByRole('row', { name: /^42 Cost of goods sold \$12\.50$/ }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save as CSV' }).click(),
    ])
    const table = await readFile(await download.path(), 'utf8')
    expect(table).toContain('2026,account,38 Materials and supplies,12.50,USD,')
  })
})

import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('money through the page', () => {
  test('a price is built up from the Almanac, a deposit is entered, and handing over asks for the balance', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Prices' }).click()
    for (const [label, value] of [
      ['Pay for an hour of hands-on work', '30'],
      ['Overhead of a year', '6000'],
      ['Hands-on hours of a year', '600'],
      ['Profit', '20'],
    ] as const) {
      const field = page.getByRole('textbox', { name: label, exact: true })
      await field.fill(value)
      await field.press('Enter')
    }
    await expect
      .poll(async () => valueOf(await desk.almanac()).almanac.money)
      .toMatchObject({ payPerHourMinor: 3000, overheadYearMinor: 600_000, handsOnHoursYear: 600, profitRate: 200_000 })
    expect(await accessibilityProblems(page)).toEqual([])

    await goTo(app, `#/commission/${id}`)
    const money = page.getByRole('region', { name: 'Money' })
    await money.getByText('No price yet').waitFor()
    // 94 minutes with the clamps to take off: 47.00 of pay and 15.67 of overhead, 10 % of the pay for supplies: 67.37; a margin of
    // 20 % asks 84.21, so 85.00.
    await money.getByText('Ask $85.00').waitFor()
    await money.locator('summary', { hasText: 'this price' }).click()
    await money.getByRole('row', { name: /^Overhead.*\$15\.67$/ }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 8500 } }))
    // The page has heard of it: nothing moves under the pointer any more.
    await money.getByText(/^The price you typed/).waitFor()
    await money.getByText('Still owed: $85.00').waitFor()
    await money.getByRole('button', { name: 'Enter a payment' }).press('Enter')
    const amount = money.getByRole('textbox', { name: 'Amount' })
    await expect.poll(() => amount.evaluate((field) => field === document.activeElement)).toBe(true)
    await page.keyboard.press('Control+a')
    await page.keyboard.type('40')
    await money.getByRole('radio', { name: 'Check' }).press(' ')
    await money.getByRole('textbox', { name: 'Check or slip no.' }).fill('1042')
    await page.keyboard.press('Enter')
    await money.getByText('Still owed: $45.00').waitFor()
    expect(valueOf(await desk.commission({ id })).money.entries).toMatchObject([
      { kind: 'payment', minor: 4000, how: 'check', reference: '1042' },
    ])

    await workOff(app, 6)
    await page.reload()
    await money.getByText('Balance due: $45.00').waitFor()
    await page.getByRole('button', { name: 'Handed over' }).click()
    await page.getByRole('textbox', { name: 'Amount' }).waitFor()
    await page.getByRole('button', { name: 'Save and hand over' }).click()
    await money.getByText('Paid in full').waitFor()
    // It is handed over once the payment is entered.
    await page
      .getByRole('status')
      .getByText(/^Handed over: No\. 1/)
      .waitFor()
    expect(valueOf(await desk.commission({ id }))).toMatchObject({
      word: 'handed-over',
      money: { standing: { state: 'paid', paidMinor: 8500 } },
    })
  })

  test('a payment that is entered while the answer to another press is on its way is kept', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 8500 } }))
    await goTo(app, `#/commission/${id}`)
    const { letGo } = await holdAnswer(page, 'commissionHold')
    await page.getByRole('button', { name: 'Put on hold' }).click()
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('hold-until')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Resume' }).waitFor()
    const money = page.getByRole('region', { name: 'Money' })
    await money.getByRole('button', { name: 'Enter a payment' }).click()
    await money.getByRole('textbox', { name: 'Amount' }).fill('40')
    await page.keyboard.press('Enter')
    await page.keyboard.press('Enter')
    letGo()
    await money.getByText('Still owed: $45.00').waitFor()
    expect(valueOf(await desk.commission({ id })).money.entries).toHaveLength(1)
  })

  // UPS prints 18 x 14 x 10 in over 139: 19 lb. With a divisor of 166 it is 15.2, billed as 16.
  test('a parcel is billed by its size over the divisor that the maker types', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, `#/commission/${await takeSmallOrder(app)}`)
    await page.getByRole('button', { name: 'Add delivery, an extra or a discount' }).click()
    await page.getByText('Parcel weight', { exact: true }).click()
    const type = (label: string, text: string) => page.getByRole('textbox', { name: label }).fill(text)
    await type('Piece', '18 x 14')
    await page.getByText('Three sides, like 16 x 12 x 2.').waitFor()
    await type('Piece', '18 x 14 x 10')
    await type('Weight packed', '8')
    await type('Cushion a side', '0')
    await type('Carrier', '139')
    const billed = page.getByRole('status').filter({ hasText: 'billed as' })
    await expect.poll(() => billed.innerText()).toContain('Box 18 × 14 × 10 in: billed as 19 lb')
    await type('Carrier', '166')
    await expect.poll(() => billed.innerText()).toContain('billed as 16 lb')
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('a slip is said at its field, stays typed, and can be put right later', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 8500 } }))
    await goTo(app, `#/commission/${id}`)
    const money = page.getByRole('region', { name: 'Money' })
    await money.getByRole('button', { name: 'Enter a payment' }).click()
    const amount = money.getByRole('textbox', { name: 'Amount' })
    await amount.fill('12.345')
    await money.getByRole('button', { name: 'Save' }).click()
    await money.getByText('“12.345” has more decimals than USD knows').first().waitFor()
    await amount.fill('12.50')
    await money.getByRole('button', { name: 'Save' }).click()
    // The form has gone and the line below says it: nothing moves under the pointer any more.
    await money.getByRole('button', { name: 'Enter a payment' }).waitFor()
    await page.getByRole('status').filter({ hasText: 'Received: $12.50' }).waitFor()
    await money.getByRole('button', { name: 'Correct: received $12.50' }).click()
    await money.getByText('Correct: received').waitFor()
    expect(valueOf(await desk.commission({ id })).money.standing).toMatchObject({ paidMinor: 0, owedMinor: 8500 })
  })
})

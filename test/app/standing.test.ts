import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('an order', () => {
  // 30 min at 30.00 an hour and a board of 60.00 that waits for it alone: 75.00 of 200.00 may be kept, 15.00 once the board is free.
  test('that is canceled says what may be kept of its deposit, line by line, and frees its whole boards', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' }))
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 40_000 } }))
    valueOf(
      await desk.moneyEnter({ id, money: { kind: 'payment', amount: '200', how: 'check', day: '', reference: '' } }),
    )
    const board = { wood: 'maple', thickness: '5/4', width: '8', length: "8'", flaws: '', quality: '', place: '' }
    valueOf(
      await desk.boardsAdd({
        board: { ...board, price: '60', moisture: '', boughtFor: id },
        ...{ count: '1', photo: { kind: 'none' } },
      }),
    )
    await workOff(app, 1)
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Cancel order' }).click()
    const spent = page.getByRole('table', { name: 'Spent on it' })
    await spent.getByRole('row', { name: 'Hours worked $15.00' }).waitFor()
    await spent.getByRole('row', { name: 'Boards bought for it, still whole $60.00' }).waitFor()
    await page.getByText('Proposal: keep $75.00, give back $125.00').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'No payment' }).click()
    await page.getByRole('button', { name: 'Cancel order' }).last().press('Enter')
    await page.getByText('Why: No payment').waitFor()
    await page.getByRole('button', { name: 'Free board no. 1 for other orders' }).click()
    await page.getByText('Proposal: keep $15.00, give back $185.00').waitFor()
    expect(valueOf(await desk.orderBook()).closed[0]).toMatchObject({ moneyState: 'to-give-back', owedMinor: -18_500 })

    // Another sum than the proposal: never more than was paid, and the refund follows it.
    const keep = page.locator('#money-keep')
    await keep.fill('300')
    await keep.press('Enter')
    await page.getByText('Only $200.00 was paid: keep that or less.').first().waitFor()
    await keep.fill('80')
    await keep.press('Enter')
    await page.getByText('As you typed: keep $80.00, give back $120.00').waitFor()
    await page.getByText('Proposal: keep $15.00.').waitFor()
    const bill = page.getByRole('table', { name: 'Bill' }).getByRole('row')
    await expect.poll(() => bill.allInnerTexts()).toEqual(['Paid\t$200.00', 'Kept\t$80.00', 'Refund due\t$120.00'])
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'Enter a refund' }).click()
    await expect.poll(() => page.locator('#money-amount').inputValue()).toBe('120')
    await page.locator('#money-amount').press('Enter')
    await expect
      .poll(async () => valueOf(await desk.orderBook()).closed[0])
      .toMatchObject({ moneyState: 'settled', owedMinor: 0, paidMinor: 8_000 })
  })

  test('is put on hold with a reminder, canceled with a reason, and reopened, each from its page', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const order = async () => valueOf(await desk.commission({ id }))
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Put on hold' }).first().click()
    await page.getByLabel('Why', { exact: true }).fill('Customer is away')
    await page.locator('#hold-remind').fill('2026-05-04')
    await page.getByRole('button', { name: 'Put on hold' }).last().click()
    await expect.poll(async () => (await order()).word).toBe('on-hold')
    await expect.poll(() => order()).toMatchObject({ remindOn: '2026-05-04', onHoldWhy: 'Customer is away' })

    await page.getByRole('button', { name: 'Resume' }).click()
    await expect.poll(async () => (await order()).word).toBe('agreed')
    await page.getByRole('button', { name: 'Cancel order' }).click()
    await page.getByRole('button', { name: 'No payment' }).click()
    await page.getByRole('button', { name: 'Cancel order' }).last().press('Enter')
    await page.getByText('Why: No payment').waitFor()
    await page.getByRole('button', { name: 'Reopen' }).click()
    await expect.poll(async () => (await order()).standing).toBe('agreed')
    // The line that answered still offers to undo what has the same name.
    await page.getByRole('button', { name: 'Put on hold', exact: true }).waitFor()
  })

  test('that was handed over has its repair as an order of its own, each a press from the other', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await workOff(app, 6)
    valueOf(await desk.commissionHandOver({ id }))
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Repair' }).click()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Ada Quist')
    await page.getByText('Gift, call back').click()
    await page.getByLabel('Goes to').fill('Tam Quist')
    await page
      .getByLabel('Step 1')
      .or(page.getByLabel('Step', { exact: true }))
      .first()
      .fill('Sand it')
    await expect.poll(async () => valueOf(await desk.drafts()).length).toBe(1)
    const [line] = valueOf(await desk.drafts())
    const draft = valueOf(await desk.draftLoad({ key: line!.key }))!
    expect(draft).toMatchObject({ again: id, againAs: 'repair', giftFor: 'Tam Quist' })
  })
})

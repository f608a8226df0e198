import { describe, expect } from 'vitest'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('an order', () => {
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

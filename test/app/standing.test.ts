import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { focused, hasFocus, tabTo } from './support/keyboard.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** More Tabs than any page of these has. */
const FAR = 120

/** A small order of 400.00 with a deposit of 200.00, in a shop that pays 30.00 an hour. */
async function takePaidOrder(app: OpenApp): Promise<string> {
  const { desk } = app
  const id = await takeSmallOrder(app)
  valueOf(await desk.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' }))
  valueOf(await desk.commissionChange({ id, changes: { priceMinor: 40_000 } }))
  valueOf(
    await desk.moneyEnter({ id, money: { kind: 'payment', amount: '200', how: 'check', day: '', reference: '' } }),
  )
  return id
}

describe('an order', () => {
  // 30 min at 30.00 an hour and a board of 60.00 that waits for it alone: 75.00 of 200.00 may be kept, 15.00 once the board is free.
  test('that is canceled says what may be kept of its deposit, line by line, and frees its whole boards', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takePaidOrder(app)
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
    expect(valueOf(await desk.closedOrders({ count: 50 }))[0]).toMatchObject({
      moneyState: 'to-give-back',
      owedMinor: -18_500,
    })

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
      .poll(async () => valueOf(await desk.closedOrders({ count: 50 }))[0])
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
    // The page that is still to show it would move what is clicked away from under the mouse.
    await page.getByRole('button', { name: 'Put on hold', exact: true }).waitFor()
    await page.getByRole('button', { name: 'Cancel order' }).press('Enter')
    const reason = page.getByRole('button', { name: 'No payment' })
    await reason.press('Enter')
    await expect.poll(() => reason.getAttribute('aria-pressed')).toBe('true')
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

  test('is held, canceled with its deposit and half-made pieces, and reopened, all by keyboard', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takePaidOrder(app)
    await workOff(app, 1)
    const order = async () => valueOf(await desk.commission({ id }))
    const press = async (name: RegExp) => {
      await tabTo(page, name, FAR)
      await page.keyboard.press('Enter')
    }
    const before = await order()
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Put on hold', exact: true }).waitFor()
    await press(/^Put on hold/)
    await hasFocus(page, /^Until/)
    await page.keyboard.type('when she is back')
    await page.getByText('“when she is back” is not a day: pick one, or type it like Dec 12.').waitFor()
    await page.keyboard.press('Control+A')
    await page.keyboard.press('Delete')
    await tabTo(page, /^Why/, 2)
    await page.keyboard.type('Customer is away')
    await tabTo(page, /^Remind me on/, 2)
    await page.keyboard.type('mar 9')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Resume' }).waitFor()
    expect(await order()).toMatchObject({ word: 'on-hold', remindOn: '2026-03-09', onHoldWhy: 'Customer is away' })
    const history = page.getByRole('region', { name: 'History' })
    await history.getByText(/Customer is away/).waitFor()
    // Nothing of it is planned, and on its day it is said.
    expect(valueOf(await desk.bench({ rows: 24 })).canStart).toEqual([])
    valueOf(await desk.testSetClock({ now: '2026-03-09T16:00:00Z' }))
    await goTo(app, '#/orders')
    await page.getByRole('heading', { level: 1 }).waitFor()
    await press(/^To call \(1\)/)
    // With the number to call, and why the work waits.
    const toCall = page.getByRole('row', { name: /Ada Quist/ })
    await toCall.getByText('555-0100').waitFor()
    await toCall.getByRole('cell', { name: 'on hold: Customer is away' }).waitFor()
    await goTo(app, `#/commission/${id}`)
    await press(/^Resume/)
    await expect.poll(async () => (await order()).word).toBe('in-the-shop')
    await page.getByRole('button', { name: 'Put on hold', exact: true }).waitFor()

    // 30 min at 30.00 an hour is 15.00; 80.00 is agreed with the customer instead.
    await press(/^Cancel order/)
    await hasFocus(page, /^Why/)
    await page.keyboard.type('Moved away; cut boards kept for the fair')
    await page.getByText('Proposal: keep $15.00, give back $185.00').waitFor()
    for (let tabs = 0; tabs < 6 && !/^Keep/.test(await focused(page)); tabs += 1) await page.keyboard.press('Shift+Tab')
    await hasFocus(page, /^Keep/)
    await page.keyboard.type('80')
    await page.keyboard.press('Enter')
    await page.getByText('Why: Moved away; cut boards kept for the fair').waitFor()
    await history.getByText(/Moved away; cut boards kept for the fair/).waitFor()
    const bill = page.getByRole('table', { name: 'Bill' }).getByRole('row')
    await expect.poll(() => bill.allInnerTexts()).toEqual(['Paid\t$200.00', 'Kept\t$80.00', 'Refund due\t$120.00'])

    await press(/^Reopen/)
    await page.getByRole('button', { name: 'Put on hold', exact: true }).waitFor()
    const after = await order()
    expect(after).toMatchObject({ word: 'in-the-shop', closedWhy: '', promisedFor: before.promisedFor })
    expect(after.money.standing).toEqual(before.money.standing)
    expect(after.pieces.map(({ steps }) => steps.map(({ stepId, state }) => [stepId, state]))).toEqual(
      before.pieces.map(({ steps }) => steps.map(({ stepId, state }) => [stepId, state])),
    )
    // One key: canceled again, with what was agreed.
    await page.keyboard.press('u')
    await page.getByText('As you typed: keep $80.00, give back $120.00').waitFor()
  })

  test.for([
    { as: 'Complaint', step: 'Look it over and fix it', how: 'complaint', answers: 'answers-for' },
    { as: 'Repair', step: 'Repair it', how: 'repaired-as', answers: 'repairs' },
  ])(
    'that was handed over gets a $as months later, by keyboard: an order of its own that belongs to the old one',
    async ({ as, step, how, answers }, { openApp }) => {
      const app = await openApp()
      const { page, desk } = app
      const id = await takeSmallOrder(app)
      await workOff(app, 6)
      valueOf(await desk.commissionHandOver({ id }))
      valueOf(await desk.testSetClock({ now: '2026-08-14T16:00:00Z' }))
      const old = valueOf(await desk.commission({ id }))
      await goTo(app, `#/commission/${id}`)
      await page.getByRole('button', { name: as }).waitFor()
      await tabTo(page, new RegExp(`^${as}`), FAR)
      await page.keyboard.press('Enter')
      const name = page.getByLabel('Name', { exact: true })
      await expect.poll(() => name.inputValue()).toBe('Ada Quist')
      // Why it takes until then names the step; the order has no number yet.
      const why = page
        .locator('.causes')
        .getByText(new RegExp(`^“${step}”`))
        .first()
      await why.waitFor()
      await tabTo(page, /^Step/, FAR)
      await page.keyboard.press('Control+A')
      await page.keyboard.type('Flatten the shelf')
      await tabTo(page, /^(Minutes|Hands-on)/, 4)
      await page.keyboard.press('Control+A')
      await page.keyboard.type('40 min')
      await page.keyboard.press('Control+Enter')
      await page.getByRole('heading', { name: /^Ada Quist/ }).waitFor()
      await page.getByText(as === 'Repair' ? /^Repair of/ : /^Complaint about/).waitFor()
      const [line] = valueOf(await desk.orderBook()).open
      const complaint = valueOf(await desk.commission({ id: line!.commissionId }))
      expect(complaint.family).toEqual([{ commissionId: id, number: old.number, how: answers }])
      expect(complaint.customer).toEqual(old.customer)
      expect(complaint.pieces[0]!.steps.map(({ name, handsOnMinutes }) => [name, handsOnMinutes])).toEqual([
        ['Flatten the shelf', 40],
      ])
      await tabTo(page, /^no\. 1$/, FAR)
      await page.keyboard.press('Enter')
      await page.getByText(new RegExp(`^${as === 'Repair' ? 'Repaired as' : as}:? no\\. 2`)).waitFor()
      const now = valueOf(await desk.commission({ id }))
      expect(now.family).toEqual([{ commissionId: line!.commissionId, number: line!.number, how }])
      // The old order stays closed, and what it took and cost stays its own.
      expect({ ...now, family: [] }).toEqual({ ...old, family: [] })
    },
  )
})

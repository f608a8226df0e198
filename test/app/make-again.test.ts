import { describe, expect } from 'vitest'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('an earlier order', () => {
  test('is made again from its page, with what it took beside it, and the form that was begun stays', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await workOff(app, 6)
    valueOf(await desk.commissionHandOver({ id }))
    await goTo(app, '#/new-order')
    await page.getByLabel('Name', { exact: true }).fill('Bo Kestrel')

    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Make again' }).press('Enter')
    await page.getByRole('heading', { name: /^Made before/ }).waitFor()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Ada Quist')
    const { workedMin } = valueOf(await desk.madeBefore({ id }))
    expect(workedMin).toBeGreaterThan(60)
    await page.getByText('so far', { exact: true }).waitFor({ state: 'hidden' })

    const drafts = page.getByRole('navigation', { name: 'Orders you are typing' })
    await drafts.getByRole('button', { name: 'Bo Kestrel' }).click()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Bo Kestrel')
    await drafts.getByRole('button', { name: 'Start another' }).click()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('')
    await page.getByLabel('Name', { exact: true }).fill('Cleo Marsh')
    await expect
      .poll(async () =>
        valueOf(await desk.drafts())
          .map(({ customer }) => customer)
          .sort(),
      )
      .toEqual(['Ada Quist', 'Bo Kestrel', 'Cleo Marsh'])
  })

  test('is asked for in the typed line by its number, with what is to be different', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/new-order')
    const line = page.getByLabel('The whole order in one line')
    await line.fill('same as no. 1')
    await line.press('Enter')
    await page.getByText('No order no. 1 in the book.').waitFor()
    await expect.poll(() => line.inputValue()).toBe('same as no. 1')

    await line.fill('2 end-grain boards 12x16 walnut/maple, oil, for Ada Quist, 555-0100')
    await line.press('Enter')
    await page.getByText('Filled in.').waitFor()
    const [first] = valueOf(await desk.drafts())
    const draft = valueOf(await desk.draftLoad({ key: first!.key }))!
    valueOf(await desk.takeOrder({ draft, draftKey: first!.key, standing: 'agreed', promisedFor: '2026-08-30' }))

    await goTo(app, '#/new-order')
    await line.fill('same as no. 1 in cherry, for Bo Kestrel')
    await line.press('Enter')
    await page.getByText('The same as no. 1.').waitFor()
    await page.getByRole('heading', { name: /^Made before/ }).waitFor()
    await expect
      .poll(async () => {
        const [newest] = valueOf(await desk.drafts())
        const again = valueOf(await desk.draftLoad({ key: newest!.key }))
        return [
          again?.customer.name,
          again?.pieces[0]?.count,
          again?.pieces[0]?.input['woodA'],
          again?.pieces[0]?.input['cell'],
        ]
      })
      .toEqual(['Bo Kestrel', '2', 'cherry', draft.pieces[0]!.input['cell']])
  })
})

import { describe, expect } from 'vitest'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

async function openAlmanac(app: OpenApp, name: string): Promise<void> {
  await goTo(app, '#/almanac')
  await app.page.getByRole('navigation', { name: 'Pages of the Almanac' }).getByRole('button', { name }).click()
}

describe('what is typed in a short form when the page is loaded anew', () => {
  test('is there again in a list of the Almanac, with the rows that were added, until the form closes', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    await openAlmanac(app, 'Makers and hours')
    await page.getByRole('button', { name: 'Add a maker' }).click()
    await page.getByLabel('Name', { exact: true }).fill('Wren Alder')
    const monday = page.getByRole('group', { name: 'Monday, hours' })
    await monday.getByRole('button', { name: 'add hours' }).click()
    await monday.getByLabel('Monday from').fill('18:30')

    await page.reload()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Wren Alder')
    await expect.poll(() => monday.getByLabel('Monday from').inputValue()).toBe('18:30')
    await expect.poll(() => monday.getByLabel('Monday to').inputValue()).toBe('')

    await page.getByRole('button', { name: 'Cancel' }).click()
    await page.reload()
    await page.getByRole('button', { name: 'Add a maker' }).click()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('')
  })

  test('is kept apart for each thing of a list, and gone once it is saved', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await openAlmanac(app, 'Stations')
    const change = page.getByRole('button', { name: /^Change: / })
    const was = await change.first().getAttribute('aria-label')
    await change.first().click()
    await page.getByLabel('Name', { exact: true }).fill('Clamp rack by the door')
    await page.reload()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).inputValue()).toBe('Clamp rack by the door')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('button', { name: 'Change: Clamp rack by the door' }).waitFor()
    await page.reload()
    await page.getByRole('button', { name: 'Change: Clamp rack by the door' }).waitFor()
    await expect.poll(() => page.getByLabel('Name', { exact: true }).count()).toBe(0)
    await expect.poll(() => page.getByRole('button', { name: was!, exact: true }).count()).toBe(0)
  })

  test('is there again on the page of an order: its notes, and a paper with what it will look like', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('button', { name: 'Change promise, money, notes' }).click()
    await page.getByLabel('Notes: yours, on no paper').fill('Hinges from her old chest.')
    const papers = page.getByRole('region', { name: 'Papers' })
    await papers.getByRole('button', { name: 'Write a paper' }).click()
    await papers.getByLabel('Paper', { exact: true }).selectOption('invoice')
    await papers.getByLabel('Your own words on it').fill('Thank you, Ada.')

    await page.reload()
    await papers.getByRole('article', { name: 'Invoice' }).getByText('Thank you, Ada.').waitFor()
    await expect.poll(() => papers.getByLabel('Your own words on it').inputValue()).toBe('Thank you, Ada.')
    await expect
      .poll(() => page.getByLabel('Notes: yours, on no paper').inputValue())
      .toBe('Hinges from her old chest.')

    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('Hinges from her old chest.').waitFor()
    await papers.getByRole('button', { name: 'Cancel' }).click()
    await page.reload()
    await papers.getByRole('button', { name: 'Write a paper' }).waitFor()
    await page.getByRole('button', { name: 'Change promise, money, notes' }).waitFor()
  })

  test('is there again in every form of an order: money, an extra line, why it is canceled, and a step’s log', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
    await goTo(app, `#/commission/${id}`)
    const money = page.getByRole('region', { name: 'Money' })
    const reference = money.getByLabel('Check or slip no.')
    const line = page.getByRole('textbox', { name: /^Line/ })
    const why = page.getByRole('textbox', { name: /^Why/ })
    const log = page.getByRole('region', { name: 'Log of Glue the shelf' })
    await money.getByRole('button', { name: 'Enter a payment' }).press('Enter')
    await page.locator('#money-amount').fill('120.50')
    await money.getByRole('radio', { name: 'Check' }).press(' ')
    await reference.fill('no. 4711')
    await page.getByRole('button', { name: 'Add delivery, an extra or a discount' }).press('Enter')
    await line.fill('Engraved initials')
    await page.getByRole('button', { name: 'Cancel order' }).first().press('Enter')
    await why.fill('Moved abroad, boards go back to the rack')
    await page.getByRole('button', { name: 'Log: Glue the shelf' }).press('Enter')
    await log.getByRole('textbox', { name: 'From' }).fill('7:15 PM')
    await log.getByRole('textbox', { name: /^Until/ }).fill('50 min')

    await page.reload()
    await expect.poll(() => reference.inputValue()).toBe('no. 4711')
    await expect.poll(() => page.locator('#money-amount').inputValue()).toBe('120.50')
    await expect.poll(() => money.getByRole('radio', { name: 'Check' }).isChecked()).toBe(true)
    await expect.poll(() => line.inputValue()).toBe('Engraved initials')
    await expect.poll(() => why.inputValue()).toBe('Moved abroad, boards go back to the rack')
    await expect.poll(() => log.getByRole('textbox', { name: 'From' }).inputValue()).toBe('7:15 PM')
    await expect.poll(() => log.getByRole('textbox', { name: /^Until/ }).inputValue()).toBe('50 min')

    await log.getByRole('radio', { name: 'Steps' }).press(' ')
    await log.getByRole('textbox', { name: /^Extra step after it/ }).fill('Inlay')
    await page.reload()
    await expect.poll(() => log.getByRole('textbox', { name: /^Extra step after it/ }).inputValue()).toBe('Inlay')
    await log.getByRole('button', { name: 'Cancel' }).press('Enter')
    await page.getByRole('button', { name: 'Cancel order' }).first().press('Enter')
    await money.getByRole('button', { name: 'Save', exact: true }).press('Enter')
    await money.getByText('no. 4711').waitFor()
    await money.getByRole('button', { name: 'Enter a payment' }).waitFor()
    await page.reload()
    await money.getByRole('button', { name: 'Enter a payment' }).waitFor()
    await page.getByRole('button', { name: 'Log: Glue the shelf' }).waitFor()
    expect([await log.count(), await why.count(), await reference.count()]).toEqual([0, 0, 0])
    expect(valueOf(await desk.commission({ id })).money.entries).toMatchObject([{ minor: 12_050, how: 'check' }])
  })

  test('is there again at the bench: what failed, and what happened', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const [first] = valueOf(await desk.commission({ id })).pieces[0]!.steps
    valueOf(await desk.stepStart({ stepId: first!.stepId, anyway: true }))
    await goTo(app, '#/bench')
    const failed = page.getByRole('region', { name: /failed$/ })
    await page.getByRole('button', { name: /^It failed/ }).press('Enter')
    await failed.getByLabel('What failed').selectOption('crack')
    await failed.getByRole('textbox', { name: 'What happened' }).fill('split along the grain')
    await page.reload()
    await expect
      .poll(() => failed.getByRole('textbox', { name: 'What happened' }).inputValue())
      .toBe('split along the grain')
    await expect.poll(() => failed.getByLabel('What failed').inputValue()).toBe('crack')
    await failed.getByRole('button', { name: 'Cancel' }).press('Enter')
    await page.reload()
    await page.getByRole('button', { name: /^It failed/ }).waitFor()
    await expect.poll(() => failed.count()).toBe(0)
  })

  test('is there again in a fact of the Almanac that was not left yet', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await openAlmanac(app, 'Lumberyard')
    const fact = page.getByRole('textbox').first()
    const was = await fact.inputValue()
    await fact.fill('77')
    await page.reload()
    await expect.poll(() => fact.inputValue()).toBe('77')
    expect(was).not.toBe('77')
    await expect.poll(() => fact.evaluate((field) => field === document.activeElement)).toBe(true)
  })

  test('changes what was typed, and nothing that was changed elsewhere meanwhile', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    await goTo(app, `#/commission/${id}`)
    const open = page.getByRole('button', { name: 'Change promise, money, notes' })
    const price = page.getByLabel('Price', { exact: true })
    const notes = page.getByLabel('Notes: yours, on no paper')
    const now = async () => valueOf(await desk.commission({ id }))

    await open.click()
    await notes.fill('Hinges from her old chest.')
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525, promisedFor: '2026-06-20' } }))
    await expect.poll(() => price.inputValue()).toMatch(/375/)
    await expect.poll(() => notes.inputValue()).toBe('Hinges from her old chest.')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('Hinges from her old chest.').waitFor()
    expect(await now()).toMatchObject({ priceMinor: 37_525, promisedFor: '2026-06-20' })

    await open.click()
    await notes.fill('Brass screws.')
    await page.goto('about:blank')
    await page.goBack()
    await expect.poll(() => notes.inputValue()).toBe('Brass screws.')
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 40_000 } }))
    await page.reload()
    await expect.poll(() => price.inputValue()).toMatch(/400/)
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('Brass screws.').waitFor()
    expect(await now()).toMatchObject({ priceMinor: 40_000, promisedFor: '2026-06-20' })
  })

  test('in a list of the Almanac does not change back what another page changed meanwhile, before a reload and after it', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const clamps = async () => {
      const { almanac } = valueOf(await desk.almanac())
      return almanac.stations.find(({ id }) => id === 'clamps')!
    }
    const { name, kind } = await clamps()
    const elsewhere = async (changes: { capacity: string }) =>
      valueOf(
        await desk.almanacSave({
          list: 'stations',
          item: { ...{ id: 'clamps', name: (await clamps()).name, kind }, ...changes },
        }),
      )
    await openAlmanac(app, 'Stations')
    await page.getByRole('button', { name: `Change: ${name}` }).press('Enter')
    const nameField = page.getByLabel('Name', { exact: true })
    const capacity = page.getByRole('textbox', { name: /^How many/ })
    await nameField.fill('Clamp rack by the door')
    await elsewhere({ capacity: '17' })
    await expect.poll(() => capacity.inputValue()).toBe('17')
    await expect.poll(() => nameField.inputValue()).toBe('Clamp rack by the door')
    await page.reload()
    await expect.poll(() => nameField.inputValue()).toBe('Clamp rack by the door')
    await elsewhere({ capacity: '19' })
    await expect.poll(() => capacity.inputValue()).toBe('19')
    await page.getByRole('button', { name: 'Save' }).press('Enter')
    await page.getByRole('button', { name: 'Change: Clamp rack by the door' }).waitFor()
    expect(await clamps()).toMatchObject({ name: 'Clamp rack by the door', capacity: 19 })
  })
})

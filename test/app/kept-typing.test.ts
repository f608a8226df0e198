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
})

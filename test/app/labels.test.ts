import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

describe('tags and labels through the page', () => {
  test('each piece gets a tag with its price and a code, and the code leads back to the order', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 8500 } }))
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('link', { name: 'Tags and labels' }).click()
    const tag = page.getByRole('article', { name: 'Wall shelf, no. 1/1' })
    await tag.getByText('$85.00').waitFor()
    await tag.getByRole('img', { name: 'Code that opens no. 1/1' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('radio', { name: 'Parcel label' }).check({ force: true })
    await page.getByRole('article', { name: 'Parcel label' }).first().getByText('Ada Quist').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    await goTo(app, '#/no/1/1')
    await page
      .getByRole('heading', { name: /Ada Quist/ })
      .first()
      .waitFor()
    await goTo(app, '#/no/77/1')
    await page.getByRole('heading', { name: 'No such order' }).waitFor()
  })
})

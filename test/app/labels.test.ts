import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { pdfPages } from '../support/pdf-text.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

/** What a sheet says, in reading order, without its line breaks. */
const printed = async (app: OpenApp): Promise<{ readonly text: string; readonly sheets: number }> => {
  const pages = await pdfPages(await app.page.pdf({ preferCSSPageSize: true }))
  return { text: pages.join('\n').replaceAll(/\s+/g, ' '), sheets: pages.length }
}

const times = (text: string, said: string): number => text.split(said).length - 1

describe('tags and labels through the page', () => {
  test('tags, shelf labels and parcel labels are read back from their PDF, and nothing of the screen is among them', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf', '3')
    valueOf(await desk.almanacChangeFact({ key: 'shop.name', input: 'Plane and Pine' }))
    valueOf(await desk.almanacChangeFact({ key: 'money.address', input: '4 Kiln Lane' }))
    valueOf(await desk.almanacChangeFact({ key: 'money.reach', input: '555-0188' }))
    const customer = { name: 'Ada Quist', reach: '555-0100', secondReach: '', address: '7 Mill Road, Ely' } as const
    valueOf(
      await desk.commissionChange({
        id,
        changes: { priceMinor: 25_500, customer: { ...customer, allergies: '', childUnder3: 'not-asked' } },
      }),
    )
    await goTo(app, `#/labels/${id}`)
    await page.getByText('$85.00').first().waitFor()
    const hang = await printed(app)
    for (const said of ['Plane and Pine', 'Wall shelf', '$85.00', '1/1', '555-0188']) expect(hang.text).toContain(said)
    expect(hang.text).not.toMatch(/Back to the order|Print|Hang tags/)

    await page.getByRole('radio', { name: 'Shelf labels' }).check({ force: true })
    const shelf = await printed(app)
    for (const said of ['Plane and Pine', 'Wall shelf', '$85.00', '1/1']) expect(shelf.text).toContain(said)

    await page.getByRole('radio', { name: 'Parcel label' }).check({ force: true })
    await page.getByRole('article', { name: 'Parcel label' }).first().getByText('7 Mill Road, Ely').waitFor()
    const parcel = await printed(app)
    expect(parcel.sheets).toBe(1)
    for (const said of ['From Plane and Pine, 4 Kiln Lane', 'Ada Quist', '7 Mill Road, Ely', 'Order no. 1'])
      expect(times(parcel.text, said), said).toBe(4)
    // Who carries it need not know what it is worth.
    expect(parcel.text).not.toContain('$')
  })

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

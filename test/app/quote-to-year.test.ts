import { describe, expect } from 'vitest'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** A whole order where prices are said without tax, and one where they are said with it. */
const SHOPS = [
  {
    name: 'dollars and inches, tax added',
    facts: { 'shop.units': 'inch', 'shop.currency': 'USD', 'money.tax1.name': 'Sales tax', 'money.tax1.rate': '7.25' },
    price: '375.25',
    // 375.25 x 7.25 % = 27.21 (E21 of money-and-papers); half down is 201.23, the rest 201.23.
    total: '$402.46',
    half: '201.23',
    rest: '$201.23',
    income: '$375.25 in 2026 so far',
    tax: /Sales tax 7\.25% \$375\.25 \$27\.21/,
    size: 'letter',
  },
  {
    name: 'euros and millimeters, tax included',
    facts: {
      ...{ 'shop.units': 'millimetre', 'shop.currency': 'EUR', 'money.tax1.name': 'MwSt', 'money.tax1.rate': '19' },
      ...{ 'money.pricesIncludeTax': 'true', 'money.taxFallsOn': 'every-payment' },
    },
    price: '249.00',
    // 19 % inside 249.00 is 39.76, 209.24 without (E18 of money-and-papers).
    total: '€249.00',
    half: '124.50',
    rest: '€124.50',
    income: '€209.24 in 2026 so far',
    tax: /MwSt 19% €209\.24 €39\.76/,
    size: 'a4',
  },
] as const

/** Writes a paper of the order at its page and issues it. */
async function writePaper({ page }: OpenApp, id: string, kind: string, title: string): Promise<void> {
  const papers = page.getByRole('region', { name: 'Papers' })
  await papers.getByRole('button', { name: 'Write a paper' }).click()
  await papers.getByRole('combobox', { name: 'Paper' }).selectOption(kind)
  await papers.getByRole('article', { name: title }).waitFor()
  await papers.getByRole('button', { name: 'Issue it' }).click()
  await page.getByRole('heading', { name: `${title} no. 1` }).waitFor()
  await page.getByRole('link', { name: 'Back to the order' }).click()
  await page.getByRole('region', { name: 'Money' }).waitFor()
}

describe('an order from the quote to the end of the year', () => {
  test.for(SHOPS)('in $name', { timeout: 180_000 }, async (shop, { openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    for (const [key, input] of Object.entries(shop.facts)) valueOf(await desk.almanacChangeFact({ key, input }))
    const id = await takeSmallOrder(app)
    const minor = Math.round(Number(shop.price) * 100)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: minor } }))
    await goTo(app, `#/commission/${id}`)

    await writePaper(app, id, 'quote', 'Quote')
    await writePaper(app, id, 'confirmation', 'Order confirmation')
    const money = page.getByRole('region', { name: 'Money' })
    await money.getByRole('button', { name: 'Enter a payment' }).click()
    await money.getByRole('textbox', { name: 'Amount' }).fill(shop.half)
    await page.keyboard.press('Enter')
    await money.getByText(`Still owed: ${shop.rest}`).waitFor()
    await writePaper(app, id, 'receipt', 'Receipt')

    await workOff(app, 6)
    await page.reload()
    await money.getByText(`Balance due: ${shop.rest}`).waitFor()
    await writePaper(app, id, 'invoice', 'Invoice')
    await page.getByRole('button', { name: 'Handed over' }).click()
    await page.getByRole('textbox', { name: 'Amount' }).waitFor()
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await money.getByText('Paid in full').waitFor()

    await goTo(app, '#/year')
    await page.getByText(shop.income).waitFor()
    await page.getByRole('row', { name: shop.tax }).waitFor()
    await page.getByText('Nobody owes you anything.').waitFor()
    await page.getByRole('region', { name: 'Earned per hour' }).getByRole('row', { name: /^1 × / }).waitFor()
    const { months, total } = valueOf(await desk.year({ year: 2026 }))
    expect(total.receivedMinor).toBe(Math.round(Number(shop.total.slice(1)) * 100))
    expect(months.filter(({ receivedMinor }) => receivedMinor > 0).length).toBeGreaterThan(0)
  })
})

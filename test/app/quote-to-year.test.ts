import { describe, expect } from 'vitest'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, valueOf, workOff } from './support/small-order.ts'

/** A whole order where prices are said without tax, and one where they are said with it. */
const SHOPS = [
  {
    name: 'dollars and inches, tax added',
    shopFacts: { 'Sizes in': 'Inches and fractions', Currency: 'USD' },
    taxFacts: { 'Tax: name on papers': 'Sales tax', 'Tax: rate': '7.25%' },
    line: '1 edge-grain board 12x9 maple, oil, for Ada Quist, 555-0100',
    sizes: '12"',
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
    shopFacts: { 'Sizes in': 'Millimeters', Currency: 'EUR' },
    taxFacts: {
      ...{ 'Tax: name on papers': 'MwSt', 'Tax: rate': '19%', 'Prices are said': 'With tax in them' },
      ...{ 'Tax falls due on': 'Every payment, in proportion' },
    },
    line: '1 edge-grain board 300x230 maple, oil, for Ada Quist, 555-0100',
    sizes: '300',
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

/** Types facts into a page of the Almanac, each kept before the next is typed. */
async function typeFacts(
  { page, desk }: OpenApp,
  where: string,
  facts: Readonly<Record<string, string>>,
): Promise<void> {
  const pages = page.getByRole('navigation', { name: 'Pages of the Almanac' })
  await pages.getByRole('button', { name: where }).click()
  for (const [label, typed] of Object.entries(facts)) {
    const choice = page.getByRole('main').getByRole('combobox', { name: label, exact: true })
    const field = page.getByRole('main').getByLabel(label, { exact: true })
    await field.first().waitFor()
    if ((await choice.count()) > 0) await choice.selectOption({ label: typed })
    else {
      await field.fill(typed)
      await field.press('Enter')
    }
    await expect
      .poll(async () => {
        const kept = valueOf(await desk.almanac()).facts.find(
          (fact) => label === (fact.about === '' ? fact.label : `${fact.about}: ${fact.label}`),
        )
        return kept?.choices.find(({ value }) => value === kept.value)?.label ?? kept?.value
      })
      .toBe(typed)
  }
}

/** Types an order in one line and its price, and puts it in the book as an inquiry. */
async function typeInquiry(app: OpenApp, line: string, price: string): Promise<void> {
  const { page } = app
  await goTo(app, '#/new-order')
  await page.getByRole('textbox', { name: 'The whole order in one line' }).fill(line)
  await page.keyboard.press('Enter')
  await page.getByText(/^Filled in/).waitFor()
  await page.getByRole('textbox', { name: 'Price', exact: false }).fill(price)
  await page.getByRole('button', { name: /^Save as inquiry/ }).click()
  await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
}

/** Writes a paper of the order at its page and issues it. */
async function writePaper({ page }: OpenApp, kind: string, title: string): Promise<void> {
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
  test.for(SHOPS)('in $name', { timeout: 240_000 }, async (shop, { openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await typeFacts(app, 'Shop', shop.shopFacts)
    await typeFacts(app, 'Taxes', shop.taxFacts)
    await typeInquiry(app, shop.line, shop.price)
    await page.getByText(shop.sizes).first().waitFor()

    await writePaper(app, 'quote', 'Quote')
    await page.getByRole('button', { name: 'Take the order' }).click()
    await page.getByRole('button', { name: 'Take the order' }).last().click()
    await page.getByRole('button', { name: 'Cancel order' }).waitFor()
    await writePaper(app, 'confirmation', 'Order confirmation')
    const money = page.getByRole('region', { name: 'Money' })
    await money.getByRole('button', { name: 'Enter a payment' }).click()
    await money.getByRole('textbox', { name: 'Amount' }).fill(shop.half)
    await page.keyboard.press('Enter')
    await money.getByText(`Still owed: ${shop.rest}`).waitFor()
    await writePaper(app, 'receipt', 'Receipt')

    const id = valueOf(await desk.orderBook()).open[0]?.commissionId ?? ''
    const steps = valueOf(await desk.commission({ id })).pieces[0]?.steps ?? []
    expect(steps.length).toBeGreaterThan(5)
    await workOff(app, steps.length)
    await page.reload()
    await money.getByText(`Balance due: ${shop.rest}`).waitFor()
    await writePaper(app, 'invoice', 'Invoice')
    await page.getByRole('button', { name: 'Handed over' }).click()
    await page.getByRole('textbox', { name: 'Amount' }).waitFor()
    await page.getByRole('button', { name: 'Save and hand over' }).click()
    await money.getByText('Paid in full').waitFor()
    // It is handed over once the payment is entered.
    await page
      .getByRole('status')
      .getByText(/^Handed over: No\. 1/)
      .waitFor()

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

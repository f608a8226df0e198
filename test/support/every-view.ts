import type { Page, Request } from 'playwright-core'
import { almanacPages } from '../../renderer/almanac/pages.ts'
import { changeAddress, commissionAddress, labelsAddress, screens } from '../../renderer/screens.ts'
import { deskOf } from './desk-of-page.ts'

/** Something to look at: its address, and what is pressed or typed there before it shows. */
export interface View {
  readonly name: string
  readonly address: string
  readonly open?: (page: Page) => Promise<unknown>
}

const pressed = (name: string | RegExp) => (page: Page) =>
  page.getByRole('main').getByRole('button', { name }).first().click()

const unfolded = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true
  })

const almanacPage = (word: string) => (page: Page) =>
  page
    .getByRole('navigation', { name: 'Pages of the Almanac' })
    .getByRole('button', { name: new RegExp(`^${word}(,|$)`) })
    .click()

async function typed(page: Page): Promise<void> {
  const line = page.getByLabel('The whole order in one line')
  await line.fill(
    '2 end-grain boards 12x16 walnut/maple, oil, by Dec 12, for Ana Reyes, 555-0143, with a dovetailed lid',
  )
  await line.press('Enter')
  await page.getByText(/^Filled in/).waitFor()
}

async function madeAgain(page: Page): Promise<void> {
  await pressed('Make again')(page)
  await page.getByRole('heading', { name: /^Made before/ }).waitFor()
}

/** Every view of a shop with orders: its screens, their pages, and the pages of one order. */
export async function everyView(page: Page): Promise<readonly View[]> {
  const [orders, closed] = await Promise.all([deskOf(page).orderBook(), deskOf(page).closedOrders({ count: 1 })])
  if (!orders.ok || !closed.ok) throw new Error('The order book does not answer.')
  const { open } = orders.value
  const id = open.find(({ standing }) => standing === 'agreed')?.commissionId
  const inquiry = open.find(({ standing }) => standing === 'asked-about')?.commissionId
  if (id === undefined || inquiry === undefined) throw new Error('There are no orders to look at.')
  return [
    ...screens.map(({ name, address }) => ({ name, address })),
    {
      name: 'weeks-written',
      address: '#/weeks',
      open: (page) => page.getByRole('main').getByText('written out').click(),
    },
    { name: 'lumber-on-hand', address: '#/timber', open: pressed(/^On hand/) },
    { name: 'lumber-plan', address: '#/timber', open: pressed(/^Cutting plan/) },
    { name: 'lumber-to-buy', address: '#/timber', open: pressed(/^To buy/) },
    { name: 'new-order-typed', address: '#/new-order', open: typed },
    { name: 'new-order-unfolded', address: '#/new-order', open: unfolded },
    { name: 'customers', address: '#/customers' },
    { name: 'order', address: commissionAddress(id) },
    { name: 'order-unfolded', address: commissionAddress(id), open: unfolded },
    { name: 'inquiry', address: commissionAddress(inquiry) },
    ...closed.value.map(({ commissionId }) => ({ name: 'closed', address: commissionAddress(commissionId) })),
    { name: 'change-order', address: changeAddress(id) },
    { name: 'labels', address: labelsAddress(id) },
    { name: 'made-again', address: commissionAddress(id), open: madeAgain },
    ...almanacPages.map(({ id, word }) => ({ name: `almanac-${id}`, address: '#/almanac', open: almanacPage(word) })),
  ]
}

/** What a screen says while it still works something out. */
const working = /Working out|working it out|Laying out|Looking ahead|Checking what/

/** Goes from view to view as a press in the rail does, and waits until each stands still. */
export function walker(page: Page): (view: View) => Promise<void> {
  const asked = new Set<Request>()
  page.on('request', (request) => request.url().endsWith('/call') && asked.add(request))
  for (const end of ['requestfinished', 'requestfailed'] as const)
    page.on(end as 'requestfinished', (request) => asked.delete(request))
  /** Until nothing is asked any more, and the page says the same twice. */
  async function standsStill(): Promise<void> {
    await page.getByRole('heading').first().waitFor()
    for (let before = '', tries = 0; tries < 4000; tries += 1) {
      const now = await page.evaluate(() => document.body.innerText)
      if (asked.size === 0 && now === before && !working.test(now)) return
      before = now
      await new Promise((resolve) => setTimeout(resolve, 60))
    }
    throw new Error(`The page never stands still: ${page.url()}`)
  }
  return async ({ address, open }) => {
    const there = new URL(page.url()).hash === address
    // A view of the same address begins anew.
    if (there) await page.evaluate(() => (location.hash = '#/customers'))
    if (there) await standsStill()
    await page.evaluate((hash) => (location.hash = hash), address)
    await standsStill()
    if (open === undefined) return
    await open(page)
    await standsStill()
  }
}

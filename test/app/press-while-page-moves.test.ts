import { expect } from 'vitest'
import type { Locator, Page } from 'playwright-core'
import { test, type OpenApp } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

type Point = { readonly x: number; readonly y: number }
/** A finger or a mouse, held down where it was put until it is lifted. */
type Pointer = (at: Point) => Promise<{ readonly lift: () => Promise<void> }>

const mouse =
  (page: Page): Pointer =>
  async ({ x, y }) => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    return { lift: () => page.mouse.up() }
  }

async function finger(page: Page): Promise<Pointer> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Emulation.setTouchEmulationEnabled', { enabled: true })
  return async (at) => {
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] })
    return {
      lift: async () => void (await devtools.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })),
    }
  }
}

/** The page of an order whose papers are not there yet: once they are, they push down what stands below them. */
async function orderBeforeItsPapers(app: OpenApp) {
  const { page, desk } = app
  const id = await takeSmallOrder(app)
  valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
  const blank = { text: '', newDay: '', amends: '', credit: '' }
  for (let issued = 0; issued < 2; issued += 1)
    valueOf(await desk.paperIssue({ id, form: { ...blank, kind: 'confirmation' } }))
  await goTo(app, '#/book')
  const { letGo } = await holdAnswer(page, 'papers')
  await page.evaluate((address) => location.assign(address), `#/commission/${id}`)
  const papers = page.getByRole('region', { name: 'Papers' })
  const write = papers.getByRole('button', { name: 'Write a paper' })
  await write.scrollIntoViewIfNeeded()
  // Everything else has come.
  await page.getByText('No single change gains enough.').waitFor()
  const moved = async () => {
    letGo()
    await papers.getByRole('link', { name: 'Order confirmation no. 2' }).waitFor()
  }
  return { page, papers, write, moved }
}

async function middleOf(place: Locator): Promise<Point> {
  const box = await place.boundingBox()
  if (box === null) throw new Error('It is not on the page.')
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

const pointers = [
  ['mouse', (page: Page) => Promise.resolve(mouse(page))],
  ['finger', finger],
] as const

test.for(pointers)(
  'a press by %s counts where it began, though the page moved meanwhile',
  async ([, of], { openApp }) => {
    const { page, papers, write, moved } = await orderBeforeItsPapers(await openApp())
    const press = await of(page)
    const before = await middleOf(write)
    const { lift } = await press(before)
    await moved()
    await expect.poll(async () => (await middleOf(write)).y).toBeGreaterThan(before.y + 20)
    const address = page.url()
    await lift()
    await papers.getByRole('combobox', { name: 'Paper' }).waitFor()
    expect(page.url()).toBe(address)
  },
)

test.for(pointers)(
  'nothing is pressed by %s that came under it only after it was down',
  async ([, of], { openApp }) => {
    const { page, papers, write, moved } = await orderBeforeItsPapers(await openApp())
    const press = await of(page)
    // Where the link of a paper is going to stand; nothing to press yet.
    const heading = await papers.getByRole('heading', { name: 'Papers' }).boundingBox()
    const before = await middleOf(write)
    if (heading === null) throw new Error('The papers have no heading.')
    const { lift } = await press({ x: heading.x + 20, y: before.y })
    await moved()
    const address = page.url()
    await lift()
    expect(page.url()).toBe(address)
  },
)

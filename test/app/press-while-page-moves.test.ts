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

/** The Bench with the first step of an order, to be pressed. */
async function benchWithStep(app: OpenApp) {
  await takeSmallOrder(app)
  await goTo(app, '#/bench')
  const named = (word: string) =>
    app.page.getByRole('button', { name: `${word}: Cut the boards, Wall shelf`, exact: true })
  await named('Start').waitFor()
  const calls: string[] = []
  app.page.on('request', (request) => {
    const { name } = (request.postDataJSON() ?? {}) as { name?: string }
    if (name?.startsWith('step') === true || name === 'undo') calls.push(name)
  })
  /** Once whatever was pressed before has been sent. */
  const sent = async () => {
    await app.page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))))
    valueOf(await app.desk.bench({ rows: 24 }))
    return calls
  }
  return { page: app.page, named, sent }
}

test.for(pointers)(
  'a button that means something else by the time it is let go is not pressed by %s',
  async ([, of], { openApp }) => {
    const app = await openApp()
    const { named, sent, page } = await benchWithStep(app)
    const [first] = valueOf(await app.desk.bench({ rows: 24 })).canStart
    valueOf(await app.desk.stepStart({ stepId: first!.stepId }))
    await named('Pause').waitFor()
    const press = await of(page)
    const { lift } = await press(await middleOf(named('Pause')))
    valueOf(await app.desk.stepPause({ stepId: first!.stepId }))
    await named('Resume').waitFor()
    await lift()
    expect(await sent()).toEqual(['stepStart', 'stepPause'])
    // The next press at it counts.
    await (await press(await middleOf(named('Resume')))).lift()
    await named('Pause').waitFor()
  },
)

test.for(pointers)(
  'Undo by %s takes back what it stood beside when it was touched, or nothing',
  async ([, of], { openApp }) => {
    const app = await openApp()
    const { named, sent, page } = await benchWithStep(app)
    const press = await of(page)
    const undo = page.getByRole('button', { name: 'Undo', exact: true })
    // The line on the Bench, while the desk is told by another page.
    const [first] = valueOf(await app.desk.bench({ rows: 24 })).canStart
    valueOf(await app.desk.stepStart({ stepId: first!.stepId }))
    await page.getByText(/^Started: cut the boards/).waitFor()
    const onBench = await press(await middleOf(undo))
    valueOf(await app.desk.stepPause({ stepId: first!.stepId }))
    await page.getByText(/^Paused: cut the boards/).waitFor()
    await onBench.lift()
    expect(await sent()).toEqual(['stepStart', 'stepPause'])

    // The bar of the last press, while the answer to another is on its way.
    await named('Resume').press('Enter')
    const bar = page.getByRole('status').getByText(/^Started: cut the boards/)
    await bar.waitFor()
    const { letGo } = await holdAnswer(page, 'stepPause')
    await named('Pause').press('Enter')
    const onBar = await press(await middleOf(undo))
    letGo()
    await page
      .getByRole('status')
      .getByText(/^Paused: cut the boards/)
      .waitFor()
    await onBar.lift()
    expect(await sent()).toEqual(['stepStart', 'stepPause', 'stepStart', 'stepPause'])
  },
)

test('a pen presses while a hand rests on the glass', async ({ openApp }) => {
  const { page, named } = await benchWithStep(await openApp())
  const devtools = await page.context().newCDPSession(page)
  const hand = await finger(page)
  const pen = async (type: 'mousePressed' | 'mouseReleased') =>
    devtools.send('Input.dispatchMouseEvent', {
      ...{ type, ...(await middleOf(named('Start'))), button: 'left', clickCount: 1, pointerType: 'pen' },
    })
  await pen('mousePressed')
  const { lift } = await hand(await middleOf(page.getByRole('heading', { name: 'Bench', exact: true })))
  await pen('mouseReleased')
  await named('Pause').waitFor()
  await lift()
})

test('a finger on a field whose page moves goes on in that field, and opens no other', async ({ openApp }) => {
  const { page, papers, write, moved } = await orderBeforeItsPapers(await openApp())
  await write.press('Enter')
  const words = papers.getByLabel('Your own words on it')
  await words.waitFor()
  await papers.getByRole('heading', { name: 'Papers' }).click()
  await words.scrollIntoViewIfNeeded()
  const touch = await finger(page)
  const before = await middleOf(words)
  await page.evaluate(() => {
    document.addEventListener('focusin', ({ target }) =>
      document.body.setAttribute(
        'data-came',
        `${document.body.getAttribute('data-came') ?? ''}${(target as Element).tagName} `,
      ),
    )
  })
  const { lift } = await touch(before)
  await moved()
  await expect.poll(async () => (await middleOf(words)).y).toBeGreaterThan(before.y + 20)
  await lift()
  await expect.poll(() => words.evaluate((field) => field === document.activeElement)).toBe(true)
  await expect.poll(() => page.locator('body').getAttribute('data-came')).toBe('TEXTAREA ')
})

test('a screen reader’s press counts after the page was scrolled by a finger', async ({ openApp }) => {
  const { page, named } = await benchWithStep(await openApp())
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Emulation.setTouchEmulationEnabled', { enabled: true })
  await page.evaluate(() =>
    addEventListener('pointercancel', () => document.body.setAttribute('data-scrolls', ''), { once: true }),
  )
  const at = await middleOf(page.getByRole('heading', { name: 'Bench', exact: true }))
  await devtools.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [at] })
  for (const up of [30, 60, 90])
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: at.x, y: at.y - up }] })
  await devtools.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
  await page.locator('body[data-scrolls]').waitFor()
  // Some readers send a click that counts as one of a mouse, and nothing before it.
  await named('Start').evaluate((button) =>
    button.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true, detail: 1 })),
  )
  await named('Pause').waitFor()
})

test('a finger that comes down beside a button presses it where the browser says so, a farther one does not', async ({
  openApp,
}) => {
  const { named, sent } = await benchWithStep(await openApp())
  // As a browser does that looks for the nearest thing to press only once the finger is lifted; written from memory of Safari.
  const tapBeside = (awayPx: number) =>
    named('Start').evaluate((button, awayPx) => {
      const { right, top, height } = button.getBoundingClientRect()
      const about = { bubbles: true, cancelable: true, pointerId: 9, isPrimary: true, pointerType: 'touch' }
      const at = { clientX: right + awayPx, clientY: top + height / 2 }
      const under = document.elementFromPoint(at.clientX, at.clientY)!
      for (const kind of ['pointerdown', 'pointerup']) under.dispatchEvent(new PointerEvent(kind, { ...about, ...at }))
      button.dispatchEvent(new PointerEvent('click', { ...about, ...at, detail: 1 }))
    }, awayPx)
  await tapBeside(60)
  expect(await sent()).toEqual([])
  await tapBeside(8)
  await named('Pause').waitFor()
})

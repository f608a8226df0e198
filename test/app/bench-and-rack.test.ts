import type { Locator } from 'playwright-core'
import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, passMinutes, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** The first step, begun on the Bench with the key and in hand for 50 minutes. */
async function inHandFor50Minutes(app: Parameters<typeof goTo>[0]): Promise<Locator> {
  const { page } = app
  await goTo(app, '#/bench')
  await page.getByRole('region', { name: /^Next/ }).waitFor()
  await page.keyboard.press('s')
  const inHand = page.getByRole('region', { name: /^On the bench/ })
  await inHand.waitFor()
  await passMinutes(app, 50)
  await page.reload()
  await inHand.getByText('50 min').waitFor()
  return inHand
}

describe('the Bench', () => {
  test('speaks of tonight only where it is tonight: on a day off the glue-up is for another evening', async ({
    openApp,
  }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page, desk } = app
    const heading = (name: string) => page.getByRole('heading', { name, exact: true })
    await goTo(app, '#/bench')
    await heading('Start tonight by').waitFor()
    // A Sunday, when the shop is closed.
    valueOf(await desk.testSetClock({ now: '2026-03-08T15:00:00Z' }))
    await goTo(app, '#/bench')
    await heading('Start by').waitFor()
    await expect.poll(() => heading('Start tonight by').count()).toBe(0)
  })

  test('has the next thing large on top; one press starts, pauses, goes on, finishes and takes back', async ({
    openApp,
  }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    await goTo(app, '#/bench')

    await page.getByRole('button', { name: 'Start: Cut the boards, Wall shelf' }).click()
    const inHand = page.getByRole('region', { name: 'On the bench: Cut the boards, Wall shelf' })
    await inHand.waitFor()

    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByRole('region', { name: 'Next: Cut the boards, Wall shelf' }).waitFor()
    expect(valueOf(await app.desk.bench({ rows: 24 })).onTheBench).toEqual([])

    // The same by keys, and the way back is still offered after a restart.
    await page.keyboard.press('s')
    await inHand.waitFor()
    await page.keyboard.press('p')
    await page.getByRole('button', { name: 'Resume: Cut the boards, Wall shelf' }).waitFor()
    await page.keyboard.press('s')
    await inHand.waitFor()
    await page.keyboard.press('d')
    await page.getByRole('region', { name: 'Next: Glue the shelf, Wall shelf' }).waitFor()
    await page.reload()
    await page.getByText('Done: cut the boards of Wall shelf').waitFor()
    await page.keyboard.press('u')
    await inHand.waitFor()
  })

  test('on a phone Start and Done stay in view under a name of many lines, and above what the last press did', async ({
    openApp,
  }) => {
    const app = await openApp()
    await takeSmallOrder(
      app,
      'Ada Quist',
      'Wall shelf of walnut with three hidden brackets, a lip at the front and a rail for spoons',
    )
    const { page } = app
    await page.setViewportSize({ width: 390, height: 844 })
    await goTo(app, '#/bench')
    for (const word of [/^Start: Cut the boards/, /^Done: Cut the boards/, /^Start: Glue the shelf/]) {
      const button = page.getByRole('button', { name: word }).first()
      await button.waitFor()
      const isOnTop = () =>
        button.evaluate((press) => {
          const { x, y, width, height } = press.getBoundingClientRect()
          return (
            [y, y + height].every((at) => at >= 0 && at <= innerHeight) &&
            press.contains(document.elementFromPoint(x + width / 2, y + height / 2))
          )
        })
      await expect.poll(isOnTop).toBe(true)
      expect(await page.evaluate(() => scrollY)).toBe(0)
      await button.click()
    }
  })

  test('on a phone what has the focus, a question and the end of the page lie above what the last press did', async ({
    openApp,
  }) => {
    const app = await openApp()
    const shelf = 'Wall shelf of walnut with three hidden brackets, a lip at the front and a rail for spoons'
    await takeSmallOrder(app, 'Ada Quist', shelf)
    await takeSmallOrder(app, 'Ines Vale', 'Tray')
    const { page } = app
    await page.setViewportSize({ width: 390, height: 700 })
    await goTo(app, '#/bench')
    const covered = (what: Locator) =>
      what.evaluate((element) => {
        const said = document.querySelector('main + *')
        return Math.max(0, element.getBoundingClientRect().bottom - (said?.getBoundingClientRect().top ?? 0))
      })
    const atTheEdge = (what: Locator) =>
      what.evaluate((element) => scrollBy(0, element.getBoundingClientRect().bottom - innerHeight + 4))
    const close = page.getByRole('button', { name: 'Close', exact: true })

    // It has the focus at the edge of the page when the line comes.
    await page.getByRole('region', { name: /^Next: Cut the boards/ }).waitFor()
    await page.keyboard.press('s')
    await page.getByRole('region', { name: /^On the bench/ }).waitFor()
    await close.press('Enter')
    const other = page.getByRole('button', { name: /^Start: Cut the boards/ })
    await other.focus()
    await atTheEdge(other)
    await page.keyboard.press('p')
    await page
      .getByRole('status')
      .getByText(/^Paused: cut/)
      .waitFor()
    await expect.poll(() => covered(other)).toBe(0)
    await page.evaluate(() => scrollTo(0, document.documentElement.scrollHeight))
    expect(await covered(page.locator('main > *').last())).toBe(0)

    // The line is there when it is gone to.
    await page.keyboard.press('d')
    await page.getByRole('region', { name: /^Next: / }).waitFor()
    const ask = page.getByRole('button', { name: /^Do this on/ }).first()
    await ask.press('Enter')
    const day = page.getByLabel('Do it on')
    await day.waitFor()
    await ask.focus()
    await atTheEdge(day)
    await page.keyboard.press('Tab')
    await expect.poll(() => covered(day)).toBe(0)

    // A question that opens at the edge.
    const already = page.getByRole('button', { name: /^Already done/ })
    await already.focus()
    await already.evaluate((button) => scrollBy(0, button.getBoundingClientRect().bottom - innerHeight + 200))
    await already.press('Enter')
    const question = page.locator('form', { has: page.getByLabel('How long did it take?') })
    await question.waitFor()
    await expect.poll(() => covered(question)).toBe(0)
  })

  test('Done stays where it is when a step is paused, and Resume takes the place of Pause', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 })
      await goTo(app, '#/bench')
      await page.getByRole('button', { name: /^(Start|Resume): Cut the boards/ }).click()
      await page.getByRole('region', { name: /^On the bench/ }).waitFor()
      const placeOf = async (word: string) => {
        const button = page.getByRole('button', { name: `${word}: Cut the boards, Wall shelf` })
        await page.getByRole('button', { name: 'Close', exact: true }).click()
        return button.boundingBox()
      }
      const pause = await placeOf('Pause')
      const done = await page.getByRole('button', { name: /^Done: Cut the boards/ }).boundingBox()
      await page.keyboard.press('p')
      await page.getByRole('region', { name: /^Paused: Cut the boards/ }).waitFor()
      expect(await placeOf('Resume')).toEqual(pause)
      expect(await page.getByRole('button', { name: /^Done: Cut the boards/ }).boundingBox()).toEqual(done)
    }
  })

  test.for([
    { key: 'p', state: 'paused' },
    { key: 'd', state: 'done' },
  ])('takes the key $key where it asks until when', async ({ key, state }, { openApp }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    const [step] = valueOf(await app.desk.bench({ rows: 24 })).canStart
    valueOf(await app.desk.stepStart({ stepId: step!.stepId }))
    await passMinutes(app, 24 * 60)
    const { page } = app
    await goTo(app, '#/bench')
    await page.getByLabel('Until when did you work on it?').waitFor()
    await page.keyboard.press(key)
    await page.getByRole('status').getByText('cut the boards of Wall shelf').waitFor()
    const worked = valueOf(await app.desk.commission({ id })).pieces[0]?.steps[0]
    expect(worked).toMatchObject({ state, workedMinutes: 30 })
  })

  test('a failure is said at the step: once it is begun, or at the one after it; two presses, and one takes it back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    const { page, desk } = app
    const lost = async () =>
      valueOf(await desk.commission({ id })).pieces.flatMap(({ steps }) =>
        steps.flatMap((step) => (step.lost ? [step.name] : [])),
      )
    await goTo(app, '#/bench')
    await page.getByRole('region', { name: /^Next: Cut the boards/ }).waitFor()
    // Nothing was begun: there is nothing that could have failed.
    await expect.poll(() => page.getByRole('button', { name: / failed/ }).count()).toBe(0)
    await page.keyboard.press('s')
    await page.getByRole('button', { name: /^It failed ?: Wall shelf$/ }).press('Enter')
    const form = page.getByRole('region', { name: 'Cut the boards failed' })
    await expect.poll(() => form.getByLabel('What failed').inputValue()).toBe('crack')
    expect(await lost()).toEqual([])
    await form.getByRole('button', { name: 'Cancel' }).press('Enter')
    await form.waitFor({ state: 'detached' })
    await page
      .getByRole('button', { name: /^It failed ?: Wall shelf$/ })
      .and(page.locator(':focus'))
      .waitFor()
    await page.keyboard.press('d')
    await page.getByRole('region', { name: /^Next: Glue the shelf/ }).waitFor()
    await page.getByRole('button', { name: 'Cut the boards failed: Wall shelf' }).press('Enter')
    expect(await accessibilityProblems(page)).toEqual([])
    await form.getByRole('textbox', { name: 'What happened' }).fill('cracked')
    await form.getByRole('button', { name: 'Make it again' }).press('Enter')
    await page
      .getByRole('status')
      .getByText(/^Failed: cut the boards of Wall shelf/)
      .waitFor()
    await page.getByRole('region', { name: /^Next: Cut the boards/ }).waitFor()
    expect(await lost()).toEqual(['Cut the boards'])
    await page.getByRole('button', { name: 'Undo', exact: true }).press('Enter')
    await page.getByRole('region', { name: /^Next: Glue the shelf/ }).waitFor()
    expect(await lost()).toEqual([])
  })

  test('after a failure of one of three the key P still pauses, and promises no other day', async ({ openApp }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf', '3')
    const { page, desk } = app
    const { nowMs } = valueOf(await desk.shopState())
    const tomorrow = new Date(nowMs + 24 * 3_600_000).toISOString().slice(0, 10)
    valueOf(await desk.commissionChange({ id, changes: { promisedFor: tomorrow } }))
    await goTo(app, '#/bench')
    await page.getByRole('region', { name: /^Next: Cut the boards/ }).waitFor()
    await page.keyboard.press('s')
    await page.getByRole('button', { name: /^It failed ?: Wall shelf$/ }).press('Enter')
    const form = page.getByRole('region', { name: 'Cut the boards failed' })
    await form.getByLabel('How many').selectOption('1')
    await form.getByRole('button', { name: 'Make 1 of 3 again' }).press('Enter')
    await page.getByRole('button', { name: /^Promise .* instead/ }).waitFor()
    await page.getByRole('region', { name: /^On the bench: Cut the boards/ }).waitFor()
    await page.keyboard.press('p')
    await page.getByRole('region', { name: /^Paused: Cut the boards/ }).waitFor()
    expect(valueOf(await desk.commission({ id })).promisedFor).toBe(tomorrow)
  })

  test('counts the worked minutes, and makes up for a press that was forgotten', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    const inHand = await inHandFor50Minutes(app)

    await inHand.getByLabel('finished').selectOption({ label: '15 min ago' })
    await inHand.getByRole('button', { name: /^Done/ }).click()
    await page.getByRole('region', { name: /^Next/ }).waitFor()
    const [row] = valueOf(await app.desk.orderBook()).open
    const commission = valueOf(await app.desk.commission({ id: row?.commissionId ?? '' }))
    expect(commission.pieces[0]?.steps[0]).toMatchObject({ state: 'done', workedMinutes: 35 })
  })

  test('a pause that was made up for says nothing of when the next stretch ends', async ({ openApp }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    const { page } = app
    const inHand = await inHandFor50Minutes(app)
    await inHand.getByLabel('finished').selectOption({ label: '15 min ago' })
    await inHand.getByRole('button', { name: /^Pause/ }).click()
    await page.getByRole('button', { name: /^Resume/ }).click()
    await inHand.waitFor()
    await expect.poll(() => inHand.getByLabel('finished').inputValue()).toBe('0')
    await inHand.getByRole('button', { name: /^Done/ }).click()
    await page.getByRole('region', { name: /^Next: Glue the shelf/ }).waitFor()
    const worked = valueOf(await app.desk.commission({ id })).pieces[0]?.steps[0]
    expect(worked).toMatchObject({ state: 'done', workedMinutes: 35 })
  })

  test('what was asked about one step is not asked about the next one that takes its place', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    await goTo(app, '#/bench')
    await page.getByRole('button', { name: /^Already done: Cut the boards/ }).press('Enter')
    const minutes = page.getByLabel('How long did it take?')
    await minutes.fill('25 min')
    await minutes.press('Enter')
    await page.getByRole('region', { name: /^Next: Glue the shelf/ }).waitFor()
    await expect.poll(() => minutes.count()).toBe(0)
  })

  test('says what a step waits for, and lets it be started when it happened anyway', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    await workOff(app, 2)
    const { page } = app
    await goTo(app, '#/bench')
    const [later] = valueOf(await app.desk.bench({ rows: 24 })).comingUp
    const region = page.getByRole('region', { name: `Next, later: ${later?.name}, Wall shelf` })
    await region.getByText(later?.hindrance ?? '', { exact: true }).waitFor()
    await region.getByRole('button', { name: /^Start anyway/ }).click()
    await page.getByRole('region', { name: `On the bench: ${later?.name}, Wall shelf` }).waitFor()
  })

  test('offers the second coat on five shelves that take up five of eight places on the rack', async ({ openApp }) => {
    const app = await openApp()
    valueOf(await app.desk.almanacChangeFact({ key: 'stations.clamps.capacity', input: '40' }))
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf', '5')
    for (let presses = 0; presses < 20; presses += 1) {
      const { canStart, comingUp } = valueOf(await app.desk.bench({ rows: 24 }))
      if (canStart[0]?.name === 'Second coat') break
      const next = canStart[0] ?? comingUp[0]
      if (next === undefined) throw new Error('The second coat never comes.')
      valueOf(await app.desk.testSetClock({ now: new Date((next.plannedAt ?? 0) * 60_000).toISOString() }))
      if (next.name === 'Second coat') break
      valueOf(await app.desk.stepStart({ stepId: next.stepId }))
      await passMinutes(app, next.handsOnMinutes)
      valueOf(await app.desk.stepDone({ stepId: next.stepId }))
    }
    expect(valueOf(await app.desk.rack()).stations).toContainEqual(
      expect.objectContaining({ id: 'rack', used: 5, capacity: 8 }),
    )
    await goTo(app, '#/bench')
    await app.page.getByRole('region', { name: /^Next: Second coat/ }).waitFor()
    await app.page.keyboard.press('s')
    await app.page.getByRole('region', { name: /^On the bench: Second coat/ }).waitFor()
  })

  test('says at once what a press did, and is gray until what follows from it is worked out', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    await goTo(app, '#/bench')
    await page.getByRole('region', { name: /^Next/ }).waitFor()
    const { letGo } = await holdAnswer(page, 'caughtUp')
    await page.keyboard.press('s')
    await page.getByRole('status').getByText('Started: cut the boards').waitFor()
    const gray = () => page.getByRole('main').evaluate((main) => getComputedStyle(main).filter)
    await expect.poll(gray).toBe('grayscale(1)')
    expect(await accessibilityProblems(page)).toEqual([])
    letGo()
    await expect.poll(gray).toBe('none')
    await page.getByRole('region', { name: /^On the bench/ }).waitFor()
  })

  test('stays gray after the plan is there, until the answer to the screen stands', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page } = app
    await goTo(app, '#/bench')
    await page.getByRole('region', { name: /^Next/ }).waitFor()
    const { letGo } = await holdAnswer(page, 'bench')
    const planned = page.waitForResponse((response) => response.request().postData()?.includes('"caughtUp"') === true)
    await page.keyboard.press('s')
    await (await planned).finished()
    // Past the moment in which the page draws what it heard.
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))))
    const gray = () => page.getByRole('main').evaluate((main) => getComputedStyle(main).filter)
    await expect.poll(gray).toBe('grayscale(1)')
    await page.getByRole('region', { name: /^Next: Cut the boards/ }).waitFor()
    letGo()
    await page.getByRole('region', { name: /^On the bench/ }).waitFor()
    await expect.poll(gray).toBe('none')
  })

  test('on an order’s page nothing is gray any more while what would help is still looked for', async ({ openApp }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    const { page, desk } = app
    // As if it could be waited for without end.
    await page.addInitScript(() => {
      const after = window.setTimeout.bind(window)
      window.setTimeout = ((run: () => void, ms?: number) => (ms === 10_000 ? 0 : after(run, ms))) as typeof setTimeout
    })
    await goTo(app, `#/commission/${id}`)
    await page.getByRole('heading', { name: 'What would help' }).waitFor()
    const [step] = valueOf(await desk.bench({ rows: 24 })).canStart
    valueOf(await desk.stepStart({ stepId: step!.stepId }))
    const undo = page.getByRole('button', { name: 'Undo: Started: cut the boards of Wall shelf' })
    await undo.waitFor()
    const { letGo } = await holdAnswer(page, 'whatWouldHelp')
    await undo.click()
    await page.getByRole('status').getByText('Undone.').waitFor()
    await expect.poll(() => page.getByRole('main').getAttribute('aria-busy')).toBe('false')
    letGo()
  })

  test('of many steps that can be started two dozen are listed, the others on a press', async ({ openApp }) => {
    const app = await openApp()
    for (let number = 1; number <= 26; number++) await takeSmallOrder(app, `Customer ${number}`)
    const { page } = app
    await goTo(app, '#/bench')
    const listed = page.getByRole('button', { name: /^Start: Cut the boards/ })
    await expect.poll(() => listed.count()).toBe(24)
    await page.getByRole('button', { name: 'Show 2 more of 26' }).press('Enter')
    await expect.poll(() => listed.count()).toBe(26)
    await expect.poll(() => page.getByRole('button', { name: /^Show \d+ more/ }).count()).toBe(0)
    // Who works by keyboard goes on at the first of them.
    const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))
    await expect.poll(focused).toMatch(/^Start: /)
    await expect.poll(() => listed.nth(24).evaluate((row) => row === document.activeElement)).toBe(true)
  })

  test('says what will be here while there is nothing', async ({ openApp }) => {
    const app = await openApp()
    await goTo(app, '#/bench')
    await app.page.getByRole('button', { name: 'Skip all for now' }).click()
    await app.page.getByRole('link', { name: 'Take an order' }).click()
    await expect.poll(() => app.page.url()).toContain('#/new-order')
  })
})

describe('the Rack', () => {
  test('a glue-up that is seen to fail in its clamps is said from there', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    await workOff(app, 2)
    await goTo(app, '#/rack')
    const { page } = app
    await page.getByRole('link', { name: /^It failed ?: Wall shelf$/ }).click()
    const log = page.getByRole('region', { name: 'Log of Glue the shelf' })
    await expect.poll(() => log.getByLabel('What failed').inputValue()).toBe('glue-up')
    await expect.poll(() => log.getByLabel('Again from').locator('option:checked').innerText()).toBe('Glue the shelf')
    await log.getByRole('button', { name: 'Make it again' }).waitFor()
  })

  test('draws how many places are taken, and by what until when', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    await workOff(app, 2)
    await goTo(app, '#/rack')
    const { stations, waiting } = valueOf(await app.desk.rack())
    expect(stations.find(({ id }) => id === 'clamps')?.used).toBe(4)
    const places = app.page.getByRole('list', { name: 'Places in use' }).getByRole('listitem')
    await expect
      .poll(async () => (await places.allInnerTexts()).map((text) => text.replace(/\s+/g, ' ')))
      .toEqual(stations.map(({ name, used, capacity }) => `${name} ${used} of ${capacity}`))
    const shelf = app.page.getByRole('article', { name: 'Wall shelf' }).first()
    await shelf.getByText(waiting[0]?.place ?? '', { exact: true }).waitFor()
    await shelf.getByRole('img', { name: /since .*, ready / }).waitFor()
  })

  test('counts down by itself; then the piece is ready, may be pushed back, and its next step starts with one press', async ({
    openApp,
  }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    // Boards, glue-up, clamps off, first coat: it dries for 12 hours.
    await workOff(app, 4)
    const { page } = app
    await page.clock.install()
    await goTo(app, '#/rack')
    const shelf = page.getByRole('article', { name: 'Wall shelf' })
    const left = shelf.getByText(/^ready in/)
    await left.waitFor()
    const before = await left.innerText()
    await page.clock.fastForward('00:02:00')
    await expect.poll(() => left.innerText()).not.toBe(before)
    await page.clock.resume()

    await passMinutes(app, 12 * 60)
    await page.reload()
    await shelf.getByText('Ready', { exact: true }).waitFor()
    // A sixth of the 12 hours that it has waited.
    await shelf.getByRole('button', { name: /Still tacky \+2 h/ }).click()
    await shelf.getByText(/ready in (2 h|1 h 59 min)/).waitFor()
    await page.getByRole('button', { name: 'Undo' }).click()

    await shelf.getByRole('button', { name: /^Start: second coat/i }).click()
    await expect
      .poll(async () => valueOf(await app.desk.bench({ rows: 24 })).onTheBench.map((step) => step.name))
      .toEqual(['Second coat'])
  })
})

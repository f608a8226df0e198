import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

describe('the weeks ahead', () => {
  test('are walked by keyboard: lanes up and down, bars left and right, reasons with Enter', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    const { page, desk } = app
    await goTo(app, '#/weeks')
    const lanes = page.getByRole('list', { name: 'One line for each piece' }).getByRole('button')
    await lanes.first().focus()
    await page.keyboard.press('ArrowDown')
    await expect.poll(() => lanes.nth(1).evaluate((lane) => lane === document.activeElement)).toBe(true)

    const lane = valueOf(await desk.weeksAhead({ weeks: 2 })).lanes[1]
    const bars = (lane?.bars ?? []).toSorted((one, other) => one.fromAt - other.fromAt || one.toAt - other.toAt)
    expect(bars.some((bar) => bar.kind === 'wait')).toBe(true)
    const reading = page.getByRole('status').filter({ hasText: / to / })
    for (const bar of bars) {
      await page.keyboard.press('ArrowRight')
      await reading.getByText(bar.name).waitFor()
    }
    await page.keyboard.press('ArrowLeft')
    await reading.getByText(bars.at(-2)?.name ?? '').waitFor()

    await page.keyboard.press('Enter')
    await expect.poll(() => lanes.nth(1).getAttribute('aria-expanded')).toBe('true')
    await page.getByRole('link', { name: `Open ${lane?.piece.customer}, no. ${lane?.piece.number}` }).waitFor()
    const why = valueOf(await desk.whyDate({ id: lane?.piece.commissionId ?? '' }))
    expect(why.length).toBeGreaterThan(0)
    for (const sentence of why) await page.getByText(sentence, { exact: true }).waitFor()
  })

  test('say of a promise that it comes after the day that the customer needs it: at the lane, in its slip, written out and aloud', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    valueOf(await desk.commissionChange({ id, changes: { promisedFor: '2026-03-12', neededBy: '2026-03-10' } }))
    await goTo(app, '#/weeks')
    const late = page.getByRole('button', { name: /Wall shelf.*but needed Tue, Mar 10$/ })
    await late.waitFor()
    const needed = page.getByText('but needed Tue, Mar 10', { exact: true })
    const tooLate = late.getByText('promised too late', { exact: true })
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 })
      await expect.poll(() => page.getByText('promised too late').count()).toBe(1)
      const [words, line] = [await tooLate.boundingBox(), await late.boundingBox()]
      expect(words!.x + words!.width).toBeLessThanOrEqual(line!.x + line!.width)
    }
    await late.press('Enter')
    await needed.waitFor()
    await page.getByRole('radio', { name: 'written out' }).press(' ')
    await page.getByRole('listitem').filter({ hasText: 'Ada Quist' }).filter({ hasText: 'but needed' }).waitFor()
    await expect.poll(() => needed.count()).toBe(1)
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('draw a lane for each piece, however many weeks are shown', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await takeSmallOrder(app, 'Bo Kestrel', 'Corner shelf')
    const { page, desk } = app
    await goTo(app, '#/weeks')
    for (const weeks of [4, 8, 12, 2]) {
      await page.getByText(`${weeks} weeks`, { exact: true }).click()
      const { lanes } = valueOf(await desk.weeksAhead({ weeks }))
      await expect
        .poll(() => page.getByRole('list', { name: 'One line for each piece' }).getByRole('button').count())
        .toBe(lanes.length)
    }
  })

  test('say when a piece starts that has no work in them', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionHold({ id, until: '2026-04-10', why: 'Customer travels' }))
    await goTo(app, '#/weeks')
    const lane = page.getByRole('list', { name: 'One line for each piece' }).getByRole('listitem')
    await lane.getByText(/^starts \w{3}, Apr \d+$/).waitFor()
    await page.getByText('8 weeks', { exact: true }).click()
    await lane.getByText(/^starts /).waitFor({ state: 'detached' })
  })

  test('say that no shop hours are set where no week has any, and lead there', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await takeSmallOrder(app)
    const { makers } = valueOf(await desk.almanac()).almanac
    for (const { id, name } of makers)
      valueOf(await desk.almanacSave({ list: 'makers', item: { id, name, attendance: '100%', hours: [] } }))
    await goTo(app, '#/weeks')
    await page.getByRole('heading', { name: 'No shop hours in these weeks' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('link', { name: 'Set them' }).click()
    await page.getByRole('heading', { name: 'Makers and hours' }).waitFor()
  })

  test('can be read instead, day by day', async ({ openApp }) => {
    const app = await openApp()
    await takeSmallOrder(app)
    const { page, desk } = app
    await goTo(app, '#/weeks')
    await page.getByText('written out').click()
    const work = valueOf(await desk.weeksAhead({ weeks: 2 })).lanes.flatMap((lane) =>
      lane.bars.filter((bar) => bar.kind === 'hands-on'),
    )
    expect(work.length).toBeGreaterThanOrEqual(5)
    for (const bar of work) await page.locator('main li').getByText(bar.name, { exact: true }).first().waitFor()
  })

  test('look for better dates when asked to, show them once they are there, and can be told to stop', async ({
    openApp,
  }) => {
    const app = await openApp({ demo: true })
    const { page, desk } = app
    await goTo(app, '#/weeks')
    const lanes = page.getByRole('list', { name: 'One line for each piece' }).getByRole('button')
    const shown = () => lanes.allInnerTexts()
    await expect.poll(() => lanes.count()).toBeGreaterThan(3)
    const before = await shown()

    await page.getByRole('button', { name: 'Look for better dates' }).focus()
    await page.keyboard.press('Enter')
    await page.getByText('Looking for better dates…').waitFor()
    await page.getByRole('button', { name: 'Stop looking' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByText('Better dates found').waitFor()
    const doneAts = valueOf(await desk.weeksAhead({ weeks: 2 })).lanes.map((lane) => lane.doneAt)
    expect(doneAts).toEqual(doneAts.toSorted((one, other) => (one ?? Infinity) - (other ?? Infinity)))
    await expect.poll(shown).not.toEqual(before)

    await page.getByRole('button', { name: 'Keep looking' }).press('Enter')
    await page.getByRole('button', { name: 'Stop looking' }).press('Enter')
    await page.getByRole('button', { name: 'Keep looking' }).waitFor()
  })

  test('tell under a lane what would help, worked out when it is unfolded', async ({ openApp }) => {
    const app = await openApp({ demo: true })
    const { page, desk } = app
    await goTo(app, '#/weeks')
    const lanes = page.getByRole('list', { name: 'One line for each piece' }).getByRole('button')
    const all = valueOf(await desk.weeksAhead({ weeks: 2 })).lanes
    // Lanes come into the page some a frame: the last one is the last only when all of them are there.
    await lanes.nth(all.length - 1).press('Enter')
    await page.getByRole('heading', { name: 'What would help' }).waitFor()
    const last = all.at(-1)
    // A better plan may come between the page's question and this one.
    const asTheDeskHasIt = async (): Promise<boolean> => {
      const help = valueOf(await desk.whatWouldHelp({ id: last?.piece.commissionId ?? '' }))
      return page.getByText(help ?? 'No single change gains enough.', { exact: help !== null }).isVisible()
    }
    await expect.poll(asTheDeskHasIt, { timeout: 120_000 }).toBe(true)
    expect(await accessibilityProblems(page)).toEqual([])
  })
})

import { describe, expect } from 'vitest'
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
    expect(await lanes.nth(1).getAttribute('aria-expanded')).toBe('true')
    await page.getByRole('link', { name: `Open ${lane?.piece.customer}, no. ${lane?.piece.number}` }).waitFor()
    for (const sentence of lane?.why ?? []) await page.getByText(sentence, { exact: true }).waitFor()
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
})

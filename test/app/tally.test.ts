import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { notWhole } from '../support/seen-and-pressed.ts'
import { goTo, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

describe('the Tally', () => {
  test('says what will be here while nothing was finished, then what came true of a promise', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/tally')
    await page.getByRole('heading', { name: 'Nothing to count yet' }).waitFor()
    await page.getByRole('link', { name: 'Take an order' }).waitFor()

    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
    await page.getByRole('table', { name: 'Hours planned, by week' }).waitFor()
    await workOff(app, 6)
    valueOf(await desk.commissionHandOver({ id }))
    await page.getByText('1 of 1 promises kept').waitFor()
    const { promises, byOrder } = valueOf(await desk.tally())
    const kept = page.getByRole('table', { name: 'Promises by stated chance' }).getByRole('row').nth(1)
    await expect.poll(() => kept.innerText()).toMatch(/1 of 1/)
    await expect.poll(() => kept.innerText()).toContain(promises.tenths[0]!.expected.toFixed(1))
    await page.getByText('No promise was late.').waitFor()
    const times = page.getByRole('table', { name: 'Time by order handed over' })
    await expect
      .poll(() => times.getByRole('rowheader').allInnerTexts())
      .toEqual([`No. ${byOrder[0]!.number}, Ada Quist`])
    await times.getByRole('link').click()
    await expect.poll(() => page.url()).toContain(`#/commission/${id}`)
  })

  test('opens with its key, and says the rule it counts by', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await takeSmallOrder(app)
    await goTo(app, '#/bench')
    await page.getByRole('heading', { level: 1 }).waitFor()
    await page.keyboard.press('t')
    await page.getByRole('heading', { name: 'Promises kept' }).waitFor()
    await page.getByText('how it counts Promises kept').locator('..').press('Enter')
    await page.getByText('all work on the order was finished by the end of the promised day').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('says on a phone what was made again and what that lost, with nothing beyond its edge', async ({ openApp }) => {
    const app = await openApp({ demo: true })
    const { page, desk } = app
    // A board that is glued up already: hours and wood of several figures.
    const orders = await Promise.all(
      valueOf(await desk.orderBook()).open.map(async ({ commissionId: id }) => valueOf(await desk.commission({ id }))),
    )
    const steps = orders.flatMap(({ pieces }) => pieces.map(({ steps }) => steps))
    const done = steps.find((each) => each.some(({ name, state }) => name === 'Second glue-up' && state === 'done'))
    const [from, failed] = [done?.[0], done?.find(({ name }) => name === 'Second glue-up')]
    const which = { fromStepId: from?.stepId ?? '', stepId: failed?.stepId ?? '' }
    valueOf(await desk.stepFailed({ ...which, count: 1, reason: 'mistake', note: '' }))
    await page.setViewportSize({ width: 390, height: 844 })
    await goTo(app, '#/tally')
    const row = page.getByRole('region', { name: 'Made again' }).getByRole('row', { name: /^Mistake 1 1 / })
    await row.waitFor()
    await expect.poll(() => notWhole(page, 'none')).toEqual([])
    const beyond = () =>
      row.evaluate((each) => {
        const section = each.closest('section')?.getBoundingClientRect().right ?? 0
        return Math.max(0, each.getBoundingClientRect().right - section)
      })
    await expect.poll(beyond).toBeLessThan(1)
  })
})

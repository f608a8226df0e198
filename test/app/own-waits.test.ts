import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { coatABoard } from './support/coated-board.ts'
import { goTo, passMinutes, valueOf } from './support/small-order.ts'

const drying = async ({ desk }: OpenApp) => valueOf(await desk.rack()).waiting.find(({ state }) => state === 'drying')

test('one press says that a coat was ready early; after three the Rack asks, and the Almanac keeps the answer', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk } = app
  for (const board of ['first', 'second', 'third']) {
    await coatABoard(app, 'wiping_oil_varnish')
    await passMinutes(app, 13 * 60)
    await goTo(app, '#/rack')
    await page.getByRole('button', { name: /^Ready now/ }).click()
    const start = page.getByRole('button', { name: /^Start: Second coat/ })
    await start.waitFor()
    if (board === 'first') {
      await page.getByRole('button', { name: /^Undo/ }).click()
      await page.getByRole('button', { name: /^Ready now/ }).click()
      expect(await accessibilityProblems(page)).toEqual([])
    }
    await start.click()
    await start.waitFor({ state: 'detached' })
    const { onTheBench } = valueOf(await desk.bench({ rows: 24 }))
    valueOf(await desk.stepDone({ stepId: onTheBench[0]?.stepId ?? '' }))
    valueOf(await desk.commissionCallOff({ id: valueOf(await desk.orderBook()).open[0]?.commissionId ?? '' }))
  }
  const asked = page.getByRole('region', { name: 'Your own waits' })
  await asked.getByText('0.5 times the label').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await asked.getByRole('button', { name: 'Use mine' }).click()
  await asked.waitFor({ state: 'detached' })

  await goTo(app, '#/almanac')
  await page
    .getByRole('navigation', { name: 'Pages of the Almanac' })
    .getByRole('button', { name: 'Your times' })
    .click()
  await page.getByRole('button', { name: 'Using yours: 0.5 times the label', pressed: true }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await expect.poll(() => drying(app)).toBeUndefined()
})

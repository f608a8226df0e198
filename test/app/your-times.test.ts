import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, valueOf } from './support/small-order.ts'

test('a maker says how fast he is, sees it beside the book, plans with it, and finds it in the history', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk } = app
  await goTo(app, '#/almanac')
  await page
    .getByRole('navigation', { name: 'Pages of the Almanac' })
    .getByRole('button', { name: 'Your times' })
    .click()
  await page.getByLabel('Rip 10 strips, minutes').fill('soon')
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByText('Enter minutes, such as 25.').waitFor()
  await page.getByLabel('Rip 10 strips, minutes').fill('25')
  await page.getByRole('button', { name: 'Save' }).click()
  const plan = page.getByRole('group', { name: 'Plan Rip strips with' })
  await plan.getByRole('button', { name: 'Use mine' }).click()
  await plan.getByRole('button', { name: /^Using yours/, pressed: true }).waitFor()
  const { times, history } = valueOf(await desk.yourTimes())
  expect(times[0]).toMatchObject({ operation: 'rip-strips', use: 'mine', pieces: 0 })
  expect(history).toHaveLength(2)
  await page.getByText(/^Rip strips: yours/).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
})

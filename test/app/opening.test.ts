import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

test('the frame and the heading stand before the order book is open, and say no time that is not the shop’s', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page } = app
  await takeSmallOrder(app)
  await goTo(app, '#/bench')
  const { letGo } = await holdAnswer(page, 'shopState')
  await page.reload()
  await page.getByRole('heading', { name: 'Bench', exact: true }).waitFor()
  await page.getByRole('link', { name: 'New order' }).waitFor()
  await page.getByText('Opening the order book…').waitFor()
  await expect.poll(() => page.locator('.clock').innerText()).toMatch(/^\s*$/)
  // The Bench's own answer may be there by now: nothing of it is told by a clock that is not the shop's.
  await expect.poll(() => page.getByRole('main').getByRole('button').count()).toBe(0)
  expect(await accessibilityProblems(page)).toEqual([])

  // What is pressed meanwhile is opened as soon as it can be.
  await page.getByRole('link', { name: 'Rack' }).click()
  letGo()
  await page.getByRole('heading', { name: 'Rack' }).waitFor()
  await expect.poll(() => page.getByText('Opening the order book…').count()).toBe(0)
  await page.getByRole('link', { name: 'Bench', exact: true }).click()
  await page
    .getByRole('button', { name: /^Start/ })
    .first()
    .waitFor()
})

test('the first screen comes as one file of code and one of styles', async ({ app: { page } }) => {
  const text = await page.evaluate(async () => (await fetch('/')).text())
  expect(text.match(/<script/g)).toHaveLength(1)
  expect(text.match(/<link rel="(stylesheet|modulepreload)"/g)).toHaveLength(1)
})

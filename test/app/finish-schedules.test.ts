import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, valueOf } from './support/small-order.ts'

test('a maker writes a finish schedule in the Almanac and chooses it in a new order', async ({ openApp }) => {
  const app = await openApp()
  const { page, desk } = app
  await goTo(app, '#/almanac')
  const pages = page.getByRole('navigation', { name: 'Pages of the Almanac' })
  await pages.getByRole('button', { name: 'Finishes' }).click()
  await page.getByRole('button', { name: 'Add a schedule' }).click()
  await page.getByLabel('Name', { exact: true }).fill('Oiled, then lacquered')
  const first = page.getByRole('listitem', { name: 'Layer 1' })
  await first.getByLabel('Finish').selectOption({ label: 'Mineral oil and wax' })
  await page.getByRole('button', { name: 'Add another finish on top' }).click()
  const second = page.getByRole('listitem', { name: 'Layer 2' })
  await second.getByLabel('Finish').selectOption({ label: 'Lacquer' })
  const spray = page.getByRole('complementary', { name: 'Before you spray' })
  await expect.poll(() => spray.count()).toBe(0)
  await second.getByLabel('How').selectOption({ label: 'Sprayed' })
  await spray.getByText(/exhaust fan.*clean filter/).waitFor()
  await spray.getByText(/^Follow local codes/).waitFor()
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  // Nothing holds on an oil that never hardens: said at the layer that would come off.
  await second.getByText(/doesn’t stick to mineral oil and wax/).waitFor()
  await first.getByLabel('Finish').selectOption({ label: 'Shellac' })
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByText('1 × Shellac, wiped · 1 × Lacquer, sprayed').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])

  await goTo(app, '#/new-order')
  await page.getByLabel('Finish', { exact: true }).selectOption({ label: 'Oiled, then lacquered' })
  const saved = valueOf(await desk.almanac()).almanac.finishSchedules.at(-1)
  expect(saved).toMatchObject({ name: 'Oiled, then lacquered', layers: [{ finish: 'shellac' }, { method: 'spray' }] })
})

test('a table’s base gets a finish of its own in the order: its coats, its waits and its name are in the steps', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page } = app
  await goTo(app, '#/new-order')
  await page.getByLabel('Piece', { exact: true }).selectOption({ label: 'Small table or bench' })
  await page.getByLabel('Finish', { exact: true }).selectOption({ label: 'Brushed polyurethane' })
  const own = page.getByLabel('Finish on the base')
  await page.getByText('More options').click()
  await expect.poll(() => own.count()).toBe(0)
  await page.getByLabel('Finish of the base').selectOption({ label: 'Its own' })
  await own.selectOption({ label: 'Shellac' })
  await page.getByLabel('Coats on the base').fill('2')
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByText('First coat, base').first().waitFor({ state: 'attached' })
  await page.getByText('Third coat, top').first().waitFor({ state: 'attached' })
})

import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { coatABoard } from './support/coated-board.ts'
import { goTo, valueOf } from './support/small-order.ts'

test('a maker names a place in the Almanac, carries a wet piece there on the Rack, and undoes it', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk } = app
  await goTo(app, '#/almanac')
  await page.getByRole('navigation', { name: 'Pages of the Almanac' }).getByRole('button', { name: 'Stations' }).click()
  await page.getByRole('button', { name: 'Add a place' }).click()
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByText('What do you call it? Like: Boiler room.').waitFor()
  await page.getByLabel('Name').fill('Spare room')
  await page.getByLabel('What it is').selectOption({ label: 'House' })
  await page.getByText('No solvent, no formaldehyde: people live there.').waitFor()
  await page.getByLabel('Temperature').fill('70 F')
  await page.getByLabel('Use it in plans').uncheck()
  await page.getByRole('button', { name: 'Save' }).click()
  await page.getByText('House · 70 °F', { exact: false }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])

  await coatABoard(app, 'tung_pure')
  await goTo(app, '#/rack')
  await page.getByRole('button', { name: /^Move to Spare room/ }).click()
  await page.getByRole('button', { name: /^Back to the shop/ }).waitFor()
  await page.getByText('Spare room', { exact: true }).first().waitFor()
  expect(valueOf(await desk.rack()).waiting.find(({ state }) => state === 'drying')?.standsIn).toBe('Spare room')
  expect(await accessibilityProblems(page)).toEqual([])

  await page.getByRole('button', { name: /^Undo/ }).click()
  await page.getByRole('button', { name: /^Move to Spare room/ }).waitFor()

  // At 60 °F oil takes half as long again as at 70 °F (reference/waits.md, 3.2): a day more, which is worth a walk.
  valueOf(await desk.almanacChangeFact({ key: 'shop.temperature', input: '60 F' }))
  await goTo(app, '#/bench')
  const carry = page.getByRole('region', { name: 'Worth carrying' })
  await carry.getByText(/First coat soaking in|First coat drying/i).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await carry.getByRole('button', { name: /^Move to Spare room/ }).click()
  await carry.waitFor({ state: 'detached' })
  expect(valueOf(await desk.rack()).waiting.find(({ state }) => state === 'drying')?.standsIn).toBe('Spare room')
})

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

test('a customer gets the file of what is kept, and is erased by keyboard after the page said what goes and stays', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk, dataFolder } = app
  const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
  await goTo(app, '#/customers')
  const [saved] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save file of Ada Quist' }).press('Enter'),
  ])
  expect(readFileSync(await saved.path(), 'utf8')).toMatch(/Ada Quist[\s\S]*ORDER NO\. 1/)

  const ask = page.getByRole('button', { name: 'Erase Ada Quist' })
  await ask.press('Enter')
  await page.getByText('Still open: no. 1').waitFor()
  await page.keyboard.press('Escape')
  await expect.poll(() => page.getByText('Still open').count()).toBe(0)

  valueOf(await desk.commissionCallOff({ id, why: '' }))
  await ask.press('Enter')
  await page.getByText('You can’t undo this.').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByRole('button', { name: 'Erase for good' }).press('Enter')
  await page.getByText('Customer erased.').waitFor()
  await expect.poll(() => page.getByRole('heading', { name: 'Ada Quist' }).count()).toBe(0)
  await expect.poll(() => page.getByRole('button', { name: 'Undo' }).count()).toBe(0)
  expect(readFileSync(join(dataFolder, 'shop.sqlite')).includes('Ada Quist')).toBe(false)
  if (process.env['LOOK'] !== undefined) await page.screenshot({ path: `${process.env['LOOK']}/after.png` })
})

test('who is due to be erased stands first among the customers, and nobody is erased without a press', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk } = app
  const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf')
  valueOf(await desk.commissionCallOff({ id, why: '' }))
  valueOf(await desk.testSetClock({ now: '2040-06-01T15:00:00Z' }))
  await goTo(app, '#/customers')
  await page.getByRole('heading', { name: 'Due to be erased' }).waitFor()
  await page.getByRole('button', { name: 'Erase Ada Quist, who is due' }).press('Enter')
  await page.getByRole('heading', { name: 'Erase Ada Quist?' }).waitFor()
  if (process.env['LOOK'] !== undefined) {
    await page.setViewportSize({ width: 1280, height: 800 })
    await page.screenshot({ path: `${process.env['LOOK']}/wide.png`, fullPage: true })
    await page.setViewportSize({ width: 390, height: 800 })
    await page.screenshot({ path: `${process.env['LOOK']}/narrow.png`, fullPage: true })
    await page.emulateMedia({ colorScheme: 'dark' })
    await page.screenshot({ path: `${process.env['LOOK']}/dark.png`, fullPage: true })
  }
  await page.getByRole('button', { name: 'Cancel' }).press('Enter')
  expect(valueOf(await desk.customers({ sought: '', within: 'all', count: 50 })).found).toHaveLength(1)
})

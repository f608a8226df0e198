import { mkdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

test('a folder for copies is named by keyboard alone, and says what was copied', async ({ openApp, dataFolder }) => {
  const stick = `${dataFolder}-stick`
  await mkdir(stick)
  try {
    const app = await openApp()
    const { page } = app
    await takeSmallOrder(app)
    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Backups' }).press('Enter')
    const field = page.getByLabel('Folder for copies')
    await field.fill('stick')
    await field.press('Enter')
    await page.getByText('Type the whole path').waitFor()
    await field.fill(stick)
    await field.press('Enter')
    await page.getByText('The newest backup is there,').waitFor()
    await page.getByText('1 copy in this folder').press('Enter')
    await page.getByRole('button', { name: /^Open on this computer: copy of/ }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.setViewportSize({ width: 390, height: 844 })
    expect(await accessibilityProblems(page)).toEqual([])
    await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true)
  } finally {
    await rm(stick, { recursive: true })
  }
})

test('a damaged order book is rescued through the page: what is missing is shown before anything is opened', async ({
  openApp,
  dataFolder,
}) => {
  const before = await openApp()
  await takeSmallOrder(before)
  await before.close()
  await rm(join(dataFolder, 'backups'), { recursive: true })
  const file = new SqliteFile(join(dataFolder, 'shop.sqlite'))
  file.pragma('foreign_keys = off')
  file.exec('delete from customer; drop table announced_start')
  file.close()
  await writeFile(join(dataFolder, 'note.txt'), 'mine')

  const { page } = await openApp()
  await page.getByRole('heading', { name: 'The order book could not be opened' }).waitFor()
  await page.getByRole('button', { name: 'Show what can be read' }).press('Enter')
  await page.getByText('1 order can be read.').waitFor()
  await page.getByText('Order no. 1: who ordered it is lost').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByRole('button', { name: 'Open what can be read' }).press('Enter')
  await page.getByRole('navigation', { name: 'Screens' }).waitFor()
  await page.goto(page.url().replace(/#.*$/, '#/orders'))
  await page.getByText('(name lost)').first().waitFor()
})

import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

/** Text of the file that a press on this button hands out. */
async function saved(page: Page, name: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name, exact: true }).click(),
  ])
  return readFile(await download.path(), 'utf8')
}

/** What a calendar on this computer gets at an address. */
const calendarAt = async (address: string): Promise<{ status: number; body: string }> => {
  const reply = await fetch(address)
  return { status: reply.status, body: await reply.text() }
}

describe('taking everything along through the page', () => {
  test('switches a calendar address on, makes a new one, and switches it off', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await takeSmallOrder(app)
    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Take it with you' }).click()
    const field = page.getByLabel('Address to subscribe to')
    await page.getByRole('button', { name: 'Switch on the calendar address' }).click()
    const first = await field.inputValue()
    expect(await accessibilityProblems(page)).toEqual([])
    expect((await calendarAt(first)).body).toContain('DTSTART;VALUE=DATE:20260530')
    await page.getByRole('button', { name: 'Make a new address' }).click()
    await page.getByText('The old address is off.').waitFor()
    expect([(await calendarAt(first)).status, (await calendarAt(await field.inputValue())).status]).toEqual([404, 200])
    // A browser that is not asked by anybody who could allow it refuses.
    await page.getByRole('button', { name: 'Copy the address' }).click()
    await page.getByText('Not copied: the browser doesn’t allow it. Select the text and copy it yourself.').waitFor()
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
    await page.getByRole('button', { name: 'Copy the address' }).click()
    await page.getByText('Copied.', { exact: true }).waitFor()
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(await field.inputValue())
    await page.getByRole('button', { name: 'Switch off' }).click()
    await page.getByRole('button', { name: 'Switch on the calendar address' }).waitFor()
  })

  test('saves tables, calendar and the whole shop, and opens a whole shop from its file', async ({
    openApp,
    dataFolder,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await takeSmallOrder(app)
    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Take it with you' }).click()
    await page.getByRole('heading', { name: 'The whole shop (JSON)' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    expect(await saved(page, 'Save orders as CSV')).toContain('Ada Quist')
    expect(await saved(page, 'Save the calendar')).toContain('DTSTART;VALUE=DATE:20260530')
    const whole = await saved(page, 'Save everything')
    expect(JSON.parse(whole)).toMatchObject({ format: 'out-of-clamps-shop' })

    await takeSmallOrder(app, 'Tam Reyes')
    const file = join(dataFolder, 'whole.json')
    await writeFile(file, whole.slice(0, 2000))
    const chooser = page.getByLabel('File saved under “Everything”')
    await chooser.setInputFiles(file)
    await page.getByText('This file is damaged').waitFor()
    await expect.poll(() => page.getByRole('button', { name: 'Open this shop' }).count()).toBe(0)
    expect(valueOf(await desk.orderBook()).open).toHaveLength(2)

    await writeFile(file, whole)
    await chooser.setInputFiles(file)
    await page.getByText('Only in your present order book: no. 2 (Tam Reyes) and').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'Open this shop' }).click()
    await page.getByText('The shop from whole.json is open.').waitFor()
    expect(valueOf(await desk.orderBook()).open.map(({ customer }) => customer)).toEqual(['Ada Quist'])
    expect(await accessibilityProblems(page)).toEqual([])
  })
})

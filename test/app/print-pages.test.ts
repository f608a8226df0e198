import { describe, expect } from 'vitest'
import { commissionAddress } from '../../renderer/screens.ts'
import { test } from '../support/app.ts'
import { pdfPages } from '../support/pdf-text.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

const FORMATS = ['Letter', 'A4'] as const
const squeezed = (text: string): string => text.replaceAll(/\s+/g, ' ')

describe('on paper', () => {
  test.for([
    { address: '#/bench', head: 'Bench', says: ['Cut the boards', 'Wall shelf', 'Ada Quist'] },
    { address: '#/rack', head: 'Rack', says: ['Clamps', 'Drying rack'] },
    { address: '#/orders', head: 'Order book', says: ['Ada Quist', 'Wall shelf', 'May 30', 'Promised', 'On time?'] },
    { address: '#/weeks', head: 'Weeks ahead', says: ['Ada Quist', 'Wall shelf'] },
  ])('$head is a page without anything to press, with its name on every sheet', async (screen, { openApp }) => {
    const app = await openApp()
    const { page } = app
    await takeSmallOrder(app)
    await goTo(app, screen.address)
    await page.getByRole('heading', { name: screen.head, level: 1 }).waitFor()
    await page
      .getByText(screen.says[0] ?? '')
      .first()
      .waitFor()
    for (const format of FORMATS) {
      const pages = (await pdfPages(await page.pdf({ format, preferCSSPageSize: false }))).map(squeezed)
      for (const [at, text] of pages.entries()) {
        expect(text, format).toContain(`${screen.head} · My shop`)
        expect(text, format).toContain(`${at + 1} of ${pages.length}`)
      }
      const all = pages.join(' ')
      for (const said of screen.says) expect(all, format).toContain(said)
      expect(all, format).not.toMatch(/Undo|Find|Keep looking|Show keys|written out|\bStart\b(?! tonight| by)/)
    }
    await page.emulateMedia({ media: 'print' })
    const pressed = page.locator(
      'button:visible:not(th button, .stays-on-paper), input:visible, select:visible, textarea:visible',
    )
    await expect.poll(() => pressed.count()).toBe(0)
  })

  test('a job ticket has number and name on every sheet, and its steps in the order of work', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    const id = await takeSmallOrder(app)
    await goTo(app, commissionAddress(id))
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
    // As long as a ticket of several pieces, so that there is more than one sheet.
    await page.evaluate(() => {
      const sheet = new CSSStyleSheet()
      sheet.replaceSync('@media print { article tbody tr { height: 90pt } }')
      document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet]
    })
    for (const format of FORMATS) {
      const pages = (await pdfPages(await page.pdf({ format, preferCSSPageSize: false }))).map(squeezed)
      expect(pages.length).toBeGreaterThan(1)
      for (const text of pages) expect(text, format).toContain('No. 1 · Ada Quist')
      const all = pages.join(' ')
      const steps = ['Cut the boards', 'Glue the shelf', 'Take off the clamps', 'First coat', 'Second coat', 'Pack it']
      const places = steps.map((step) => all.indexOf(step))
      expect(places.every((place) => place >= 0)).toBe(true)
      expect(places).toEqual(places.toSorted((a, b) => a - b))
    }
  })
})

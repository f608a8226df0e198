import { describe, expect } from 'vitest'
import { commissionAddress } from '../../renderer/screens.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder } from './support/small-order.ts'

describe('the job ticket', () => {
  test('is what a commission prints: every step with its box, waits and cautions, and nothing of the screen', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    const id = await takeSmallOrder(app)
    await goTo(app, commissionAddress(id))
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
    const ticket = page.getByRole('article', { name: 'Job ticket' })
    await expect.poll(() => ticket.count()).toBe(0)

    await page.emulateMedia({ media: 'print' })
    await ticket.waitFor()
    await expect.poll(() => page.getByRole('navigation').first().isVisible()).toBe(false)
    await expect
      .poll(() => page.getByRole('button', { name: 'Print the job ticket', includeHidden: true }).isVisible())
      .toBe(false)
    const text = await ticket.innerText()
    for (const expected of ['No. 1 · Ada Quist', 'Wall shelf', 'Promised for Sat', 'Then ', 'Caution 1.', 'as above'])
      expect(text).toContain(expected)
    const steps = await ticket.getByRole('rowheader').allInnerTexts()
    expect(steps.map((step) => step.trim())).toEqual([
      'Cut the boards',
      'Glue the shelf',
      'Take off the clamps (Glue the shelf)',
      'First coat',
      'Second coat',
      'Pack it',
    ])
    await expect.poll(() => ticket.locator('tbody svg').count()).toBe(steps.length)
    // A coat whose finish nobody named is taken for an oil: the rags must not be forgotten on paper either.
    expect(text).toMatch(/rags/i)
  })

  test.for(['Letter', 'A4'] as const)('goes onto whole sheets of %s', async (format, { openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, commissionAddress(await takeSmallOrder(app)))
    await page.getByRole('heading', { name: 'Ada Quist no. 1' }).waitFor()
    const pdf = (await page.pdf({ format, preferCSSPageSize: false })).toString('latin1')
    const sheet = format === 'Letter' ? /MediaBox \[0 0 612 792\]/ : /MediaBox \[0 0 59[45][.\d]* 84[12][.\d]*\]/
    expect(pdf).toMatch(sheet)
    expect(pdf.match(/\/Type \/Page\b/g)?.length).toBeLessThanOrEqual(2)
  })
})

import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { pdfPages } from '../support/pdf-text.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

describe('papers through the page', () => {
  test.for(['letter', 'a4'] as const)('an invoice is seen, issued and printed on %s', async (size, { openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
    valueOf(await desk.almanacChangeFact({ key: 'money.paper', input: size }))
    valueOf(await desk.almanacChangeFact({ key: 'money.tax1.rate', input: '7.25' }))
    await goTo(app, `#/commission/${id}`)
    const papers = page.getByRole('region', { name: 'Papers' })
    await papers.getByRole('button', { name: 'Write a paper' }).click()
    await papers.getByRole('combobox', { name: 'Paper' }).selectOption('invoice')
    await papers.getByRole('article', { name: 'Invoice' }).getByText('$402.46').first().waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await papers.getByRole('button', { name: 'Issue it' }).click()
    await page.getByRole('button', { name: 'Print or save as PDF' }).waitFor()
    await page.getByText('No. 1', { exact: true }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    const pdf = await page.pdf({ preferCSSPageSize: true })
    const sheet = size === 'letter' ? /MediaBox \[0 0 612 792\]/ : /MediaBox \[0 0 59[45][.\d]* 84[12][.\d]*\]/
    expect(pdf.toString('latin1')).toMatch(sheet)
    const [text = '', ...more] = await pdfPages(pdf)
    expect(more).toEqual([])
    for (const expected of ['Invoice', 'No. 1', 'Ada Quist', 'Wall shelf', '$375.25', '$27.21', '$402.46', 'Owed'])
      expect(text).toContain(expected)
    expect(text).not.toMatch(/Print|Copy|Order book/)
  })
})

import { describe, expect } from 'vitest'
import { writeMoney } from '../../core/money/money.ts'
import { PAPER_TITLES, type PaperKind } from '../../core/papers/paper.ts'
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

  test('the paper that was chosen last is seen, however late the answer about another one comes', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    const id = await takeSmallOrder(app)
    await goTo(app, `#/commission/${id}`)
    const letGo = Promise.withResolvers<void>()
    let isHeld = false
    await page.route('**/call', async (route) => {
      if (!isHeld && route.request().postData()?.includes('"paperPreview"') === true) {
        isHeld = true
        await letGo.promise
      }
      await route.continue()
    })
    const papers = page.getByRole('region', { name: 'Papers' })
    await papers.getByRole('button', { name: 'Write a paper' }).click()
    await expect.poll(() => isHeld).toBe(true)
    await papers.getByRole('combobox', { name: 'Paper' }).selectOption('care-card')
    const chosen = papers.getByRole('article', { name: PAPER_TITLES['care-card'] })
    await chosen.waitFor()
    const late = page.waitForResponse((response) => response.request().postData()?.includes('"confirmation"') === true)
    letGo.resolve()
    await (await late).finished()
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))))
    await expect.poll(() => chosen.isVisible()).toBe(true)
  })

  test('two windows that issue an invoice at the same moment get one number each, without a gap', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525 } }))
    await goTo(app, `#/commission/${id}`)
    const other = await page.context().newPage()
    await other.goto(page.url())
    const issue = await Promise.all(
      [page, other].map(async (each) => {
        const papers = each.getByRole('region', { name: 'Papers' })
        await papers.getByRole('button', { name: 'Write a paper' }).click()
        await papers.getByRole('combobox', { name: 'Paper' }).selectOption('invoice')
        await papers.getByRole('article', { name: 'Invoice' }).getByText('$375.25').first().waitFor()
        return papers.getByRole('button', { name: 'Issue it' })
      }),
    )
    // Both questions wait at the door, and are let in together.
    const asked = [Promise.withResolvers<void>(), Promise.withResolvers<void>()]
    const both = Promise.all(asked.map(({ promise }) => promise))
    for (const [at, each] of [page, other].entries())
      await each.route('**/call', async (route) => {
        if (route.request().postData()?.includes('"paperIssue"') === true) {
          asked[at]?.resolve()
          await both
        }
        await route.continue()
      })
    await Promise.all(issue.map((button) => button.click()))
    for (const each of [page, other]) await each.getByRole('button', { name: 'Print or save as PDF' }).waitFor()
    const said = await Promise.all(
      [page, other].map((each) => each.getByRole('heading', { name: /^Invoice no/ }).innerText()),
    )
    expect(said.sort()).toEqual(['Invoice no. 1', 'Invoice no. 2'])
    expect(valueOf(await desk.papers({ id })).map(({ number }) => number)).toEqual([2, 1])
  })

  test('every paper is read back from its PDF as it was issued', { timeout: 240_000 }, async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    valueOf(await desk.commissionChange({ id, changes: { priceMinor: 37_525, depositMinor: 20_500 } }))
    valueOf(await desk.almanacChangeFact({ key: 'money.tax1.rate', input: '7.25' }))
    valueOf(await desk.almanacChangeFact({ key: 'money.address', input: '4 Kiln Lane' }))
    // With what an hour costs an estimate is a range.
    for (const [name, input] of [
      ['payPerHourMinor', '28'],
      ['overheadYearMinor', '5400'],
      ['handsOnHoursYear', '644'],
    ] as const)
      valueOf(await desk.almanacChangeFact({ key: `money.${name}`, input }))
    const money = { kind: 'payment', amount: '205', how: 'check', day: '', reference: '1041' } as const
    valueOf(await desk.moneyEnter({ id, money }))
    const blank = { text: '', newDay: '', amends: '', credit: '' }
    let invoice = ''
    for (const [kind, title] of Object.entries(PAPER_TITLES) as [PaperKind, string][]) {
      const amends = kind === 'credit-note' ? { amends: invoice, credit: '37.52' } : {}
      const issued = valueOf(await desk.paperIssue({ id, form: { ...blank, ...amends, kind } }))
      if (kind === 'invoice') invoice = issued.id
      const { paper, number } = valueOf(await desk.paper({ id: issued.id }))
      await goTo(app, `#/paper/${id}/${issued.id}`)
      await page.getByRole('article', { name: title }).waitFor()
      const [text = '', ...more] = await pdfPages(await page.pdf({ preferCSSPageSize: true }))
      expect(more, kind).toEqual([])
      const printed = text.replaceAll(/\s+/g, '')
      const buyer = kind === 'simplified-invoice' ? [] : ['Ada Quist']
      if (kind === 'estimate')
        expect(text).toMatch(
          /Total as planned\s*\$402\.46\s*Total if it runs long\s*\$4\d\d\.\d\d\s*[^]*4 chances in 5/,
        )
      const says = [
        ...[title, `No. ${number}`, '4 Kiln Lane', ...buyer, ...paper.lines.map((line) => line.text)],
        ...paper.facts.flatMap((fact) => [fact.label, fact.text]),
        ...paper.sums.flatMap(({ label, minor }) => [label, writeMoney(minor, paper.currency, 'en-US')]),
        ...paper.texts.flatMap((each) => [each.heading, each.text]),
      ]
      for (const said of says) expect(printed, `${kind}: ${said}`).toContain(said.replaceAll(/\s+/g, ''))
    }
  })
})

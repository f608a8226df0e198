import { describe, expect } from 'vitest'
import { localDay } from '../../core/time/local-day.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, newestDraft, valueOf } from './support/small-order.ts'

/** The tests begin on Tuesday 3 March 2026; see usualInstant. */
const line = '2 boards 16x12 walnut/maple, by 25 April, oil, $380, deposit 100, with a juice groove'

const field = ({ page }: OpenApp, name: string) => page.getByRole('textbox', { name })

describe('New order', () => {
  test('takes a whole order by keyboard alone, in fewer keys than a minute has time for', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await page.getByRole('navigation').waitFor()
    await page.keyboard.press('n')
    await page.getByRole('textbox', { name: 'The whole order in one line' }).waitFor()
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('order-line')
    const keys = [line, 'Ana Feld', '555 0142']
    for (const typed of keys) {
      await page.keyboard.type(typed)
      await page.keyboard.press(typed === line ? 'Enter' : 'Tab')
    }
    // 40 words of five keys a minute is a slow typist.
    expect(keys.join(' ').length + 4).toBeLessThan(40 * 5)
    await page.keyboard.press('Control+Enter')
    await page.getByRole('heading', { name: 'Ana Feld no. 1' }).waitFor()

    const row = valueOf(await desk.orderBook()).open[0]
    expect(row).toMatchObject({ customer: 'Ana Feld', neededBy: '2026-04-25', totalMinor: 38000, paidMinor: 10000 })
    const taken = valueOf(await desk.commission({ id: row?.commissionId ?? '' }))
    expect(taken).toMatchObject({ standing: 'agreed', notes: '' })
    expect(taken.pieces[0]).toMatchObject({ piece: { count: 2 }, input: { juiceGroove: true } })
    expect(taken.pieces[0]?.piece.title).toContain('12" x 16"')
    // Promised is the day by whose end it is done 4 times in 5, never one before the plan's own.
    expect(taken.doneAt).not.toBeNull()
    const { timeZone } = valueOf(await desk.shopState())
    expect((taken.promisedFor ?? '') >= localDay(taken.doneAt ?? 0, timeZone)).toBe(true)
  })

  test('shows the date, its odds and the steps while typing, and puts an order in the book as asked about', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/new-order')
    await field(app, 'Name').fill('Otto Lind')
    await field(app, 'Phone or email').fill('otto@example.org')
    await page.getByText('You can promise').waitFor()
    await page.getByText('over 9 in 10').first().waitFor()
    await page.getByText('First glue-up', { exact: true }).waitFor()
    await page.getByRole('img', { name: /^Plan: / }).waitFor()
    await page.getByRole('button', { name: 'Save as inquiry' }).click()
    await page.getByRole('heading', { name: 'Otto Lind no. 1' }).waitFor()
    expect(valueOf(await desk.orderBook()).open[0]).toMatchObject({ standing: 'asked-about', promisedFor: null })
    await page
      .getByRole('status')
      .filter({ hasText: /^Saved as inquiry: No\. 1, / })
      .waitFor()
  })

  test.for([
    [390, 844],
    [820, 1180],
  ] as const)(
    'keeps the promise and both buttons in view at %i by %i, however far down',
    async ([width, height], { openApp }) => {
      const app = await openApp({ demo: true })
      const { page } = app
      await page.setViewportSize({ width, height })
      await goTo(app, '#/new-order')
      await page.getByText('over 9 in 10').first().waitFor()
      const said = page.getByRole('region', { name: 'Promise and price' })
      const parts = [
        field(app, 'Promise'),
        ...['Take the order', 'Save as inquiry'].map((name) => said.getByRole('button', { name })),
      ]
      /** Of each its share that can be pressed: within the window, with nothing over its middle. */
      const inView = () =>
        Promise.all(
          parts.map((part) =>
            part.evaluate((each) => {
              const { left, right, top, bottom } = each.getBoundingClientRect()
              const isWithin = left >= 0 && right <= innerWidth && top >= 0 && bottom <= innerHeight
              const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2)
              return isWithin && over !== null && each.contains(over)
            }),
          ),
        )
      for (const down of [0, 0.3, 0.6]) {
        await page.evaluate((down) => scrollTo(0, down * document.documentElement.scrollHeight), down)
        await expect.poll(inView, { message: `${down} down` }).toEqual([true, true, true])
      }
    },
  )

  test('an explanation that is open closes when the piece that it explains becomes another', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/new-order')
    await page.locator('dd.why').first().waitFor({ state: 'attached' })
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>('details:not(.beside)')) fold.open = true
    })
    const facts = await page.locator('dd.why details').count()
    await page.evaluate(() => {
      for (const why of document.querySelectorAll<HTMLDetailsElement>('dd.why details')) why.open = true
    })
    const open = page.locator('dd.why details[open]')
    await expect.poll(() => open.count()).toBe(facts)
    // Another size has other figures; those that stay the same stay open.
    await field(app, 'The whole order in one line').fill('1 end grain board 20x15')
    await page.keyboard.press('Enter')
    await expect.poll(() => open.count()).toBeLessThan(facts)
    await expect.poll(() => page.locator('dd.why details').count()).toBe(facts)
  })

  test('the same line entered again, also after a restart, adds nothing twice, and says so', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const said =
      '1 end-grain board 12x16 walnut/maple, oil, for Ana Feld, 14 Oak Street, 555 0142, with a dovetailed lid'
    await goTo(app, '#/new-order')
    for (const heard of [/^Filled in/, /1 piece was there already/]) {
      await field(app, 'The whole order in one line').fill(said)
      await page.keyboard.press('Enter')
      await page.getByText(heard).waitFor()
      await expect.poll(async () => (await newestDraft(desk))?.customer.name).toBe('Ana Feld')
      await page.reload()
      await expect.poll(() => field(app, 'Name').inputValue()).toBe('Ana Feld')
    }
    const draft = await newestDraft(desk)
    expect(draft?.pieces).toHaveLength(1)
    expect(draft?.customer).toMatchObject({ reach: '555 0142', secondReach: '', address: '14 Oak Street' })
    expect(draft?.notes).toBe('with a dovetailed lid')
  })

  test('keeps every keystroke when the app is closed in the middle of a word', async ({ openApp, dataFolder }) => {
    const first = await openApp({ dataFolder })
    await goTo(first, '#/new-order')
    await field(first, 'Name').pressSequentially('Ana Fel')
    await field(first, 'Cell size').fill('2 1/')
    await expect.poll(async () => (await newestDraft(first.desk))?.pieces[0]?.input['cell']).toBe('2 1/')
    await first.close()

    const again = await openApp({ dataFolder })
    await goTo(again, '#/new-order')
    await expect.poll(() => field(again, 'Name').inputValue()).toBe('Ana Fel')
    await expect.poll(() => field(again, 'Cell size').inputValue()).toBe('2 1/')
  })

  test('says beside a field what is wrong with it and what would do, and loses nothing that was typed', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/new-order')
    await field(app, 'Name').fill('Ana Feld')
    await field(app, 'Cell size').fill('two hands')
    const problem = page.getByText('“two hands” is not a size I can read')
    await problem.waitFor()
    await expect.poll(() => field(app, 'Cell size').getAttribute('aria-invalid')).toBe('true')

    await page.keyboard.press('Control+Enter')
    await page.getByText('Not saved').waitFor()
    // The first field that needs something has the focus: nobody typed how to reach her.
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('customer.reach')
    await expect.poll(() => field(app, 'Cell size').inputValue()).toBe('two hands')
    expect(valueOf(await desk.orderBook()).open).toEqual([])

    await field(app, 'Cell size').fill('2')
    await problem.waitFor({ state: 'detached' })
  })

  test('takes a day as it is said, and says which day it is', async ({ openApp }) => {
    const app = await openApp()
    await goTo(app, '#/new-order')
    const needed = field(app, 'Needed by')
    await needed.fill('next friday')
    await app.page.keyboard.press('Tab')
    // Friday of the week after the one that has Tuesday 3 March 2026 in it.
    await expect.poll(() => needed.inputValue()).toContain('13')
    await expect.poll(async () => (await newestDraft(app.desk))?.neededBy).toBe('2026-03-13')
  })

  test('has several pieces, and steps of the maker’s own, by their fields', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/new-order')
    await page.getByRole('button', { name: 'Add another piece' }).click()
    await page.getByRole('combobox', { name: 'Piece' }).last().selectOption({ label: 'Your own steps' })
    await page.getByRole('button', { name: 'Add a row' }).click()
    const rows = async () => {
      const kept = (await newestDraft(desk))?.pieces[1]?.input['rows']
      return Array.isArray(kept) ? kept : []
    }
    // What is typed is kept a moment later: the new row is in the draft once it has as many as the page.
    const onPage = page.getByRole('button', { name: /^Remove row / })
    await expect.poll(async () => (await rows()).length - (await onPage.count())).toBe(0)
    const before = await rows()
    await page.getByRole('button', { name: 'Remove row 1' }).click()
    await expect.poll(rows).toEqual(before.slice(1))
    await page.getByRole('button', { name: 'Remove piece 1' }).click()
    await expect.poll(async () => (await newestDraft(desk))?.pieces.length).toBe(1)
  })

  test('shows beside the date what sooner ones cost and who pays, and takes one as the promise by keyboard', async ({
    openApp,
  }) => {
    const app = await openApp({ demo: true })
    const { page } = app
    await goTo(app, '#/new-order')
    const sooner = page.getByRole('list', { name: 'Sooner dates' }).getByRole('listitem')
    // Four of them take more evenings than there are between the others.
    await field(app, 'How many').fill('4')
    const withMore = sooner.filter({ hasText: /one more hour|stays an hour longer|long day|more/ })
    await withMore.first().waitFor()
    for (const words of [/sooner/, /over 9 in 10/]) await withMore.first().getByText(words).waitFor()
    // Who pays is said for each: nobody, somebody who is late then, or somebody whose promise gets less sure.
    await withMore
      .first()
      .getByText(/Every promise is kept|Taking this on: .* in 10, then .* in 10/)
      .first()
      .waitFor()

    const choose = withMore.first().getByRole('button', { name: /^Promise / })
    const day = (await choose.innerText()).replace('Promise ', '')
    await choose.press('Enter')
    await expect.poll(() => choose.getAttribute('aria-pressed')).toBe('true')
    // Both write the day as a maker reads it; the field with its weekday in full.
    const [, number, month] = day.split(' ')
    await expect
      .poll(() => field(app, 'Promise').inputValue())
      .toMatch(new RegExp(`${number}.*${month?.slice(0, 3)}|${month?.slice(0, 3)}.*${number}`))
  })

  test('says beside the date the chance that is stated once it is promised', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/new-order')
    await field(app, 'Name').fill('Bo Kestrel')
    await field(app, 'Phone or email').fill('555-0100')
    const says = page.getByText(/it’s done by then\./)
    await says.waitFor()
    await expect.poll(() => page.getByText('Working out the odds…').count()).toBe(0)
    const chance = /^(.+?) it’s done by then/.exec(await says.innerText())?.[1]?.toLowerCase() ?? ''
    expect(chance).toMatch(/in 10$|^nearly certain$/)
    await page.getByRole('button', { name: /^Take the order/ }).press('Enter')
    await page.getByText(/^Order taken: .*Promised/).waitFor()
    await expect.poll(() => page.getByText(/^Order taken: .*Promised/).innerText()).toContain(`: ${chance}`)
  })

  test('asks for the piece where the line names none that is known, adds a second one by its name, and is silent once it is cleared', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/new-order')
    await page.locator('#order-line').fill('picture frame 8x10 oak for Ann, 65 dollars, friday')
    await page.keyboard.press('Enter')
    await page.getByText('No construction of that name: choose the piece.').waitFor()
    const piece = page.getByRole('combobox', { name: 'Piece' })
    await expect.poll(() => piece.inputValue()).toBe('')
    await expect.poll(() => field(app, 'Notes').inputValue()).toContain('picture frame 8x10 oak')
    await expect.poll(() => field(app, 'Price').inputValue()).toBe('65 dollars')
    await expect.poll(() => field(app, 'Needed by').inputValue()).toBe('Fri, Mar 6')
    await piece.selectOption('edge-grain-board')
    await expect.poll(() => field(app, 'Length').inputValue()).toBe('10"')
    await page.getByText('No construction of that name').waitFor({ state: 'detached' })

    await page.locator('#order-line').fill('box 12x8 walnut')
    await page.keyboard.press('Enter')
    await page.getByText(/^Second piece added: Box 12" x 8"/).waitFor()
    await page.getByRole('button', { name: 'Clear the form' }).click()
    await page.getByText(/^Second piece added/).waitFor({ state: 'detached' })
  })

  test('says whether the date meets the day they need it, also while that is being changed', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/new-order')
    await page.locator('#order-line').fill('box 12x8 walnut for Bill Oakes by mar 6')
    await page.keyboard.press('Enter')
    await page.getByText('Too late: needed Friday, March 6').waitFor()
    const needed = field(app, 'Needed by')
    // Half typed it is no day, and the date of before still stands.
    await needed.fill('mar')
    await page.getByText('Too late: needed').waitFor({ state: 'detached' })
    await needed.fill('may 6')
    await page.getByText('On time: needed Wednesday, May 6').waitFor()
  })

  test('says beside the promise, on a phone too, that it comes after the day they need it, and says so once it is taken', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    await page.setViewportSize({ width: 390, height: 844 })
    await goTo(app, '#/new-order')
    await page.locator('#order-line').fill('box 12x8 walnut for Bill Oakes 555-0111 by mar 6 $180')
    await page.keyboard.press('Enter')
    const bar = page.getByRole('region', { name: 'Promise and price' })
    await bar.getByText('After the day they need it (Fri, Mar 6)').waitFor()
    expect(
      await bar.getByText('After the day').evaluate((line) => line.getBoundingClientRect().bottom < innerHeight),
    ).toBe(true)
    await page.keyboard.press('Control+Enter')
    await page.getByRole('status').filter({ hasText: 'after the day they need it (Fri, Mar 6)' }).waitFor()
    await page.getByText('but needed Fri, Mar 6').waitFor()
    await goTo(app, '#/orders')
    await page.getByRole('row').filter({ hasText: 'but needed Fri, Mar 6' }).waitFor()
  })

  test.for(['light', 'dark'] as const)('has no barriers that axe finds, in %s', async (colorScheme, { openApp }) => {
    const app = await openApp({ demo: true })
    const { page } = app
    await page.emulateMedia({ colorScheme })
    await goTo(app, '#/new-order')
    await page.getByText('over 9 in 10').first().waitFor()
    await page.keyboard.press('Control+Enter')
    await page.getByText('Not saved').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
  })
})

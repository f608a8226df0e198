import { describe, expect } from 'vitest'
import { startingOwnConstruction } from '../../core/constructions/own/own-form.ts'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { goTo, newestDraft, valueOf } from './support/small-order.ts'

const openPage = async (app: OpenApp): Promise<void> => {
  await goTo(app, '#/almanac')
  const pages = app.page.getByRole('navigation', { name: 'Pages of the Almanac' })
  await pages.getByRole('button', { name: 'Constructions' }).click()
}

const focused = ({ page }: OpenApp) => page.evaluate(() => document.activeElement?.id ?? '')

/** Goes on with Tab until a field has the focus. */
async function tabTo(app: OpenApp, id: string): Promise<void> {
  for (let presses = 0; presses < 120; presses += 1) {
    if ((await focused(app)) === id) return
    await app.page.keyboard.press('Tab')
  }
  throw new Error(`Tab does not lead to ${id}.`)
}

describe('a construction of the maker’s own', () => {
  test('is written down by keyboard alone, with what each formula comes to and how long it takes', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await openPage(app)
    await page.getByRole('button', { name: 'Write one down' }).focus()
    await page.keyboard.press('Enter')
    await expect.poll(() => focused(app)).toBe('name')
    await page.keyboard.type('Bread board')
    await tabTo(app, 'steps.0.minutes')
    await page.keyboard.press('Control+A')
    await page.keyboard.type('20 + 3 * ceil(width / 2)')
    // A width of 8 in makes 4 strips: 20 + 3 x 4.
    await page.getByText('= 32 min').waitFor()
    await page.getByText(/^About \d+ days$/).waitFor()
    await page.keyboard.press('Control+Enter')
    await page.getByText('Kept in the Almanac').waitFor()
    expect(valueOf(await desk.almanac()).almanac.constructions).toMatchObject([{ id: 'own-bread-board' }])
  })

  test('is offered on New order, and an order taken with it has a date', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const input = { ...startingOwnConstruction('inch'), name: 'Bread board' }
    valueOf(await desk.almanacSave({ list: 'constructions', item: { id: '', input } }))
    await goTo(app, '#/new-order')
    await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'Bread board' })
    await page.getByRole('textbox', { name: 'Name' }).fill('Ana Feld')
    await page.getByRole('textbox', { name: 'Phone or email' }).fill('555 0142')
    await page.getByText('You can promise').waitFor()
    await page.getByText('over 9 in 10').first().waitFor()
    await page.keyboard.press('Control+Enter')
    await page.getByRole('heading', { name: 'Ana Feld no. 1' }).waitFor()
    await page.getByRole('heading', { name: /^Bread board/ }).waitFor()
    await page.getByRole('rowheader', { name: /^Mill and rip/ }).waitFor()
    const [row] = valueOf(await desk.orderBook()).open
    expect(row?.doneAt).not.toBeNull()
    expect(row?.promisedFor).not.toBeNull()
  })

  test('is asked for by its name in the line of a new order', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const input = { ...startingOwnConstruction('inch'), name: 'Mantel shelf' }
    valueOf(await desk.almanacSave({ list: 'constructions', item: { id: '', input } }))
    await goTo(app, '#/new-order')
    const line = page.getByRole('textbox', { name: 'The whole order in one line' })
    await line.fill('2 cherry mantel shelves 40x8, 350, by Apr 12, for Sue Harlow')
    await line.press('Enter')
    await page.getByText('Filled in.').waitFor()
    await expect
      .poll(() => newestDraft(desk))
      .toMatchObject({
        ...{ price: '350', neededBy: '2026-04-12', customer: { name: 'Sue Harlow' }, notes: '' },
        pieces: [
          { construction: 'own-mantel-shelf', count: '2', input: { length: '40"', width: '8"', wood: 'cherry' } },
        ],
      })
    await expect
      .poll(() => page.getByRole('combobox', { name: 'Piece', exact: true }).inputValue())
      .toBe('own-mantel-shelf')
  })

  test('says beside a formula what is wrong with it, and is not kept before that is mended', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await openPage(app)
    await page.getByRole('button', { name: 'Write one down' }).click()
    await page.locator('[id="name"]').fill('Bread board')
    const minutes = page.locator('[id="steps.0.minutes"]')
    await minutes.fill('10 * depth')
    await page.getByText('Row 1, Mill and rip: “10 * depth”: there is no field “depth”').waitFor()
    await expect.poll(() => minutes.getAttribute('aria-invalid')).toBe('true')
    await page.locator('[id="name"]').focus()
    await page.keyboard.press('Control+Enter')
    await page.getByText('Not saved').waitFor()
    await expect.poll(() => focused(app)).toBe('steps.0.minutes')
    expect(valueOf(await desk.almanac()).almanac.constructions).toEqual([])

    await minutes.fill('45')
    await page.locator('[id="steps.0.after"]').evaluate((field) => field.closest('details')?.setAttribute('open', ''))
    await page.locator('[id="steps.0.after"]').fill('2')
    await page.getByText('These rows wait for each other in a circle').waitFor()
    await page.keyboard.press('Control+Enter')
    await expect.poll(() => focused(app)).toBe('steps.0.after')
    expect(valueOf(await desk.almanac()).almanac.constructions).toEqual([])
  })

  test('keeps every keystroke when the app is closed in the middle of a word', async ({ openApp, dataFolder }) => {
    const first = await openApp({ dataFolder })
    await openPage(first)
    await first.page.getByRole('button', { name: 'Begin with the usual steps' }).click()
    await first.page.locator('[id="name"]').pressSequentially('Bread bo')
    await expect
      .poll(async () => valueOf(await first.desk.constructionDrafts()).map(({ input }) => input['name']))
      .toEqual(['Bread bo'])
    await first.close()

    const again = await openApp({ dataFolder })
    await openPage(again)
    await again.page.getByRole('button', { name: 'Resume: Bread bo' }).click()
    await expect.poll(() => again.page.locator('[id="name"]').inputValue()).toBe('Bread bo')
    await expect.poll(() => again.page.locator('[id="steps.1.name"]').inputValue()).toBe('Glue-up')
    await again.page.getByRole('button', { name: 'Discard' }).click()
    await again.page.getByRole('button', { name: 'Write one down' }).waitFor()
    expect(valueOf(await again.desk.constructionDrafts())).toEqual([])
  })

  test('moves steps with what comes after what', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await openPage(app)
    await page.getByRole('button', { name: 'Write one down' }).click()
    await page.locator('[id="steps.3.after"]').evaluate((field) => field.closest('details')?.setAttribute('open', ''))
    await page.locator('[id="steps.3.after"]').fill('2, 3')
    const steps = page.getByRole('group', { name: 'Steps', exact: true })
    await steps.getByRole('button', { name: 'Move up row 3' }).click()
    await expect.poll(() => page.locator('[id="steps.1.name"]').inputValue()).toBe('Flatten and sand')
    await expect.poll(() => page.locator('[id="steps.3.after"]').inputValue()).toBe('3, 2')
    await steps.getByRole('button', { name: 'Remove row 1' }).click()
    await expect.poll(() => page.locator('[id="steps.2.after"]').inputValue()).toBe('2, 1')
  })

  test.for(['light', 'dark'] as const)('has no barriers that axe finds, in %s', async (colorScheme, { openApp }) => {
    const app = await openApp()
    const { page } = app
    await page.emulateMedia({ colorScheme })
    await openPage(app)
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: 'Write one down' }).click()
    await page.locator('[id="name"]').fill('Bread board')
    await page.locator('[id="steps.0.minutes"]').fill('10 * depth')
    for (const summary of await page.getByText('More about it').all()) await summary.click()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.locator('[id="steps.0.minutes"]').fill('10')
    await page.getByText(/^About \d+ days$/).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
  })
})

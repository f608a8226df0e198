import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect } from 'vitest'
import program from '../../package.json' with { type: 'json' }
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { holdAnswer } from './support/hold-answer.ts'
import { goTo, valueOf } from './support/small-order.ts'

const openPage = (app: OpenApp, name: string) =>
  app.page.getByRole('navigation', { name: 'Pages of the Almanac' }).getByRole('button', { name }).click()

describe('the Almanac', () => {
  test('keeps a fact where it is typed, marks it as changed, and goes back to the default', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Allowances')
    const before = valueOf(await desk.almanac()).almanac.allowances.sawKerfNm
    const kerf = page.getByLabel('Saw kerf')
    await kerf.fill('3/32 in')
    await kerf.press('Enter')
    // 3/32 in of 25.4 mm.
    await expect
      .poll(async () => valueOf(await desk.almanac()).almanac.allowances.sawKerfNm)
      .toBe((25_400_000 * 3) / 32)
    await page.getByRole('button', { name: /Allowances, with changes/ }).waitFor()

    await page.getByRole('button', { name: /^back to .*Saw kerf/ }).click()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.allowances.sawKerfNm).toBe(before)
  })

  test('says at the field what is wrong, and keeps what was typed and what was there', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Heat and humidity')
    const humidity = page.getByLabel('Relative humidity')
    await humidity.fill('140 %')
    await humidity.press('Tab')
    await page.getByRole('alert').getByText('more than all there is').waitFor()
    await expect.poll(() => humidity.inputValue()).toBe('140 %')
    await expect.poll(() => humidity.getAttribute('aria-invalid')).toBe('true')
    expect(valueOf(await desk.almanac()).almanac.shop.humidityRh).toBe(0.5)
    await humidity.press('Escape')
    await expect.poll(() => humidity.inputValue()).toBe('50%')
  })

  test('takes a year of cold nights by keyboard: heated only for work, drawn from two months, one month typed over', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const air = async () => valueOf(await desk.almanac()).almanac.air
    await goTo(app, '#/almanac')
    await openPage(app, 'Heat and humidity')
    await page.getByLabel('Heated', { exact: true }).selectOption('Only while somebody works')
    const drawn = page.getByText('Draw the year from its coldest and its warmest month')
    await drawn.focus()
    await page.keyboard.press('Enter')
    await page.getByLabel('Coldest month, temperature').fill('-5 C')
    await page.getByLabel('Coldest month, humidity').fill('40 %')
    await page.getByLabel('Warmest month, temperature').fill('25 C')
    await page.getByLabel('Warmest month, humidity').fill('70 %')
    await page.keyboard.press('Enter')
    await expect.poll(async () => (await air()).unheatedRh[6]).toBe(0.7)
    // Half-way between January and July on a half cosine: April is the mean of both.
    expect((await air()).unheatedC.slice(0, 7)).toEqual([-5, -3, 2.5, 10, 17.5, 23, 25])

    const may = page.getByLabel('Unheated temperature, May')
    await may.fill('16 C')
    await may.press('Enter')
    await expect.poll(async () => (await air()).unheatedC[4]).toBe(16)
    expect((await air()).unheatedC[3]).toBe(10)
    await may.fill('warm')
    await may.press('Enter')
    await page.getByRole('alert').getByText('Unheated temperature, May: “warm” is not a temperature').waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('shows glues, finishes and woods side by side, to be filtered', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    valueOf(await desk.almanacChangeFact({ key: 'glues.pva_type2.clampsOff', input: '45 min' }))
    await goTo(app, '#/almanac')
    await openPage(app, 'Compare')
    const yellow = page.getByRole('article', { name: 'Yellow PVA glue' })
    await yellow.getByText('45 min, its label').waitFor()
    // Type II PVA needs 10 to 13 C (waits.csv, min_temp), Type I 7 C.
    await page.getByLabel('Cures at').fill('9 C')
    await expect.poll(() => yellow.count()).toBe(0)
    await page.getByRole('article', { name: 'Waterproof PVA glue' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])

    await page.getByRole('radio', { name: 'Woods' }).check({ force: true })
    await page.getByLabel('Find').fill('pine')
    await page.getByText('Nothing by that name.').waitFor()
    await page.getByLabel('only woods on offer').uncheck()
    await page.getByRole('article', { name: 'Pine, eastern white' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
  })

  test('adds a fair and takes it out again, and the shop is closed on that day in between', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Special days')
    await page.getByRole('button', { name: 'Add a day' }).click()
    await page.getByLabel('Day', { exact: true }).fill('14 March 2026')
    await page.getByLabel('What').selectOption('at a fair')
    await page.getByLabel('Note').fill('Spring fair')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Spring fair').waitFor()
    expect(valueOf(await desk.almanac()).almanac.specialDays).toMatchObject([
      { day: '2026-03-14', kind: 'fair', note: 'Spring fair' },
    ])
    // The page may be left before the answer is there.
    const { letGo } = await holdAnswer(page, 'almanacRemove')
    await page.getByRole('button', { name: /^Remove: Saturday/ }).click()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.specialDays).toEqual([])
    await openPage(app, 'About')
    await page.getByText('Version').first().waitFor()
    letGo()
    await page.getByText('Taken out of the Almanac').waitFor()
  })

  test('refuses hours that overlap, at the hours that do', async ({ openApp }) => {
    const app = await openApp()
    const { page } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Makers and hours')
    await page.getByRole('button', { name: 'Change: Me' }).click()
    await page.getByRole('button', { name: 'add more hours on Monday' }).click()
    await page.getByLabel('Monday from').nth(1).fill('20:00')
    await page.getByLabel('Monday to').nth(1).fill('9 pm')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('group', { name: 'Monday, hours' }).getByText('overlaps').waitFor()
  })

  test('keeps what the yard has and asks, and goes back to no price', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const almanac = async () => valueOf(await desk.almanac()).almanac
    await goTo(app, '#/almanac')
    await openPage(app, 'Lumberyard')
    const widths = page.getByLabel('Widths')
    await widths.fill('10, 5 1/2')
    await widths.press('Enter')
    await expect.poll(async () => (await almanac()).yard.widthsNm).toEqual([139_700_000, 254_000_000])
    await expect.poll(() => widths.inputValue()).toBe('5 1/2", 10"')
    const ash = page.getByLabel('Ash', { exact: true })
    await ash.fill('1450 a cubic meter')
    await ash.press('Enter')
    await expect.poll(async () => (await almanac()).woodPrices).toEqual({ ash: { minor: 145_000, per: 'cubic-metre' } })
    await expect.poll(() => ash.inputValue()).toBe('1450')
    expect(await accessibilityProblems(page)).toEqual([])
    await page.getByRole('button', { name: /^back to no price.*Ash$/ }).click()
    await expect.poll(async () => (await almanac()).woodPrices).toEqual({})
  })

  test('takes a glue with the clamp times of its label by keyboard, and says at the field what a table is', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Glues')
    await page.getByRole('button', { name: 'Add a glue' }).press('Enter')
    await page.getByRole('textbox', { name: 'What you call it' }).fill('Shop glue')
    const table = page.getByRole('textbox', { name: 'Or its clamp times' })
    await table.fill('50 F 1 h, 70 F 2 h')
    await table.press('Enter')
    await expect.poll(() => table.getAttribute('aria-invalid')).toBe('true')
    expect(await accessibilityProblems(page)).toEqual([])
    await table.fill('50 F 2 h, 70 F 1 h')
    await table.press('Enter')
    const kept = async () => valueOf(await desk.almanac()).almanac.glues.find(({ name }) => name === 'Shop glue')
    // 50 and 70 degrees Fahrenheit are 10 and 21.1 degrees Celsius.
    await expect
      .poll(async () => (await kept())?.table?.map(({ celsius, minutes }) => [Math.round(celsius), minutes]))
      .toEqual([
        [10, 120],
        [21, 60],
      ])
    await page.getByRole('heading', { name: 'Shop glue' }).waitFor()
  })

  test('keeps what was typed while an earlier answer was on its way, though the page is left at once', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Taxes')
    const { letGo } = await holdAnswer(page, 'almanacChangeFact')
    for (const [label, typed] of [
      ['Tax: name on papers', 'Sales tax'],
      ['Tax: rate', '7.25'],
    ] as const) {
      const field = page.getByRole('textbox', { name: label, exact: true })
      await field.fill(typed)
      await field.press('Enter')
    }
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.money.taxes[0]?.name).toBe('Sales tax')
    await page.unroute('**/call')
    await page.reload()
    letGo()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.money.taxes[0]?.rate).toBe(72_500)
  })

  test('keeps each month that is typed before the page shows the one before', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Heat and humidity')
    await page.getByLabel('Heated', { exact: true }).selectOption('Only while somebody works')
    await page.getByRole('button', { name: /Heat and humidity, with changes/ }).waitFor()
    const { letGo } = await holdAnswer(page, 'almanac')
    for (const [month, typed] of [
      ['January', '-5 C'],
      ['February', '-3 C'],
    ] as const) {
      const field = page.getByLabel(`Unheated temperature, ${month}`)
      await field.fill(typed)
      await field.press('Enter')
    }
    letGo()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.air.unheatedC.slice(0, 2)).toEqual([-5, -3])
  })

  test('leaves a month that is refused as it is typed, named, and keeps those typed with it', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Heat and humidity')
    await page.getByLabel('Heated', { exact: true }).selectOption('Only while somebody works')
    const month = (name: string) => page.getByLabel(`Unheated temperature, ${name}`)
    await month('January').waitFor()
    const { letGo } = await holdAnswer(page, 'almanacChangeFact')
    await month('January').fill('cold')
    await month('January').press('Enter')
    await month('February').fill('-3 C')
    await month('February').press('Enter')
    letGo()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.air.unheatedC[1]).toBe(-3)
    await expect.poll(() => month('February').inputValue()).not.toBe('-3 C')
    await expect.poll(() => month('January').inputValue()).toBe('cold')
    await expect.poll(() => month('January').getAttribute('aria-invalid')).toBe('true')
    await expect.poll(() => page.getByRole('alert').innerText()).toContain('January: “cold” is not a temperature')
    await month('January').fill('-5 C')
    await month('January').press('Enter')
    await page.getByRole('alert').waitFor({ state: 'detached' })
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.air.unheatedC.slice(0, 2)).toEqual([-5, -3])
  })

  test('keeps what is chosen back before the page shows what was chosen', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Stations')
    const choice = page.getByRole('combobox', { name: 'Router table' })
    await choice.waitFor()
    const { letGo } = await holdAnswer(page, 'almanac')
    await choice.press('ArrowDown')
    const changed = page.getByRole('status').getByText('Changed in the Almanac.')
    await changed.waitFor()
    await choice.press('ArrowUp')
    letGo()
    await expect.poll(async () => valueOf(await desk.almanac()).almanac.machines).not.toContain('router-table')
    await expect.poll(() => choice.inputValue()).toBe('no')
  })

  test('leaves what is typed while the text before is being kept, and keeps it in its turn', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const kerfNm = async () => valueOf(await desk.almanac()).almanac.allowances.sawKerfNm
    await goTo(app, '#/almanac')
    await openPage(app, 'Allowances')
    const kerf = page.getByLabel('Saw kerf')
    const { letGo } = await holdAnswer(page, 'almanacChangeFact')
    await kerf.fill('3/32 in')
    await kerf.press('Enter')
    await expect.poll(kerfNm).toBe((25_400_000 * 3) / 32)
    await kerf.fill('5/64 in')
    letGo()
    await page.getByRole('status').getByText('Changed in the Almanac.').waitFor()
    await expect.poll(() => kerf.inputValue()).toBe('5/64 in')
    await kerf.press('Enter')
    await expect.poll(kerfNm).toBe((25_400_000 * 5) / 64)
  })

  test('makes a copy of the book and opens it again', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    await goTo(app, '#/almanac')
    await openPage(app, 'Backups')
    await page.getByRole('button', { name: 'Make a copy now' }).click()
    await page.getByText(/^Made: /).waitFor()
    expect(valueOf(await desk.backups()).length).toBeGreaterThan(0)
    await page
      .getByRole('button', { name: /^Open this copy/ })
      .first()
      .click()
    await page.getByText(/^It holds all that your present order book holds/).waitFor()
    await page.getByRole('button', { name: /^Open the copy/ }).click()
    await page.getByText('The copy is open now').waitFor()
    await page.getByText(/order book set aside/).waitFor()
  })
})

test('About says which version this is and where the data lie, and shows the licenses of all that is built in', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page } = app
  await goTo(app, '#/almanac')
  await openPage(app, 'About')
  const said = (term: string) => page.getByRole('term').filter({ hasText: term }).locator('+ dd')
  await expect.poll(() => said('Version').innerText()).toBe(`Out of Clamps ${program.version}`)
  await expect.poll(() => said('Your data').innerText()).toBe(app.dataFolder)

  const button = page.getByRole('button', { name: 'Show licenses' })
  await button.click()
  const licenses = page.getByRole('region', { name: 'Licenses' })
  await licenses.waitFor()
  await expect.poll(() => button.count()).toBe(0)
  const shown = await licenses.innerText()
  for (const name of Object.keys(program.dependencies)) expect(shown).toContain(`\n${name} `)
  expect(shown).toContain(
    readFileSync(join(import.meta.dirname, '../../node_modules/svelte/LICENSE.md'), 'utf8').trim(),
  )
})

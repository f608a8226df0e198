import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

describe('two people in a shop, through the page', () => {
  test('a helper leaves the saw to others, a machine is counted, and one press says that the helper is not coming', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '8:00', to: '22:00' }))
    valueOf(await desk.almanacSave({ list: 'makers', item: { id: '', name: 'Wren', attendance: '100%', hours } }))

    await goTo(app, '#/almanac')
    await page.getByRole('button', { name: 'Stations' }).click()
    const left = page.getByRole('textbox', { name: 'Wren leaves to others' })
    await left.fill('the lathe')
    await left.press('Enter')
    await page.getByText('“the lathe”: type any of table saw').first().waitFor()
    await left.fill('saw, glue-ups')
    await left.press('Enter')
    await page.getByRole('combobox', { name: 'Table saw' }).selectOption('yes')
    await expect
      .poll(async () => {
        const { machines, leftToOthers } = valueOf(await desk.almanac()).almanac
        return [machines, Object.values(leftToOthers)]
      })
      .toEqual([['saw'], [['saw', 'glue-ups']]])
    expect(await accessibilityProblems(page)).toEqual([])

    await goTo(app, `#/commission/${id}`)
    await page
      .getByRole('table', { name: /^Steps of/ })
      .getByText('Wren')
      .first()
      .waitFor()

    await goTo(app, '#/bench')
    const away = page.getByRole('button', { name: 'Wren isn’t coming today' })
    await away.focus()
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Wren is coming after all' }).waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.keyboard.press('u')
    await away.waitFor()
    expect(valueOf(await desk.almanac()).almanac.specialDays).toEqual([])
  })
})

import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { hasFocus, tabTo } from './support/keyboard.ts'
import { goTo, valueOf } from './support/small-order.ts'

test('a new shop asks its questions on one page, answered by keyboard alone, and is not asked again', async ({
  openApp,
}) => {
  const app = await openApp()
  const { page, desk } = app
  await goTo(app, '#/bench')
  await page.getByRole('heading', { name: 'Your shop in two minutes' }).waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await page.getByLabel('Shop', { exact: true }).focus()
  await page.keyboard.press('ControlOrMeta+A')
  await page.keyboard.type('Heron Lane')
  await page.keyboard.press('Tab')
  await page.keyboard.press('ControlOrMeta+A')
  await page.keyboard.type('Ines')
  await page.getByLabel('Monday from').fill('late')
  await page.getByLabel('Of ten such days, on how many do you make it?').fill('7')
  await page.getByLabel('Rip 10 strips, minutes').fill('15 min')
  await page.keyboard.press('Enter')
  await page.getByText('Not saved: fix the marked fields.').waitFor()
  await page.getByLabel('Monday from').fill('6:30 pm')
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Nothing to do at the bench' }).waitFor()
  // The field that had the focus is gone: the keyboard goes on on the page, not at the start of the rail.
  await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('page')
  const { almanac } = valueOf(await desk.almanac())
  expect(almanac.shop.name).toBe('Heron Lane')
  expect(almanac.makers[0]).toMatchObject({
    name: 'Ines',
    weeklyHours: { 1: [{ from: 1110, to: 1290 }] },
    attendance: 0.7,
  })
  expect(valueOf(await desk.yourTimes()).asked.map(({ minutes }) => minutes)).toEqual([null, 15, null])
  await goTo(app, '#/rack')
  await goTo(app, '#/bench')
  await page.getByRole('heading', { name: 'Nothing to do at the bench' }).waitFor()
})

test('what is wrong is gone to, above the press that saves, on a phone as well', async ({ openApp }) => {
  const app = await openApp()
  const { page } = app
  await page.setViewportSize({ width: 390, height: 844 })
  await goTo(app, '#/bench')
  const clamps = page.getByLabel('Clamps, how many')
  await clamps.fill('lots')
  const save = page.getByRole('button', { name: 'Save and start' })
  // Far from it, at the last question.
  await page.getByLabel('Sand 4 square feet with one grit, minutes').focus()
  await save.click()
  await page.getByText('Clamps: “lots” is not a number like 12.').waitFor()
  await expect.poll(() => clamps.evaluate((field) => field === document.activeElement)).toBe(true)
  const between = () =>
    clamps.evaluate((field) => {
      const { top, bottom } = field.getBoundingClientRect()
      const head = document.querySelector('header')!.getBoundingClientRect().bottom
      const foot = document.querySelector('form footer')!.getBoundingClientRect().top
      return { belowTheHead: top >= head, aboveTheFoot: bottom <= foot }
    })
  await expect.poll(between).toEqual({ belowTheHead: true, aboveTheFoot: true })
})

test('the keyboard begins at the questions: one Tab leads to the first field, and Shift Tab back over the rail', async ({
  openApp,
}) => {
  const { page } = await openApp()
  await hasFocus(page, /^Your shop in two minutes$/)
  await page.keyboard.press('Tab')
  await hasFocus(page, /^Skip|^Shop$/)
  expect(await tabTo(page, /^Shop$/, 2)).toBeLessThanOrEqual(1)
})

test('a shop that put its hours off hears nothing of them', async ({ openApp }) => {
  const app = await openApp()
  const { page, desk } = app
  await goTo(app, '#/bench')
  await page.getByRole('button', { name: 'Skip all for now' }).click()
  await page.getByText('Shop hours not set yet.').waitFor()
  await expect.poll(() => page.getByText(/^(closed, next|shop time until)/).count()).toBe(0)
  await page.getByRole('link', { name: 'Set them' }).click()
  await page.getByRole('heading', { name: 'Makers and hours' }).waitFor()
  const { almanac } = valueOf(await desk.almanac())
  expect(almanac.firstStart).toEqual({ greeted: true, hoursSaid: false })
})

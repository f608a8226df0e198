import type { Page } from 'playwright-core'
import { describe, expect } from 'vitest'
import { test, type OpenApp } from '../support/app.ts'
import { hasFocus, tabTo } from './support/keyboard.ts'
import { goTo, passMinutes, smallDraft, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

/** More Tabs than any page of these has. */
const FAR = 120

const order = async ({ desk }: OpenApp, id: string) => valueOf(await desk.commission({ id }))
const stepsOf = async (app: OpenApp, id: string) => (await order(app, id)).pieces.flatMap(({ steps }) => steps)

async function openOrder(app: OpenApp, id: string): Promise<void> {
  await goTo(app, `#/commission/${id}`)
  await app.page.getByRole('heading', { name: /^Ada Quist/ }).waitFor()
}

/** Opens the log of a step and chooses what is to be fixed there, by its place among the choices. */
async function openLog(page: Page, step: string, choice: RegExp): Promise<void> {
  await tabTo(page, new RegExp(`^Log: ${step}`), FAR)
  await page.keyboard.press('Enter')
  await page.getByRole('region', { name: `Log of ${step}` }).waitFor()
  const radio = page.getByRole('radio', { name: choice })
  await tabTo(page, /^Times/, 3)
  for (let presses = 0; presses < 4 && !(await radio.isChecked()); presses += 1) await page.keyboard.press('ArrowRight')
  await expect.poll(() => radio.isChecked()).toBe(true)
}

const says = (page: Page, words: RegExp) => page.getByRole('status').filter({ hasText: words }).first().waitFor()

describe('by keyboard alone, when the work goes otherwise', () => {
  test('one board of three is made again: its own steps, until it joins the others at the first coat', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page } = app
    const id = await takeSmallOrder(app, 'Ada Quist', 'Wall shelf', '3')
    await workOff(app, 2)
    await openOrder(app, id)
    const before = await stepsOf(app, id)
    const { doneAt } = await order(app, id)
    const failOne = async () => {
      await openLog(page, 'Glue the shelf', /^It failed/)
      await tabTo(page, /^What failed/, 3)
      await page.keyboard.type('Crack')
      await tabTo(page, /^How many/, 2)
      await page.keyboard.press('Home')
      await tabTo(page, /^Again from/, 2)
      await page.keyboard.press('Home')
      await tabTo(page, /^What happened/, 2)
      await page.keyboard.type('split along the grain')
      await page.getByRole('button', { name: 'Make 1 of 3 again' }).waitFor()
      await page.keyboard.press('Enter')
      await says(page, /1 of 3 again: .*It joins the others at first coat\./)
    }
    await failOne()
    const again = await stepsOf(app, id)
    const own = again.filter(({ lot }) => lot === 'lot 2 of 2')
    expect(own.map(({ name, count, state }) => [name, count, state])).toEqual([
      ['Cut the boards', 1, 'to-do'],
      ['Glue the shelf', 1, 'to-do'],
      ...(own.length === 3 ? [[own[2]!.name, 1, 'to-do']] : []),
    ])
    // The two others keep their work, the coat is one for all three, and the date follows.
    expect(again.filter(({ lost }) => lost)).toEqual([])
    expect(again.filter(({ name }) => name === 'First coat')).toHaveLength(1)
    expect((await order(app, id)).doneAt!).toBeGreaterThanOrEqual(doneAt!)
    const history = page.getByRole('region', { name: 'History' })
    await history.getByText('Failed (crack): glue the shelf of Wall shelf, 1 of 3. split along the grain').waitFor()
    const lots = page.getByRole('table', { name: 'Steps of Wall shelf' }).locator('th[scope="rowgroup"]')
    await expect
      .poll(() => lots.allInnerTexts())
      .toEqual(['all 3 together', 'lot 1 of 2', 'lot 2 of 2', 'all 3 together'])

    await page.keyboard.press('u')
    await expect.poll(() => stepsOf(app, id)).toEqual(before)
    await failOne()
    // The coat waits for the one that is behind, then all are done together.
    const coat = async () => (await stepsOf(app, id)).find(({ name }) => name === 'First coat')!
    const mine = (await stepsOf(app, id)).filter(({ lot }) => lot === 'lot 2 of 2')
    expect((await coat()).startAt!).toBeGreaterThanOrEqual(Math.max(...mine.map(({ endAt }) => endAt!)))
    await workOff(app, (await stepsOf(app, id)).filter(({ state }) => state === 'to-do').length)
    await expect.poll(async () => (await order(app, id)).word).toBe('ready-to-collect')
  })

  test('start, end and maker of a step are put right, a pause is added, and one key takes all of it back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '8:00', to: '22:00' }))
    valueOf(await desk.almanacSave({ list: 'makers', item: { id: '', name: 'Wren', attendance: '100%', hours } }))
    const id = await takeSmallOrder(app)
    await workOff(app, 1)
    await passMinutes(app, 24 * 60)
    await openOrder(app, id)
    const before = await stepsOf(app, id)
    await openLog(page, 'Cut the boards', /^Times/)
    const type = async (label: RegExp, text: string) => {
      await tabTo(page, label, 8)
      await page.keyboard.press('Control+A')
      await page.keyboard.type(text)
    }
    await type(/^From/, '9 AM')
    await type(/^Until, or how long/, '9:20 AM')
    await tabTo(page, /^Who/, 3)
    await page.keyboard.type('Wren')
    await tabTo(page, /^Add time/, 4)
    await page.keyboard.press('Enter')
    // A second stretch: between the two he had a pause.
    await hasFocus(page, /^From/)
    await page.keyboard.press('Shift+Tab')
    const { nowMs } = valueOf(await desk.shopState())
    const yesterday = new Date(nowMs - 24 * 3_600_000).toISOString().slice(0, 10)
    const log = page.getByRole('region', { name: 'Log of Cut the boards' })
    const [first] = await log.getByLabel('Day').all()
    await expect.poll(() => first!.inputValue()).toBe(yesterday)
    await log.getByLabel('Day').last().fill(yesterday)
    await type(/^From/, '9:45 AM')
    await type(/^Until, or how long/, '10 min')
    await page.keyboard.press('Enter')
    await says(page, /^Times fixed|^Entered/)
    const [cut] = await stepsOf(app, id)
    expect(cut).toMatchObject({ state: 'done', workedMinutes: 30 })
    expect(cut!.work.map(({ fromAt, toAt }) => toAt! - fromAt)).toEqual([20, 10])
    expect(cut!.work[1]!.fromAt - cut!.work[0]!.toAt!).toBe(25)
    const wren = valueOf(await desk.almanac()).almanac.makers.find(({ name }) => name === 'Wren')!
    expect(cut!.work.map(({ makerId }) => makerId)).toEqual([wren.id, wren.id])
    await page.keyboard.press('u')
    await expect.poll(async () => (await stepsOf(app, id))[0]).toEqual(before[0])
  })

  test('an inquiry is called back about by a day, told, lost with a reason, reopened and taken', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const { commissionId: id } = valueOf(
      await desk.takeOrder({
        draft: { ...smallDraft(), giftFor: 'Tam Quist', giftAddress: '9 Hill Road' },
        ...{ standing: 'asked-about', promisedFor: 'as-quoted' },
      }),
    )
    await openOrder(app, id)
    await page
      .getByText(/Tam Quist.*9 Hill Road/s)
      .first()
      .waitFor()
    await page.getByText(/^Good until/).waitFor()
    await tabTo(page, /^Call back by/, FAR)
    await page.keyboard.type('mar 12')
    await page.keyboard.press('Enter')
    await expect.poll(async () => (await order(app, id)).remindOn).toBe('2026-03-12')
    await tabTo(page, /^Told/, 5)
    await page.keyboard.press('Enter')
    await page.getByText(/^Last told/).waitFor()
    await openOrder(app, id)
    await tabTo(page, /^Lost/, FAR)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Why/)
    await page.keyboard.type('Wanted it sooner')
    await page.keyboard.press('Enter')
    await page.getByText('Why: Wanted it sooner').waitFor()
    expect(await order(app, id)).toMatchObject({ word: 'lost', closedWhy: 'Wanted it sooner' })
    await page.keyboard.press('u')
    await expect.poll(async () => (await order(app, id)).standing).toBe('asked-about')
    await page.getByRole('button', { name: 'Take the order' }).waitFor()
    await tabTo(page, /^Take the order/, FAR)
    await page.keyboard.press('Enter')
    await hasFocus(page, /^Promise/)
    await page.keyboard.press('Enter')
    await expect.poll(async () => (await order(app, id)).standing).toBe('agreed')
    expect((await order(app, id)).promises[0]).toMatchObject({ day: (await order(app, id)).promisedFor })
  })

  test('one piece is fetched before the other, and comes back with one key', async ({ openApp }) => {
    const app = await openApp()
    const { page, desk } = app
    const draft = smallDraft()
    const one = draft.pieces[0]!
    const rows = one.input['rows'] as readonly Record<string, string>[]
    const peg = { ...one, input: { title: 'Peg rail', rows: rows.slice(0, 1) } }
    const { commissionId: id } = valueOf(
      await desk.takeOrder({
        draft: { ...draft, pieces: [one, peg] },
        ...{ standing: 'agreed', promisedFor: '2026-05-30' },
      }),
    )
    const rail = (await order(app, id)).pieces[1]!
    for (const { stepId } of rail.steps) valueOf(await desk.stepDone({ stepId, anyway: true, workedMin: 20 }))
    await openOrder(app, id)
    await tabTo(page, /^Hand over this piece: Peg rail/, FAR)
    await page.keyboard.press('Enter')
    const gone = async () => (await order(app, id)).pieces.map(({ handedOverOn }) => handedOverOn)
    await expect.poll(gone).toEqual([null, '2026-03-03'])
    await says(page, /^Handed over: /)
    await page.keyboard.press('u')
    await expect.poll(gone).toEqual([null, null])
  })

  test('a press on the wrong line is put right: the minutes go with it, and one key takes that back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    const id = await takeSmallOrder(app)
    const [cut, glue] = await stepsOf(app, id)
    valueOf(await desk.stepStart({ stepId: glue!.stepId, anyway: true }))
    await passMinutes(app, 25)
    valueOf(await desk.stepDone({ stepId: glue!.stepId }))
    const before = await stepsOf(app, id)
    expect(before[1]).toMatchObject({ state: 'done', workedMinutes: 25 })
    await openOrder(app, id)
    await openLog(page, 'Glue the shelf', /^Wrong step/)
    await tabTo(page, /^It was/, 2)
    await page.keyboard.type('Cut')
    await expect.poll(() => page.getByLabel('It was').inputValue()).toBe(cut!.stepId)
    await tabTo(page, /^Move it there/, 1)
    await page.keyboard.press('Enter')
    await says(page, /cut the boards/i)
    const steps = await stepsOf(app, id)
    expect(steps.slice(0, 2).map(({ state, workedMinutes }) => [state, workedMinutes])).toEqual([
      ['done', 25],
      ['to-do', null],
    ])
    // Not glued yet, so nothing stands in the clamps.
    expect(valueOf(await desk.rack()).waiting).toEqual([])
    await page.getByRole('rowheader', { name: /^Cut the boards ?, done/ }).waitFor()
    await page.keyboard.press('u')
    await expect.poll(() => stepsOf(app, id)).toEqual(before)
    await page.getByRole('rowheader', { name: /^Glue the shelf ?, done/ }).waitFor()
  })
})

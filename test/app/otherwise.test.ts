import { describe, expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test, type OpenApp } from '../support/app.ts'
import { glueABoard } from './support/coated-board.ts'
import { goTo, passMinutes, takeSmallOrder, valueOf, workOff } from './support/small-order.ts'

async function openOrder(app: OpenApp): Promise<string> {
  const id = await takeSmallOrder(app)
  await goTo(app, `#/commission/${id}`)
  await app.page.getByRole('heading', { name: /^Ada Quist/ }).waitFor()
  return id
}
const stepsOf = async ({ desk }: OpenApp, id: string) => valueOf(await desk.commission({ id })).pieces[0]!.steps

describe('the log forgives', () => {
  test('an evening that nobody logged is entered, a wrong time is said beside its field, and Undo takes it back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const id = await openOrder(app)
    const { page } = app
    await page.getByRole('button', { name: 'Log: Cut the boards' }).press('Enter')
    const log = page.getByRole('region', { name: 'Log of Cut the boards' })
    const { nowMs } = valueOf(await app.desk.shopState())
    await log.getByLabel('Day').fill(new Date(nowMs - 24 * 3_600_000).toISOString().slice(0, 10))
    await log.getByRole('textbox', { name: 'From' }).fill('7 PM')
    await log.getByRole('textbox', { name: 'Until, or how long' }).fill('6 PM')
    await log.getByRole('button', { name: 'Save' }).click()
    await log.getByText('Ends before it starts: after 7:00 PM.').waitFor()
    await log.getByRole('textbox', { name: 'Until, or how long' }).fill('50 min')
    await log.getByRole('checkbox', { name: 'Step is done' }).check()
    expect(await accessibilityProblems(page)).toEqual([])
    await page.keyboard.press('Enter')
    await page.getByRole('rowheader', { name: /^Cut the boards ?, done/ }).waitFor()
    expect((await stepsOf(app, id))[0]).toMatchObject({ state: 'done', workedMinutes: 50 })
    await page.getByText(/^Entered: cut the boards of Wall shelf/).waitFor()
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click()
    await expect.poll(async () => (await stepsOf(app, id))[0]?.state).toBe('to-do')
  })

  test('a press on the wrong line is moved to the right one', async ({ openApp }) => {
    const app = await openApp()
    const id = await openOrder(app)
    const [, glue] = await stepsOf(app, id)
    valueOf(await app.desk.stepStart({ stepId: glue!.stepId, anyway: true }))
    const { page } = app
    await page.getByRole('button', { name: 'Log: Glue the shelf' }).click()
    await page.getByRole('radio', { name: 'Wrong step' }).press(' ')
    await page.getByLabel('It was').selectOption({ label: 'Cut the boards' })
    await page.getByRole('button', { name: 'Move it there' }).click()
    await expect
      .poll(async () => (await stepsOf(app, id)).slice(0, 2).map(({ state }) => state))
      .toEqual(['running', 'to-do'])
  })

  test('a step that was left running over night asks until when, and offers the likely time', async ({ openApp }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    const [cut] = await stepsOf(app, id)
    valueOf(await app.desk.stepStart({ stepId: cut!.stepId, anyway: true }))
    await passMinutes(app, 24 * 60)
    await goTo(app, '#/bench')
    const { page } = app
    await page.getByText(/^Left running since/).waitFor()
    const until = page.getByRole('textbox', { name: 'Until when did you work on it?' })
    await expect.poll(() => until.inputValue()).toMatch(/^\d+:\d\d [AP]M$/)
    await page.getByRole('button', { name: /^Done: Cut the boards/ }).click()
    await expect.poll(async () => (await stepsOf(app, id))[0]?.state).toBe('done')
    expect((await stepsOf(app, id))[0]?.workedMinutes).toBeLessThanOrEqual(60)
  })

  test('a step that was done without a start asks once how long it took, with the estimate filled in', async ({
    openApp,
  }) => {
    const app = await openApp()
    const id = await takeSmallOrder(app)
    await goTo(app, '#/bench')
    const { page } = app
    await page.getByRole('button', { name: /^Already done: Cut the boards/ }).click()
    const long = page.getByRole('textbox', { name: 'How long did it take?' })
    const offered = await long.inputValue()
    expect(offered).toMatch(/^\d+ min$/)
    await page.keyboard.press('Enter')
    await expect.poll(async () => (await stepsOf(app, id))[0]?.workedMinutes).toBe(Number.parseInt(offered))
  })
})

describe('a failure', () => {
  test('is said at the step, puts the work again beside the old, moves the date, and one Undo takes it back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const id = await openOrder(app)
    await workOff(app, 2)
    const { page } = app
    const before = await stepsOf(app, id)
    await page.getByRole('button', { name: 'Log: Glue the shelf' }).click()
    await page.getByRole('radio', { name: 'It failed' }).press(' ')
    const log = page.getByRole('region', { name: 'Log of Glue the shelf' })
    await log.getByLabel('Again from').selectOption({ label: 'Cut the boards' })
    await log.getByRole('textbox', { name: 'What happened' }).fill('ran out of open time')
    await log.getByRole('button', { name: 'Make it again' }).click()
    await page.getByText(/^Failed: glue the shelf of Wall shelf. To do again/).waitFor()
    await page.getByRole('rowheader', { name: /^Glue the shelf ?, lost/ }).waitFor()
    await page.getByRole('rowheader', { name: /^Glue the shelf ?, to do/ }).waitFor()
    await page.getByText(/^Failed \(glue-up\): glue the shelf/).waitFor()
    expect((await stepsOf(app, id)).filter(({ lost }) => lost).map(({ workedMinutes }) => workedMinutes)).toEqual(
      before.slice(0, 2).map(({ workedMinutes }) => workedMinutes),
    )
    await page.getByRole('button', { name: 'Undo', exact: true }).first().click()
    await expect.poll(() => stepsOf(app, id)).toEqual(before)
  })

  test('is offered on the Rack where glue got too cold while it was wet: one press, and the log stands open at it', async ({
    openApp,
  }) => {
    const app = await openApp()
    const { page, desk } = app
    await glueABoard(app, 'pva_type1')
    // Type I PVA chalks below 7 C (waits.csv, pva_type1 min_temp).
    valueOf(await desk.almanacChangeFact({ key: 'shop.temperature', input: '5 C' }))
    const [row] = valueOf(await desk.rack()).waiting
    await goTo(app, '#/rack')
    await page.getByText(/^Check it or redo it/).waitFor()
    await page.getByRole('link', { name: /^Make it again ?: / }).press('Enter')
    const log = page.getByRole('region', { name: /^Log of / })
    await log.getByRole('button', { name: 'Make it again' }).press('Enter')
    await page.getByText(/^Failed: .* To do again/).waitFor()
    const steps = valueOf(await desk.commission({ id: row!.piece.commissionId })).pieces.flatMap((piece) => piece.steps)
    expect(steps.filter(({ lost }) => lost).map(({ stepId }) => stepId)).toContain(row!.afterStepId)
    expect(valueOf(await desk.rack()).waiting.filter(({ spoiled }) => spoiled !== null)).toEqual([])
  })

  test('offers the day that can be promised instead; said by a key it is a record of its own, and Undo takes it back', async ({
    openApp,
  }) => {
    const app = await openApp()
    const id = await openOrder(app)
    await workOff(app, 2)
    const { nowMs } = valueOf(await app.desk.shopState())
    const tomorrow = new Date(nowMs + 24 * 3_600_000).toISOString().slice(0, 10)
    valueOf(await app.desk.commissionChange({ id, changes: { promisedFor: tomorrow } }))
    const { page } = app
    const promises = async () =>
      valueOf(await app.desk.commission({ id })).promises.map(({ day, why }) => ({ day, why }))
    const before = await promises()
    await page.getByRole('button', { name: 'Log: Glue the shelf' }).click()
    await page.getByRole('radio', { name: 'It failed' }).press(' ')
    await page
      .getByRole('region', { name: 'Log of Glue the shelf' })
      .getByRole('button', { name: 'Make it again' })
      .click()
    const offer = page.getByRole('button', { name: /^Promise .* instead/ })
    await offer.waitFor()
    expect(await accessibilityProblems(page)).toEqual([])
    expect(await promises()).toEqual(before)
    await page.keyboard.press('i')
    await offer.waitFor({ state: 'detached' })
    await expect.poll(async () => (await promises())[0]?.why).toBe('Glue the shelf failed (glue-up)')
    expect((await promises()).slice(1)).toEqual(before)
    await page.keyboard.press('u')
    await expect.poll(async () => valueOf(await app.desk.commission({ id })).promisedFor).toBe(tomorrow)
  })
})

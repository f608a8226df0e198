import { expect } from 'vitest'
import { accessibilityProblems } from '../support/accessibility.ts'
import { test } from '../support/app.ts'
import { goTo, takeSmallOrder, valueOf } from './support/small-order.ts'

test('a step begun while the clock was ahead is asked about on the Bench, and done with the answer', async ({
  openApp,
}) => {
  const app = await openApp({ clock: '2026-03-11T01:00:00Z' })
  const { desk, page } = app
  const id = await takeSmallOrder(app)
  const [step] = valueOf(await desk.commission({ id })).pieces[0]!.steps
  valueOf(await desk.stepStart({ stepId: step!.stepId }))
  valueOf(await desk.testSetClock({ now: '2026-03-04T01:30:00Z' }))
  await goTo(app, '#/bench')

  const inHand = page.getByRole('region', { name: 'On the bench: Cut the boards, Wall shelf' })
  await inHand.getByText('The clock was ahead when you started this.').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  const howLong = inHand.getByLabel('How long did you work on it?')
  await howLong.fill('')
  await inHand.getByText('How long? Write it like 45 min.').waitFor()
  await howLong.fill('25 min')
  await inHand.getByRole('button', { name: /^Done/ }).click()
  await page.getByRole('region', { name: /^Next/ }).waitFor()
  expect(valueOf(await desk.commission({ id })).pieces[0]!.steps[0]).toMatchObject({ state: 'done', workedMinutes: 25 })
})

test('a glue-up done while the clock was ahead is asked about on the Bench, and its wait counts from the answer', async ({
  openApp,
}) => {
  const app = await openApp({ clock: '2026-03-11T01:00:00Z' })
  const { desk, page } = app
  const id = await takeSmallOrder(app)
  const steps = valueOf(await desk.commission({ id })).pieces[0]!.steps
  for (const { stepId } of steps.slice(0, 2)) valueOf(await desk.stepDone({ stepId, workedMin: 20, anyway: true }))
  valueOf(await desk.testSetClock({ now: '2026-03-04T01:30:00Z' }))
  await goTo(app, '#/bench')

  const asked = page.getByRole('region', { name: `When was this done? ${steps[1]!.name}, Wall shelf` })
  await asked.getByText('The clock was ahead when you pressed Done.').waitFor()
  expect(await accessibilityProblems(page)).toEqual([])
  await asked.getByLabel('When was it done?').selectOption('30 min ago')
  await asked.getByRole('button', { name: /^Done then/ }).click()
  await asked.waitFor({ state: 'detached' })
  const now = Date.parse('2026-03-04T01:30:00Z') / 60_000
  expect(valueOf(await desk.rack({})).waiting).toMatchObject([{ sinceAt: now - 30, readyAt: now - 30 + 4 * 60 }])
})

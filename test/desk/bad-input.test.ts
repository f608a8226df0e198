import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

test('a size that cannot be read is named by its field and says what would do; nothing is taken into the book', async () => {
  const { ask, call } = await aDesk()
  const draft = aDraft({ pieces: [aPiece({ cell: 'two and a bit' })] })
  const reply = await call.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  expect(reply.ok).toBe(false)
  if (reply.ok) return
  expect(reply.problems.map((each) => each.field)).toEqual(['pieces.0.input.cell'])
  expect(reply.problems[0]!.message).toMatch(/3\/4|mm/)
  expect((await ask.orderBook()).open).toEqual([])
})

test('every problem of an order is told at once, each at its field', async () => {
  const { call } = await aDesk()
  const draft = aDraft({
    customer: { name: ' ', reach: '', secondReach: '', address: '', allergies: '', childUnder3: 'not-asked' },
    pieces: [{ ...aPiece(), count: 'some' }],
    neededBy: 'soon',
    price: 'plenty',
  })
  const reply = await call.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  expect(reply.ok ? [] : reply.problems.map((each) => each.field).sort()).toEqual([
    'customer.name',
    'customer.reach',
    'neededBy',
    'pieces.0.count',
    'price',
  ])
})

test('a promise date that is past is refused', async () => {
  const { call } = await aDesk()
  const reply = await call.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-03-02' })
  expect(reply.ok ? [] : reply.problems.map((each) => each.field)).toEqual(['promisedFor'])
})

test('a step is not started before the glue lets it, unless the maker says that it was so', async () => {
  const { ask, call, setClock } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const [mill, rip] = (await ask.commission({ id: commissionId })).pieces[0]!.steps
  const tooSoon = await call.stepStart({ stepId: rip!.stepId })
  expect(tooSoon.ok ? '' : tooSoon.problems[0]!.message).toContain(`Waiting on: ${mill!.name.toLowerCase()}`)
  await ask.stepStart({ stepId: rip!.stepId, anyway: true })
  await setClock('2026-03-03T16:00:00Z')
  expect((await ask.bench({ rows: 24 })).onTheBench.map((step) => step.stepId)).toEqual([rip!.stepId])
})

test('a press can be made up for later, but not before the step was started', async () => {
  const { ask, call, setClock } = await aDesk({ at: '2026-03-04T01:00:00Z' })
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const [mill] = (await ask.commission({ id: commissionId })).pieces[0]!.steps
  await ask.stepStart({ stepId: mill!.stepId })
  await setClock('2026-03-04T01:40:00Z')
  const tooEarly = await call.stepDone({ stepId: mill!.stepId, minutesAgo: 60 })
  expect(tooEarly.ok ? [] : tooEarly.problems.map((each) => each.field)).toEqual(['minutesAgo'])
  await ask.stepDone({ stepId: mill!.stepId, minutesAgo: 25 })
  expect((await ask.commission({ id: commissionId })).pieces[0]!.steps[0]).toMatchObject({
    state: 'done',
    workedMinutes: 15,
  })
})

test('an order that was only asked about competes for nobody’s hands and cannot be worked on', async () => {
  const { ask, call } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })
  expect((await ask.bench({ rows: 24 })).canStart).toEqual([])
  const [mill] = (await ask.commission({ id: commissionId })).pieces[0]!.steps
  const reply = await call.stepStart({ stepId: mill!.stepId })
  expect(reply.ok ? '' : reply.problems[0]!.code).toBe('not-agreed')
  await ask.commissionAgree({ id: commissionId, promisedFor: '2026-05-02' })
  expect(
    (await ask.bench({ rows: 24 })).canStart.length + (await ask.bench({ rows: 24 })).comingUp.length,
  ).toBeGreaterThan(0)
})

test('names that are no procedure, and inputs of the wrong form, are answered and not thrown', async () => {
  const { desk } = await aDesk()
  for (const name of ['constructor', '__proto__', 'toString', 'nothing']) {
    expect(await desk.call(name, {})).toMatchObject({ ok: false, problems: [{ code: 'unknown-procedure' }] })
  }
  expect(await desk.call('weeksAhead', { weeks: 'four' })).toMatchObject({ ok: false, problems: [{ field: 'weeks' }] })
  expect(await desk.call('draftSave', { draft: { customer: 7 } })).toMatchObject({ ok: false })
})

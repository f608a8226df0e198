import { expect, test } from 'vitest'
import { aDesk, aDraft, type TestDesk } from './support/a-desk.ts'

async function withOrder(): Promise<TestDesk & { readonly id: string }> {
  const one = await aDesk()
  const taken = await one.ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-05-18' })
  return { ...one, id: taken.commissionId }
}
const stepsOf = async ({ ask, id }: { ask: TestDesk['ask']; id: string }) =>
  (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)

test('work that was finished off the app is entered by one press, and one press takes it back', async () => {
  const shop = await withOrder()
  const { ask, setClock, id } = shop
  const [first] = await stepsOf(shop)
  await setClock('2026-03-04T01:00:00Z')
  await ask.stepStart({ stepId: first!.stepId })
  await setClock('2026-03-04T01:40:00Z')
  await ask.stepDone({ stepId: first!.stepId })
  await setClock('2026-03-20T15:00:00Z')
  const times = (await ask.yourTimes()).times
  const entered = await ask.stepsAllDone({ id, day: '2026-03-17' })
  expect(entered.said).toMatch(/^All done: No\. 1, .*\. \d+ steps entered\.$/)
  const after = await stepsOf(shop)
  expect(after.every(({ state }) => state === 'done')).toBe(true)
  expect(after[0]!.workedMinutes).toBe(40)
  expect(await ask.commission({ id })).toMatchObject({
    word: 'ready-to-collect',
    outlook: { finishedOn: '2026-03-17' },
  })
  expect((await ask.bench({ rows: 24 })).canStart).toEqual([])
  // Nobody knows how long it took, so nothing is learned.
  expect((await ask.yourTimes()).times).toEqual(times)
  await ask.undo({ entryId: entered.entryId! })
  expect((await stepsOf(shop)).map(({ state }) => state)).toEqual(after.map((_, at) => (at === 0 ? 'done' : 'to-do')))
  expect((await ask.commission({ id })).history[0]?.text).toMatch(/^Undid: entered later [a-z]/)
})

test('a step in hand ends with it: its minutes of today count, of an earlier day nobody knows', async () => {
  const shop = await withOrder()
  const { ask, setClock, id } = shop
  const [first] = await stepsOf(shop)
  await setClock('2026-03-04T01:00:00Z')
  await ask.stepStart({ stepId: first!.stepId })
  await setClock('2026-03-04T01:30:00Z')
  const today = await ask.stepsAllDone({ id, day: '2026-03-03' })
  expect((await stepsOf(shop))[0]).toMatchObject({ state: 'done', workedMinutes: 30 })
  await ask.undo({ entryId: today.entryId! })
  expect((await stepsOf(shop))[0]).toMatchObject({ state: 'running' })
  await setClock('2026-03-09T15:00:00Z')
  await ask.stepsAllDone({ id, day: '2026-03-08' })
  expect((await stepsOf(shop))[0]).toMatchObject({ state: 'done', work: [] })
})

test.each([
  ['a day to come', '2026-03-25', 'day', /still to come/],
  ['a day before work that is logged', '2026-03-02', 'day', /Work is logged after/],
] as const)('%s is refused by its field, and nothing is written', async (_, day, field, message) => {
  const shop = await withOrder()
  const { ask, call, setClock, id } = shop
  const [first] = await stepsOf(shop)
  await setClock('2026-03-04T01:00:00Z')
  await ask.stepDone({ stepId: first!.stepId, workedMin: 20, anyway: true })
  await setClock('2026-03-20T15:00:00Z')
  const before = (await ask.commission({ id })).history.length
  const reply = await call.stepsAllDone({ id, day })
  expect(reply).toMatchObject({ ok: false, problems: [{ field, message: expect.stringMatching(message) as string }] })
  expect((await ask.commission({ id })).history).toHaveLength(before)
})

test('an inquiry and an order that is done have nothing to enter', async () => {
  const { ask, call } = await aDesk()
  const asked = await ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })
  expect(await call.stepsAllDone({ id: asked.commissionId, day: '2026-03-03' })).toMatchObject({ ok: false })
  const taken = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  await ask.stepsAllDone({ id: taken.commissionId, day: '2026-03-03' })
  expect(await call.stepsAllDone({ id: taken.commissionId, day: '2026-03-03' })).toMatchObject({
    ok: false,
    problems: [{ message: 'No. 2 is done already.' }],
  })
})

test('the Bench allows the same minutes before and after Start, setup included', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  await setClock('2026-03-04T01:00:00Z')
  const withSetUp = (await ask.bench({ rows: 24 })).canStart.find(({ setUpMinutes }) => setUpMinutes > 0)
  expect(withSetUp).toBeDefined()
  const { stepId, handsOnMinutes, setUpMinutes } = withSetUp!
  await ask.stepStart({ stepId })
  expect((await ask.bench({ rows: 24 })).onTheBench[0]).toMatchObject({ stepId, handsOnMinutes, setUpMinutes })
  await setClock('2026-03-04T01:05:00Z')
  await ask.stepPause({ stepId })
  expect((await ask.bench({ rows: 24 })).onTheBench[0]).toMatchObject({ stepId, handsOnMinutes, setUpMinutes })
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()
/** Tuesday 3 March 2026, 7 PM in Chicago, when the shop opens. */
const TUESDAY_7_PM = Date.parse('2026-03-04T01:00:00Z') / 60_000
const HOUR = 60

async function withOrder(): Promise<
  TestDesk & { readonly id: string; readonly first: string; readonly second: string }
> {
  const one = await aDesk()
  const { commissionId: id } = await one.ask.takeOrder({
    draft: aDraft(),
    standing: 'agreed',
    promisedFor: '2026-05-18',
  })
  const [first, second] = (await one.ask.commission({ id })).pieces[0]!.steps.map(({ stepId }) => stepId)
  return { ...one, id, first: first!, second: second! }
}
const line = async ({ ask, id }: { ask: TestDesk['ask']; id: string }, stepId: string) =>
  (await ask.commission({ id })).pieces[0]!.steps.find((step) => step.stepId === stepId)!
const stretch = (from: string, until: string, day = '2026-03-03', makerId: string | null = null) => ({
  ...{ day, from, until, makerId },
})

test('an evening that nobody logged is entered a week later, moves the dates, and one press takes it back', async () => {
  const shop = await withOrder()
  const { ask, setClock, first } = shop
  await setClock('2026-03-10T15:00:00Z')
  const before = await ask.commission({ id: shop.id })
  const entered = await ask.stepPutRight({ stepId: first, stretches: [stretch('7 PM', '50 min')], isDone: true })
  expect(entered.said).toMatch(/^Entered: /)
  expect(await line(shop, first)).toMatchObject({
    ...{ state: 'done', workedMinutes: 50 },
    work: [{ fromAt: TUESDAY_7_PM, toAt: TUESDAY_7_PM + 50 }],
  })
  expect((await ask.commission({ id: shop.id })).history[0]?.text).toMatch(/^Entered later: /)
  expect((await ask.commission({ id: shop.id })).doneAt!).toBeLessThanOrEqual(before.doneAt!)
  await ask.undo({ entryId: entered.entryId! })
  expect(await line(shop, first)).toMatchObject({ state: 'to-do', work: [] })
})

test('start, end, pause and maker are put right afterwards, and what is learned is what was put right', async () => {
  const shop = await withOrder()
  const { ask, setClock, first } = shop
  await setClock(at(TUESDAY_7_PM))
  await ask.stepStart({ stepId: first })
  await setClock(at(TUESDAY_7_PM + HOUR))
  await ask.stepDone({ stepId: first })
  const learned = async () => (await ask.yourTimes()).times.find(({ pieces }) => pieces === 1)!.yoursMin
  const asPressed = await learned()
  const maker = (await ask.shopState()).makers[0]!.id
  const right = await ask.stepPutRight({
    stepId: first,
    stretches: [stretch('7:05 PM', '7:15 PM', '2026-03-03', maker), stretch('7:30 PM', '7:40 PM', '2026-03-03', maker)],
    isDone: true,
  })
  expect(await line(shop, first)).toMatchObject({ state: 'done', workedMinutes: 20, endAt: TUESDAY_7_PM + 40 })
  expect(await learned()).toBeLessThan(asPressed)
  await ask.undo({ entryId: right.entryId! })
  expect(await line(shop, first)).toMatchObject({ workedMinutes: 60 })
  expect(await learned()).toBe(asPressed)
})

test.each([
  ['an end before the start', stretch('7 PM', '6 PM'), 'stretches.0.until', /Ends before it starts: after 7:00 PM/],
  ['an instant to come', stretch('11 PM', '11:30 PM', '2026-03-10'), 'stretches.0.from', /still to come/],
  ['an end to come', stretch('8 AM', '10 AM', '2026-03-10'), 'stretches.0.until', /still to come/],
  ['a stretch through the night', stretch('7 PM', '14 h'), 'stretches.0.until', /past 4 AM/],
  ['no time at all', stretch('soon', '9 PM'), 'stretches.0.from', /like 7 PM/],
  ['no day at all', stretch('7 PM', '9 PM', 'whenever'), 'stretches.0.day', /Which day/],
] as const)('%s is refused by its field, and nothing is written', async (_, wrong, field, message) => {
  const { call, ask, setClock, first, id } = await withOrder()
  await setClock('2026-03-10T14:30:00Z')
  const before = (await ask.commission({ id })).history.length
  const reply = await call.stepPutRight({ stepId: first, stretches: [wrong], isDone: true })
  expect(reply).toMatchObject({ ok: false, problems: [{ field, message: expect.stringMatching(message) as string }] })
  expect((await ask.commission({ id })).history).toHaveLength(before)
})

test('two stretches of one maker that overlap are refused, of two makers they are not', async () => {
  const { call, ask, setClock, first } = await withOrder()
  await setClock('2026-03-10T15:00:00Z')
  const twice = [stretch('7 PM', '8 PM'), stretch('7:30 PM', '9 PM')]
  expect(await call.stepPutRight({ stepId: first, stretches: twice, isDone: false })).toMatchObject({
    ok: false,
    problems: [{ code: 'overlap', field: 'stretches.1.from' }],
  })
  const maker = (await ask.shopState()).makers[0]!.id
  const both = [stretch('7 PM', '8 PM'), { ...stretch('7:30 PM', '9 PM'), makerId: maker }]
  expect((await call.stepPutRight({ stepId: first, stretches: both, isDone: false })).ok).toBe(true)
})

test('work that nobody pressed Start for has the set-up only where no step before it in the session had it', async () => {
  const { ask, setClock } = await aDesk()
  const board = aDraft({ pieces: [aPiece({ length: '12', width: '8' }, 'edge-grain-board')] })
  const ids: string[] = []
  for (let orders = 0; orders < 3; orders += 1)
    ids.push((await ask.takeOrder({ draft: board, standing: 'agreed', promisedFor: null })).commissionId)
  const milling = async (id: string | undefined) => (await ask.commission({ id: id ?? '' })).pieces[0]!.steps[0]!
  const [first, second, third] = await Promise.all(ids.map(milling))
  const alone = (await ask.bench({ rows: 24 })).canStart.find(({ stepId }) => stepId === first!.stepId)!
  await setClock(at(TUESDAY_7_PM + 40))
  await ask.stepDone({ stepId: first!.stepId, anyway: true, workedMin: 40 })
  await setClock(at(TUESDAY_7_PM + 70))
  await ask.stepDone({ stepId: second!.stepId, anyway: true, workedMin: 30 })
  await setClock(at(TUESDAY_7_PM + 2 * HOUR))
  await ask.stepPutRight({ stepId: third!.stepId, stretches: [stretch('8:10 PM', '20 min')], isDone: true })
  const estimates = (await Promise.all(ids.map(milling))).map(({ handsOnMinutes }) => handsOnMinutes)
  expect(estimates).toEqual([alone.handsOnMinutes + 10, alone.handsOnMinutes, alone.handsOnMinutes])
  const again = await Promise.all(ids.map((id) => ask.madeBefore({ id })))
  expect(again.map(({ estimatedMin }) => estimatedMin)).toEqual(estimates)
})

test('the history tells lots of one piece apart, and who did it', async () => {
  const { ask, setClock } = await aDesk()
  const boards = aDraft({ pieces: [aPiece({}, 'edge-grain-board', '12')] })
  const { commissionId: id } = await ask.takeOrder({ draft: boards, standing: 'agreed', promisedFor: null })
  const [piece] = (await ask.commission({ id })).pieces
  const last = piece!.steps.at(-1)!
  expect(last.lot).not.toBeNull()
  await setClock(at(TUESDAY_7_PM))
  await ask.stepStart({ stepId: piece!.steps[0]!.stepId, anyway: true })
  await ask.stepDone({ stepId: last.stepId, anyway: true, workedMin: 5 })
  const [done, started] = (await ask.commission({ id })).history
  expect(done!.text.endsWith(`, ${last.lot}`)).toBe(true)
  expect(started!.text.endsWith(`, ${piece!.steps[0]!.lot}`)).toBe(true)
  expect(done!.who).toMatch(/^by /)
})

test('a step that was left running asks at the next start until when, and no work runs through the night', async () => {
  const shop = await withOrder()
  const { ask, call, setClock, first, second } = shop
  await setClock(at(TUESDAY_7_PM))
  await ask.stepStart({ stepId: first })
  await setClock(at(TUESDAY_7_PM + 24 * HOUR))
  const refused = await call.stepStart({ stepId: second, anyway: true })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'until-when' }] })
  expect(await call.stepDone({ stepId: first })).toMatchObject({ ok: false, problems: [{ code: 'until-when' }] })
  const [left] = (await ask.bench({ rows: 24 })).onTheBench
  expect(left?.leftRunning?.sinceAt).toBe(TUESDAY_7_PM)
  const likely = left!.leftRunning!.likelyStopAt
  expect(likely).toBeGreaterThan(TUESDAY_7_PM)
  await ask.stepPause({ stepId: first, minutesAgo: TUESDAY_7_PM + 24 * HOUR - likely })
  expect(await line(shop, first)).toMatchObject({ state: 'paused', workedMinutes: likely - TUESDAY_7_PM })
  await ask.stepStart({ stepId: first })
})

test('done without a start takes the minutes that somebody says', async () => {
  const shop = await withOrder()
  await shop.setClock(at(TUESDAY_7_PM + HOUR))
  await shop.ask.stepDone({ stepId: shop.first, workedMin: 35, anyway: true })
  expect(await line(shop, shop.first)).toMatchObject({
    ...{ state: 'done', workedMinutes: 35 },
    work: [{ fromAt: TUESDAY_7_PM + 25, toAt: TUESDAY_7_PM + 60 }],
  })
})

test('a press on the wrong line goes to the right one, and one press takes both back', async () => {
  const shop = await withOrder()
  const { ask, call, setClock, first, second } = shop
  await setClock(at(TUESDAY_7_PM))
  await ask.stepStart({ stepId: second, anyway: true })
  await setClock(at(TUESDAY_7_PM + 20))
  const before = [await line(shop, first), await line(shop, second)]
  const moved = await ask.stepMove({ stepId: second, toStepId: first })
  expect((await line(shop, first)).work).toEqual([expect.objectContaining({ fromAt: TUESDAY_7_PM, toAt: null })])
  expect(await line(shop, second)).toMatchObject({ state: 'to-do', work: [] })
  expect(await call.stepMove({ stepId: first, toStepId: first })).toMatchObject({ ok: false })
  await ask.undo({ entryId: moved.entryId! })
  const after = [await line(shop, first), await line(shop, second)]
  expect(after.map(({ state, work }) => [state, work])).toEqual(before.map(({ state, work }) => [state, work]))
  // And back again, as one act.
  const { history } = await ask.commission({ id: shop.id })
  expect(history.filter(({ undone }) => undone)).toHaveLength(2)
})

test('a coat that is entered before gluing and sanding says so, is kept all the same, and the piece is on the Rack once', async () => {
  const shop = await withOrder()
  const { ask, setClock, id } = shop
  const steps = (await ask.commission({ id })).pieces[0]!.steps
  const coat = steps.find(({ name }) => name === 'First coat')!
  const before = steps.slice(0, steps.indexOf(coat)).map(({ name }) => name)
  expect(coat.stillBefore).toEqual(before)
  expect(steps[0]!.stillBefore).toEqual([])
  const entered = await ask.stepPutRight({ stepId: coat.stepId, stretches: [], isDone: true })
  expect(entered.said).toContain(` Not done before it: ${before.join(', ').toLowerCase()}.`)
  expect((await ask.rack()).waiting.map(({ afterStepId }) => afterStepId)).toEqual([coat.stepId])

  const glueUp = steps.find(({ name }) => name === 'First glue-up')!
  await setClock('2026-03-04T01:00:00Z')
  for (const { stepId } of steps.slice(0, steps.indexOf(glueUp) + 1))
    await ask.stepPutRight({ stepId, stretches: [], isDone: true })
  expect((await ask.rack()).waiting.map(({ afterStepId }) => afterStepId)).toEqual([glueUp.stepId])
})

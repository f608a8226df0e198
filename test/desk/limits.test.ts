import { setImmediate } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { startPlanner } from '../../desk/planner/planner.ts'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const codes = (reply: { ok: boolean; problems?: readonly { code: string }[] }): string[] =>
  (reply.problems ?? []).map(({ code }) => code)

test('an order of more pieces than can be worked out is refused with what would do', async () => {
  const { call } = await aDesk()
  const draft = aDraft({ pieces: Array.from({ length: 40 }, () => aPiece({}, 'end-grain-board', '999')) })
  const taken = await call.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  expect(codes(taken).every((code) => ['order-too-large', 'too-many-lots'].includes(code))).toBe(true)
  expect(codes(taken).length).toBeGreaterThan(0)
  expect(await call.draftQuote({ draft, asked: 'dates' })).toMatchObject({ ok: true })
})

test('forty free lists of two hundred rows are told to be too much before anything is planned', async () => {
  const { call } = await aDesk()
  const row = { name: 'Step', minutes: '5 min', kind: 'hand', wait: '', atMost: '', after: '', dusty: false, units: '' }
  const piece = {
    construction: 'free-list',
    input: { title: 'Many', isFor: '', rows: Array(200).fill(row) },
    count: '1',
  }
  const draft = aDraft({ pieces: Array.from({ length: 40 }, () => piece) })
  expect(codes(await call.takeOrder({ draft, standing: 'agreed', promisedFor: null }))).toEqual(['order-too-large'])
})

test('a count of pieces is written in digits and nothing else', async () => {
  const { call } = await aDesk()
  for (const count of ['1e2', '0x10', '1.0', '-3', '1000', '']) {
    const draft = aDraft({ pieces: [aPiece({}, 'end-grain-board', count)] })
    const taken = await call.takeOrder({ draft, standing: 'asked-about', promisedFor: null })
    expect([count, codes(taken)]).toEqual([count, ['count']])
  }
})

test('a form with more fields than any form has is refused', async () => {
  const { call } = await aDesk()
  const input = Object.fromEntries(Array.from({ length: 101 }, (_, at) => [`field${at}`, 'x']))
  const draft = aDraft({ pieces: [{ construction: 'end-grain-board', input, count: '1' }] })
  expect(await call.draftSave({ draft })).toMatchObject({ ok: false })
})

test('so are answers about more steps or times than there are, before anything looks at them', async () => {
  const { call } = await aDesk()
  const many = <T>(value: T) => Object.fromEntries(Array.from({ length: 101 }, (_, at) => [`name${at}`, value]))
  const refused = (field: string) => ({
    ok: false,
    problems: [{ field, message: expect.stringContaining('more than 100 fields') }],
  })
  const draft = aDraft()
  expect(await call.changeCompare({ id: 'none', draft, said: many(true), asked: 'dates' })).toMatchObject(
    refused('said'),
  )
  const keeping = { askedBy: 'maker', why: '', promise: 'as-it-is' } as const
  expect(await call.changeKeep({ id: 'none', draft, said: many(true), ...keeping })).toMatchObject(refused('said'))
  expect(await call.timesAsked({ answers: many('25') })).toMatchObject(refused('answers'))
})

test.each([
  ['0100-03-14', false],
  ['1999-12-31', false],
  ['2000-01-01', true],
  ['2199-12-31', true],
  ['2200-01-01', false],
  ['9999-12-31', false],
])('the day %s, which a slip of the keys may give, is a day to be reminded on: %s', async (day, isTaken) => {
  const { ask, call } = await aDesk()
  const { commissionId: id } = await ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })
  const reply = await call.commissionRemind({ id, day })
  expect(reply).toMatchObject(isTaken ? { ok: true } : { ok: false, problems: [{ field: 'day' }] })
  const typed = await call.takeOrder({ draft: aDraft({ neededBy: day }), standing: 'asked-about', promisedFor: null })
  expect(typed).toMatchObject(isTaken ? { ok: true } : { ok: false, problems: [{ field: 'neededBy' }] })
})

test('a thread that does not answer in time is ended, says so, and the next question is answered by a new one', async () => {
  const patience = [1, Infinity]
  let begunAnew = 0
  const planner = startPlanner({
    search: null,
    onNews: () => undefined,
    onBegunAnew: () => begunAnew++,
    patienceMs: () => patience.shift() ?? Infinity,
  })
  const question = { kind: 'why', commissionId: 'none' } as unknown as Parameters<typeof planner.ask>[1]
  // A warm thread may answer within the millisecond: its time is up here before its answer can be heard.
  await setImmediate()
  const asked = planner.ask('why', question)
  for (const from = performance.now(); performance.now() - from < 5;);
  expect(await asked).toMatchObject({ ok: false, problems: [{ code: 'took-too-long' }] })
  expect(begunAnew).toBe(1)
  expect(await planner.ask('why', question)).not.toMatchObject({ problems: [{ code: 'took-too-long' }] })
  await planner.close()
})

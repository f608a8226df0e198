import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const small = aPiece({ length: '12', width: '8' }, 'edge-grain-board')

async function anOrder(changes: Parameters<typeof aDraft>[0] = {}, standing: 'agreed' | 'asked-about' = 'agreed') {
  const desk = await aDesk()
  const draft = aDraft({ pieces: [small], ...changes })
  const taken = await desk.ask.takeOrder({ draft, standing, promisedFor: '2026-06-20' })
  const id = taken.commissionId
  return { ...desk, id, order: () => desk.ask.commission({ id }) }
}

/** Marks all steps of one piece as done, whatever the plan says. */
async function finish({ ask }: Pick<TestDesk, 'ask'>, id: string, piece: number): Promise<void> {
  for (const { stepId } of (await ask.commission({ id })).pieces[piece]!.steps)
    await ask.stepDone({ stepId, anyway: true })
}

describe('an order on hold', () => {
  test('tells of itself on the day that was wanted, and no more once it goes on', async () => {
    const { ask, id, order, events, setClock } = await anOrder()
    const { said } = await ask.commissionHold({ id, until: 'open-end', why: 'No walnut', remindOn: '2026-03-06' })
    expect(said).toContain('On hold, told on Fri')
    expect(await order()).toMatchObject({ word: 'on-hold', onHoldWhy: 'No walnut', remindOn: '2026-03-06' })
    expect((await order()).history[0]!.text).toBe('Put on hold: No. 1, Ada Quist. No walnut')
    await setClock('2026-03-05T20:00:00Z')
    const notices = () => events.flatMap((event) => (event.kind === 'notice' ? [event.notice.title] : []))
    expect(notices()).toEqual([])
    await setClock('2026-03-06T20:00:00Z')
    expect(notices()).toEqual(['Look after no. 1, Ada Quist'])
  })
})

test('a promised day that is over without the order being finished is late, no chance any more', async () => {
  const { ask, order, setClock } = await anOrder()
  const lateNow = async () => {
    const { outlook } = await order()
    return { daysLate: outlook.daysLate, danger: outlook.danger }
  }
  await setClock('2026-06-20T20:00:00Z')
  expect((await order()).outlook.daysLate).toBe(0)
  await setClock('2026-06-24T20:00:00Z')
  expect(await lateNow()).toEqual({ daysLate: 4, danger: 'late' })
  expect((await ask.bench({ rows: 24 })).whyFirst).toContainEqual(expect.stringMatching(/: 4 days late\.$/))
})

test('a press that changes nothing offers no undo: it would take back the press before it', async () => {
  const { ask, id, order } = await anOrder()
  const first = await ask.commissionRemind({ id, day: '2026-03-06' })
  expect(first.entryId).not.toBeNull()
  expect((await ask.commissionRemind({ id, day: '2026-03-06' })).entryId).toBeNull()
  expect((await order()).remindOn).toBe('2026-03-06')
})

describe('a canceled order', () => {
  test('keeps why, says what becomes of the deposit, and is as before once that is undone', async () => {
    const { ask, id, order } = await anOrder({ price: '400', deposit: '120' })
    await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' })
    const before = await order()
    const canceled = await ask.commissionCallOff({ id, why: 'Moved away' })
    expect(canceled.said).toBe('Canceled: No. 1, Ada Quist. Keep $0.00 for hours and wood, give back $120.00.')
    expect(await order()).toMatchObject({ word: 'called-off', closedFrom: 'agreed', closedWhy: 'Moved away' })
    await ask.undo({ entryId: canceled.entryId! })
    const { history: _, ...after } = await order()
    const { history: __, ...then } = before
    expect({ ...after, outlook: null, odds: null }).toEqual({ ...then, outlook: null, odds: null })
  })

  test('is reopened with what it was, but without a promise whose day is past', async () => {
    const { ask, id, order, setClock, call } = await anOrder()
    expect(await call.commissionReopen({ id })).toMatchObject({ ok: false, problems: [{ code: 'wrong-standing' }] })
    await ask.commissionCallOff({ id })
    await ask.commissionReopen({ id })
    expect(await order()).toMatchObject({ standing: 'agreed', promisedFor: '2026-06-20', closedFrom: null })
    await ask.commissionCallOff({ id })
    await setClock('2026-07-01T15:00:00Z')
    const reopened = await ask.commissionReopen({ id })
    expect(await order()).toMatchObject({ standing: 'agreed', promisedFor: null, promises: [{ day: null }, {}] })
    // Nothing is promised, so it is neither late nor a promise that was not kept, however long it takes.
    await setClock('2026-07-15T15:00:00Z')
    expect(await ask.tally()).toMatchObject({ late: [], promises: { judged: 0, kept: 0 } })
    await ask.undo({ entryId: reopened.entryId! })
    expect(await order()).toMatchObject({ word: 'called-off', promisedFor: '2026-06-20', promises: [{}] })
  })
})

test('a closed order has the day on which it was handed over or canceled, and the newest one where it was reopened', async () => {
  const desk = await anOrder()
  const { ask, id, order, setClock } = desk
  expect((await order()).closedOn).toBe(null)
  await setClock('2026-03-06T20:00:00Z')
  await ask.commissionCallOff({ id })
  // A day later it is still the day on which it was pressed.
  await setClock('2026-03-07T20:00:00Z')
  expect((await order()).closedOn).toBe('2026-03-06')
  await ask.commissionReopen({ id })
  expect((await order()).closedOn).toBe(null)
  await finish(desk, id, 0)
  const handed = await ask.commissionHandOver({ id })
  await setClock('2026-03-09T20:00:00Z')
  expect((await order()).closedOn).toBe('2026-03-07')
  await ask.undo({ entryId: handed.entryId! })
  expect((await order()).closedOn).toBe(null)
})

test('what closed an order is named with it on the Bench, where one press takes it back', async () => {
  const desk = await anOrder()
  const { ask, id } = desk
  const lastText = async () => (await ask.bench({ rows: 24 })).lastAction?.text
  await ask.commissionCallOff({ id, why: 'Changed their mind' })
  expect(await lastText()).toBe('Canceled: No. 1, Ada Quist. Changed their mind')
  await ask.commissionReopen({ id })
  await finish(desk, id, 0)
  await ask.commissionHandOver({ id })
  expect(await lastText()).toBe('Handed over: No. 1, Ada Quist')
})

test('an order that was handed over late is as late as it was, once it is taken up again', async () => {
  const desk = await anOrder()
  const { ask, id, order, setClock } = desk
  await setClock('2026-06-25T15:00:00Z')
  await finish(desk, id, 0)
  await ask.commissionHandOver({ id })
  const late = [{ promisedFor: '2026-06-20', finishedOn: '2026-06-25', daysLate: 5 }]
  expect((await ask.tally()).late).toMatchObject(late)
  await setClock('2026-07-15T15:00:00Z')
  await ask.commissionReopen({ id })
  expect(await order()).toMatchObject({ standing: 'agreed', promisedFor: null })
  expect((await ask.tally()).late).toMatchObject(late)
})

describe('an inquiry', () => {
  test('is called back about by a day, told, lost with a reason, and an inquiry again when reopened', async () => {
    const { ask, id, order, events, setClock } = await anOrder({ remindOn: '2026-03-05' }, 'asked-about')
    expect(await order()).toMatchObject({ remindOn: '2026-03-05', toldOn: null })
    await setClock('2026-03-05T20:00:00Z')
    expect(events.flatMap((event) => (event.kind === 'notice' ? [event.notice.title] : []))).toEqual([
      'Call back Ada Quist',
    ])
    await ask.commissionTold({ id })
    expect(await order()).toMatchObject({ remindOn: null, toldOn: '2026-03-05' })
    await ask.commissionRemind({ id, day: '2026-03-12' })
    expect((await ask.commissionCallOff({ id, why: 'Too expensive' })).said).toBe('Inquiry lost: No. 1, Ada Quist.')
    expect(await order()).toMatchObject({ word: 'lost', closedWhy: 'Too expensive', remindOn: null })
    const { history } = await order()
    expect([history[0]!.text, history.at(-1)!.text]).toEqual([
      'Inquiry lost: No. 1, Ada Quist. Too expensive',
      'Saved as inquiry: No. 1, Ada Quist',
    ])
    await ask.commissionReopen({ id })
    expect((await order()).standing).toBe('asked-about')
  })

  test('with a day to call back on that is none is not saved', async () => {
    const { call } = await aDesk()
    const draft = aDraft({ pieces: [small], remindOn: 'soon' })
    expect(await call.takeOrder({ draft, standing: 'asked-about', promisedFor: null })).toMatchObject({
      ok: false,
      problems: [{ code: 'day', field: 'remindOn' }],
    })
  })
})

describe('parts of an order', () => {
  test('one piece leaves before the other, once it is finished, and that can be undone', async () => {
    const desk = await anOrder({ pieces: [small, small] })
    const { ask, call, id, order } = desk
    const [first, second] = (await order()).pieces
    await finish(desk, id, 0)
    const left = await ask.pieceHandOver({ id, pieceId: first!.piece.pieceId })
    expect((await order()).pieces.map(({ handedOverOn }) => handedOverOn)).toEqual(['2026-03-03', null])
    expect(await call.pieceHandOver({ id, pieceId: second!.piece.pieceId })).toMatchObject({
      ok: false,
      problems: [{ code: 'steps-open' }],
    })
    await ask.undo({ entryId: left.entryId! })
    expect((await order()).pieces[0]!.handedOverOn).toBeNull()
  })

  test('a gift goes to somebody else, at another address', async () => {
    const { ask, id, order } = await anOrder({ giftFor: 'Tam Quist', giftAddress: '9 Hill Road' })
    expect(await order()).toMatchObject({ giftFor: 'Tam Quist', giftAddress: '9 Hill Road' })
    await ask.commissionChange({ id, changes: { giftAddress: '' } })
    expect(await order()).toMatchObject({ giftFor: 'Tam Quist', giftAddress: '' })
  })
})

test('a repair months later belongs to the old order, for the same customer', async () => {
  const desk = await anOrder()
  const { ask, id, order, setClock } = desk
  await finish(desk, id, 0)
  await ask.commissionHandOver({ id })
  await setClock('2026-09-01T15:00:00Z')
  const { key } = await ask.answerFor({ id, as: 'repair' })
  const draft = (await ask.draftLoad({ key }))!
  expect(draft.pieces).toMatchObject([{ construction: 'free-list' }])
  const rows = [
    {
      name: 'Sand out the stain',
      minutes: '40',
      kind: 'hand',
      wait: '',
      atMost: '',
      after: '',
      dusty: true,
      units: '',
    },
  ]
  const pieces = draft.pieces.map((piece) => ({ ...piece, input: { ...piece.input, rows } }))
  const taken = await ask.takeOrder({
    draft: { ...draft, pieces },
    draftKey: key,
    standing: 'agreed',
    promisedFor: 'as-quoted',
  })
  const repair = await ask.commission({ id: taken.commissionId })
  expect(repair.customer).toEqual((await order()).customer)
  expect(repair.family).toEqual([{ commissionId: id, number: 1, how: 'repairs' }])
  expect((await order()).family).toEqual([{ commissionId: repair.id, number: 2, how: 'repaired-as' }])
  expect(repair.pieces[0]!.piece.title).toMatch(/^Repair, no\. 1: /)
})

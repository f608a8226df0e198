import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const board = aDraft({
  pieces: [aPiece({ cellsAcross: '5', woodB: 'cherry' }, 'end-grain-board', '2')],
  customer: { ...aDraft().customer, allergies: 'walnuts' },
  price: '320',
  notes: 'Dark side up',
})

const take = async ({ ask }: TestDesk) =>
  (await ask.takeOrder({ draft: board, standing: 'agreed', promisedFor: '2026-06-30' })).commissionId

test('an order is made again with its pieces, for its customer, in a draft beside the others', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const id = await take(desk)
  await ask.draftSave({ draft: aDraft({ notes: 'half typed' }) })
  await ask.commissionCallOff({ id })

  const { key } = await ask.makeAgain({ id })
  const draft = (await ask.draftLoad({ key }))!
  expect(draft).toMatchObject({ again: id, customer: board.customer, notes: 'Dark side up', price: '' })
  const again = await ask.draftQuote({ draft, asked: 'dates' })
  const before = await ask.draftQuote({ draft: board, asked: 'dates' })
  expect(again.problems).toEqual([])
  expect(again.pieces[0]!.parts).toEqual(before.pieces[0]!.parts)
  expect(again.pieces[0]!.handsOnMinutes).toBe(before.pieces[0]!.handsOnMinutes)
  expect(await ask.draftLoad()).toMatchObject({ notes: 'half typed' })
  expect((await ask.drafts()).map((line) => line.key).sort()).toEqual(['', key])
})

test('beside it stands what it took of what was estimated, what it was sold for and what it costs today', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' })
  const id = await take(desk)
  const [first, second] = (await ask.commission({ id })).pieces[0]!.steps
  const nothingYet = await ask.madeBefore({ id })
  expect(nothingYet).toMatchObject({ number: 1, workedOn: null, workedMin: 0, soldMinor: 32_000 })

  await setClock('2026-03-04T01:00:00Z')
  await ask.stepStart({ stepId: first!.stepId, anyway: true })
  await setClock('2026-03-04T05:00:00Z')
  await ask.stepDone({ stepId: first!.stepId })
  await ask.stepDone({ stepId: second!.stepId, anyway: true })
  const before = await ask.madeBefore({ number: 1 })
  expect(before).toMatchObject({ workedOn: '2026-03-03', stepsDone: 2, workedMin: 240, stepsUntimed: 1 })
  expect(before.estimatedMin).toBe(first!.handsOnMinutes)
  // Four hours where the estimate has less cost more by the almanac's pay.
  const over = (240 - first!.handsOnMinutes) / 60
  expect(before.costMinor - nothingYet.costMinor).toBeGreaterThanOrEqual(Math.floor(over * 3000))
})

test('a repair or complaint is for what the piece was for: a cutting board stays one, a plain table is nothing special', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const isForOf = async (id: string, as: 'repair' | 'complaint') => {
    const { key } = await ask.answerFor({ id, as })
    return (await ask.draftLoad({ key }))!.pieces[0]!.input['isFor']
  }
  const cutting = await take(desk)
  expect([await isForOf(cutting, 'repair'), await isForOf(cutting, 'complaint')]).toEqual(['chopping', 'chopping'])
  const draft = aDraft({ pieces: [aPiece({}, 'small-table')] })
  const { commissionId: table } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-30' })
  expect(await isForOf(table, 'complaint')).toBe('')
})

test('a number that no order has is told as such', async () => {
  const { call } = await aDesk()
  expect(await call.madeBefore({ number: 12 })).toMatchObject({
    ok: false,
    problems: [{ code: 'unknown-number', message: 'No order no. 12 in the book.' }],
  })
})

test('several orders are typed at a time: each is kept, taking one leaves the others, and taking it back brings it back', async () => {
  const { ask } = await aDesk()
  const named = (name: string) => aDraft({ customer: { ...aDraft().customer, name } })
  await ask.draftSave({ key: 'draft-one', draft: named('Bo Kestrel') })
  await ask.draftSave({ key: 'draft-two', draft: named('Cleo Marsh') })
  const taken = await ask.takeOrder({
    draft: named('Bo Kestrel'),
    draftKey: 'draft-one',
    standing: 'agreed',
    promisedFor: '2026-06-30',
  })
  expect((await ask.drafts()).map(({ customer }) => customer)).toEqual(['Cleo Marsh'])
  await ask.undo({ entryId: taken.entryId! })
  expect((await ask.drafts()).map(({ customer }) => customer).sort()).toEqual(['Bo Kestrel', 'Cleo Marsh'])
  await ask.draftDiscard({ key: 'draft-two' })
  expect(await ask.draftLoad({ key: 'draft-two' })).toBeNull()
})

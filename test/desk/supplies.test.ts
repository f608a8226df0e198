import { expect, test } from 'vitest'
import { localDay } from '../../core/time/local-day.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

// The desk's clock stands at Tuesday, March 3, 2026; the next trip is on Saturday, March 7.
const glue = { productId: 'pva_type1' }
const firstOf = async ({ ask }: TestDesk, id: string, name: string): Promise<string> => {
  const steps = (await ask.commission({ id })).pieces.flatMap((piece) => piece.steps)
  return localDay(steps.find((step) => step.name === name)?.startAt ?? 0, 'America/Chicago')
}
const take = async ({ ask }: TestDesk): Promise<string> =>
  (
    await ask.takeOrder({
      draft: aDraft({ pieces: [aPiece({}, 'edge-grain-board')] }),
      ...{ standing: 'agreed', promisedFor: null },
    })
  ).commissionId
const lineOf = async ({ ask }: TestDesk, name: RegExp) =>
  (await ask.timber({ askedAbout: false, lines: 24 })).supplies.find((line) => name.test(line.name))

test('"out of glue" is one press: its glue-ups wait for the next trip, nothing else does, and it is on the list', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  const id = await take(desk)
  const before = await firstOf(desk, id, 'Glue-up')
  expect(before < '2026-03-07').toBe(true)
  const out = await ask.supplyOut({ ref: glue, on: null })
  expect(out.said).toBe('Out of Waterproof PVA glue, expected Sat, Mar 7.')
  expect((await firstOf(desk, id, 'Glue-up')) >= '2026-03-07').toBe(true)
  expect((await ask.bench({ rows: 24 })).canStart.map(({ name }) => name)).toEqual(['Joint and plane the stock'])
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ isOut: true, toBuy: true, expectedOn: '2026-03-07' })
  const draft = aDraft({ pieces: [aPiece({}, 'edge-grain-board')] })
  const quoted = await ask.draftQuote({ draft, asked: 'dates' })
  const gluing = quoted.pieces[0]!.steps.find(({ name }) => name === 'Glue-up')!
  expect(localDay(gluing.plannedAt!, 'America/Chicago') >= '2026-03-07').toBe(true)

  await setClock('2026-03-07T16:00:00Z')
  expect((await ask.bench({ rows: 24 })).supplies.map(({ name }) => name)).toEqual(['Waterproof PVA glue'])
  await ask.supplyHere({ ref: glue })
  expect((await ask.bench({ rows: 24 })).supplies).toEqual([])
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ isOut: false, toBuy: false })
})

test('undo brings glue back, as if it had never run out', async () => {
  const desk = await aDesk()
  const id = await take(desk)
  const before = await firstOf(desk, id, 'Glue-up')
  const out = await desk.ask.supplyOut({ ref: glue, on: '2026-03-20' })
  expect((await firstOf(desk, id, 'Glue-up')) >= '2026-03-20').toBe(true)
  await desk.ask.undo({ entryId: out.entryId! })
  expect(await firstOf(desk, id, 'Glue-up')).toBe(before)
})

test('what is in stock is held against what the orders take, and against its mark', async () => {
  const desk = await aDesk()
  await take(desk)
  const needed = (await lineOf(desk, /Waterproof/))!.needed
  expect(needed).toMatch(/ oz$/)
  await desk.ask.supplySave({ ref: glue, input: { name: '', amount: '0.5 oz', reorderAt: '4 oz' } })
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ amount: '0.5 oz', reorderAt: '4 oz', toBuy: true })
  await desk.ask.supplySave({ ref: glue, input: { name: '', amount: '2 lb', reorderAt: '4 oz' } })
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ amount: '32 oz', short: '', toBuy: false })
  const wrong = await desk.call.supplySave({ ref: glue, input: { name: '', amount: 'some', reorderAt: '' } })
  expect(wrong.ok ? [] : wrong.problems).toMatchObject([{ field: 'amount' }])
  const unknown = await desk.call.supplyOut({ ref: { productId: 'none' }, on: null })
  expect(unknown.ok ? '' : unknown.problems[0]!.code).toBe('supply-missing')
})

test('a glue-up takes its glue off the shelf, undo puts it back, and a new count begins anew', async () => {
  const desk = await aDesk()
  const { ask } = desk
  await take(desk)
  const count = (amount: string) => ask.supplySave({ ref: glue, input: { name: '', amount, reorderAt: '15.9 oz' } })
  await count('16 oz')
  const needed = parseFloat((await lineOf(desk, /Waterproof/))!.needed)
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ amount: '16 oz', used: '', toBuy: false })
  await workUntil(desk, 'Glue-up')
  const after = (await lineOf(desk, /Waterproof/))!
  expect(parseFloat(after.used)).toBeCloseTo(needed, 0)
  expect(parseFloat(after.amount) + parseFloat(after.used)).toBeCloseTo(16, 0)
  expect(after.toBuy).toBe(true)
  const last = (await ask.bench({ rows: 24 })).lastAction!
  await ask.undo({ entryId: last.entryId })
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ amount: '16 oz', used: '' })
  await ask.stepDone({ stepId: (await ask.bench({ rows: 24 })).onTheBench[0]!.stepId })
  await count('20 oz')
  expect(await lineOf(desk, /Waterproof/)).toMatchObject({ amount: '20 oz', used: '', toBuy: false })
})

test('hardware is listed by name, and what it fits waits when there is none', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const { commissionId } = await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ feet: true }, 'edge-grain-board')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  await ask.supplySave({ ref: { id: '' }, input: { name: 'Rubber feet', amount: '8', reorderAt: '4' } })
  const feet = (await lineOf(desk, /Rubber feet/))!
  expect(feet).toMatchObject({ kind: 'hardware', amount: '8', toBuy: false })
  await ask.supplyOut({ ref: { id: feet.id! }, on: '2026-04-20' })
  const steps = (await ask.commission({ id: commissionId })).pieces[0]!.steps
  const fitting = steps.find(({ name }) => /feet/i.test(name))!
  expect(localDay(fitting.startAt!, 'America/Chicago') >= '2026-04-20').toBe(true)
  await ask.supplyRemove({ id: feet.id! })
  expect(await lineOf(desk, /Rubber feet/)).toBeUndefined()
})

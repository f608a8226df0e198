import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()
const stepsOf = async (ask: TestDesk['ask'], id: string) =>
  (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)

async function aBoard() {
  const one = await aDesk()
  const { commissionId: id } = await one.ask.takeOrder({
    draft: aDraft({ pieces: [aPiece()] }),
    ...{ standing: 'agreed', promisedFor: '2026-05-18' },
  })
  return { ...one, id }
}

test('an inlay outside comes into the order with its days away, stays when the finish changes, and goes with undo', async () => {
  const { ask, call, id, setClock } = await aBoard()
  const before = await ask.commission({ id })
  const anchor = before.pieces[0]!.steps.find(({ name }) => /^Sand/.test(name)) ?? before.pieces[0]!.steps.at(-3)!
  const extra = { name: 'Laser the crest', minutes: '20 min', kind: 'outside', away: '6 days' } as const
  expect(await call.stepsChange({ kind: 'add', stepId: anchor.stepId, extra: { ...extra, away: '' } })).toMatchObject({
    ok: false,
    problems: [{ field: 'away' }],
  })
  const said = await ask.stepsChange({ kind: 'add', stepId: anchor.stepId, extra })
  expect(said.said).toMatch(/^Step added: laser the crest, [^.]*\.$/)
  const after = await ask.commission({ id })
  expect(after.doneAt! - before.doneAt!).toBeGreaterThan(4 * 1440)
  expect(after.history[0]!.text).toMatch(/^Step added: No\. 1, Ada Quist\. Laser the crest/)

  const { draft } = await ask.changeBegin({ id })
  const piece = draft.pieces[0]!
  const kept = await ask.changeKeep({
    draft: { ...draft, pieces: [{ ...piece, input: { ...piece.input, finish: 'hardwax_oil' } }] },
    ...{ id, said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' },
  })
  expect((await stepsOf(ask, id)).map(({ name }) => name)).toEqual(
    expect.arrayContaining(['Send out: Laser the crest', 'Fetch: Laser the crest']),
  )
  await ask.undo({ entryId: kept.entryId! })
  await ask.undo({ entryId: said.entryId! })
  expect((await ask.commission({ id })).pieces).toEqual(before.pieces)

  // It is worked off like any other.
  await ask.stepsChange({ kind: 'add', stepId: anchor.stepId, extra: { ...extra, kind: 'hand', away: '' } })
  for (let presses = 0; presses < 60; presses++) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]
    if (next === undefined) break
    await setClock(at(next.plannedAt! + 10))
    await ask.stepDone({ stepId: next.stepId, anyway: true, workedMin: 10 })
  }
  expect((await ask.commission({ id })).word).toBe('ready-to-collect')
})

test('a step is left out or done earlier, the plan follows, and what was begun stays', async () => {
  const { ask, call, id, setClock } = await aBoard()
  const before = await stepsOf(ask, id)
  const free = before.find(({ canComeBefore }) => canComeBefore !== null)!
  const earlier = await ask.stepsChange({ kind: 'earlier', stepId: free.stepId })
  const namesThen = (await stepsOf(ask, id)).map(({ name }) => name)
  expect(namesThen.indexOf(free.name)).toBeLessThan(namesThen.indexOf(free.canComeBefore!))
  await ask.undo({ entryId: earlier.entryId! })
  expect(await stepsOf(ask, id)).toEqual(before)
  const out = before.find(({ name }) => /sand|ease/i.test(name))!
  const said = await ask.stepsChange({ kind: 'leave-out', stepId: out.stepId })
  expect((await stepsOf(ask, id)).map(({ stepId }) => stepId)).toEqual(
    before.map(({ stepId }) => stepId).filter((each) => each !== out.stepId),
  )
  expect((await ask.shopState()).inTheWay).toEqual([])
  await ask.undo({ entryId: said.entryId! })
  expect(await stepsOf(ask, id)).toEqual(before)

  // Both stay as they are when the order is changed, until they are undone.
  await ask.stepsChange({ kind: 'leave-out', stepId: out.stepId })
  const again = await ask.stepsChange({ kind: 'earlier', stepId: free.stepId })
  const byHand = (await stepsOf(ask, id)).map(({ name }) => name)
  const finish = async (to: string) => {
    const { draft } = await ask.changeBegin({ id })
    const piece = draft.pieces[0]!
    return ask.changeKeep({
      draft: { ...draft, pieces: [{ ...piece, input: { ...piece.input, cell: to } }] },
      ...{ id, said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' },
    })
  }
  const changed = await finish('1 3/4')
  const kept = (await stepsOf(ask, id)).map(({ name }) => name)
  expect(kept).toEqual(byHand)
  expect((await ask.shopState()).inTheWay).toEqual([])
  await ask.undo({ entryId: changed.entryId! })
  await ask.undo({ entryId: again.entryId! })
  await ask.undo({ entryId: (await finish('1 3/4')).entryId! })
  expect((await stepsOf(ask, id)).map(({ stepId }) => stepId)).toEqual(
    before.map(({ stepId }) => stepId).filter((each) => each !== out.stepId),
  )
  await ask.undo({ entryId: (await ask.commission({ id })).history.find(({ canUndo }) => canUndo)!.entryId })
  expect(await stepsOf(ask, id)).toEqual(before)

  const first = (await ask.bench({ rows: 24 })).canStart[0] ?? (await ask.bench({ rows: 24 })).comingUp[0]!
  await setClock(at(first.plannedAt! + 20))
  await ask.stepDone({ stepId: first.stepId, anyway: true, workedMin: 20 })
  expect(await call.stepsChange({ kind: 'leave-out', stepId: first.stepId })).toMatchObject({
    ok: false,
    problems: [{ code: 'begun' }],
  })
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { allOfLumber } from './support/all-of-lumber.ts'
import type { BookStep } from '../../core/book/book.ts'
import type { Draft } from '../../desk/orders/draft.ts'
import { isWoodLost, woodLostOf } from '../../desk/orders/wood-lost.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

/** An order of two boards, worked on for that many steps. */
async function boardsWorkedOn(presses: number, count = '2') {
  const one = await aDesk()
  const draft = aDraft({ pieces: [aPiece({}, 'end-grain-board', count)], price: '300' })
  const { commissionId: id } = await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-18' })
  for (let press = 0; press < presses; press++) {
    const bench = await one.ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]!
    await one.setClock(at(next.plannedAt! + 20))
    await one.ask.stepDone({ stepId: next.stepId, anyway: true, workedMin: 20 })
  }
  return { ...one, id }
}
const stepsOf = async (ask: TestDesk['ask'], id: string) =>
  (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
const workedIn = (steps: readonly { readonly workedMinutes: number | null }[]): number =>
  steps.reduce((sum, { workedMinutes }) => sum + (workedMinutes ?? 0), 0)
const withPiece = (draft: Draft, changes: Partial<Draft['pieces'][number]>): Draft => ({
  ...draft,
  pieces: draft.pieces.map((piece, at) =>
    at === 0 ? { ...piece, ...changes, input: { ...piece.input, ...changes.input } } : piece,
  ),
})
const shown = async (ask: TestDesk['ask'], id: string) => {
  const { pieces, customer, priceMinor, promisedFor, promises, doneAt, money } = await ask.commission({ id })
  return { pieces, customer, priceMinor, promisedFor, promises, doneAt, money }
}

test('another finish keeps the work before the first coat; hours and dates stand side by side; undo restores all', async () => {
  const { ask, id } = await boardsWorkedOn(4)
  const before = await shown(ask, id)
  const stock = await allOfLumber(ask)
  const { draft } = await ask.changeBegin({ id })
  const changed = { ...withPiece(draft, { input: { finish: 'hardwax_oil' } }), price: '340' }
  const { change, problems } = await ask.changeCompare({ id, draft: changed, said: {}, asked: 'odds' })
  expect(problems).toEqual([])
  expect(change).toMatchObject({ changesWork: true, lostMinutes: 0, countingMinutes: 80 })
  expect([change!.before.priceMinor, change!.after.priceMinor]).toEqual([30_000, 34_000])
  expect(change!.after.dayToSay).not.toBeNull()
  expect(change!.before.chance).not.toBeNull()
  expect(change!.after.chance).not.toBeNull()

  const kept = await ask.changeKeep({
    ...{ id, draft: changed, said: {}, askedBy: 'customer', why: 'tougher', promise: 'as-quoted' },
  })
  expect(kept.said).toMatch(/^Changed: No\. 1, Ada Quist\. Promised /)
  const after = await ask.commission({ id })
  expect(after.priceMinor).toBe(34_000)
  expect(after.promisedFor).toBe(change!.after.dayToSay)
  expect(after.doneAt).toBe(change!.after.doneAt)
  expect(after.promises[0]).toMatchObject({ wantedBy: 'customer', day: after.promisedFor })
  expect(after.history[0]).toMatchObject({
    text: 'Order changed: No. 1, Ada Quist. Customer asked: tougher',
    sums: 'Price $300.00, now $340.00',
  })
  expect((await stepsOf(ask, id)).filter(({ state }) => state === 'done')).toHaveLength(4)

  await ask.undo({ entryId: kept.entryId! })
  expect(await shown(ask, id)).toEqual(before)
  expect(await allOfLumber(ask)).toEqual(stock)
})

test('what was written before a change names the piece as it was then, and the change says old and new; so after an undo', async () => {
  const { ask, id } = await boardsWorkedOn(2)
  const titleOf = async () => (await ask.commission({ id })).pieces[0]!.piece.title
  const texts = async () => (await ask.commission({ id })).history.map(({ text }) => text)
  const old = await titleOf()
  const before = (await texts()).filter((text) => text.endsWith(` of ${old}`))
  expect(before.length).toBeGreaterThanOrEqual(2)
  const { draft } = await ask.changeBegin({ id })
  const changed = withPiece(draft, { input: { cell: '1 3/4"' } })
  const kept = await ask.changeKeep({
    ...{ id, draft: changed, said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' },
  })
  const now = await titleOf()
  expect(now).not.toBe(old)
  expect((await texts())[0]).toMatch(/^Order changed: No\. 1, Ada Quist\. Customer asked\. /)
  expect((await texts())[0]).toContain(`${old} became`)
  expect((await texts())[0]).toContain(now)
  expect((await texts()).filter((text) => text.endsWith(` of ${old}`))).toEqual(before)
  await ask.undo({ entryId: kept.entryId! })
  expect((await texts()).filter((text) => text.endsWith(` of ${old}`))).toEqual(before)
})

test('other sizes lose the work, whose hours stay counted; the maker may say that a step counts all the same', async () => {
  const { ask, id } = await boardsWorkedOn(3)
  const steps = await stepsOf(ask, id)
  const { draft } = await ask.changeBegin({ id })
  const { cell } = draft.pieces[0]!.input
  const changed = withPiece(draft, { input: { cell: cell === '1 1/2"' ? '1 3/4"' : '1 1/2"' } })
  const compared = await ask.changeCompare({ id, draft: changed, said: {}, asked: 'dates' })
  expect(compared.problems).toEqual([])
  expect(compared.change).toMatchObject({ lostMinutes: 60, countingMinutes: 0 })
  const first = compared.change!.work[0]!
  expect(first).toMatchObject({ counts: false, canSay: true })
  const said = { [first.stepId]: true }
  const again = await ask.changeCompare({ id, draft: changed, said, asked: 'dates' })
  expect(again.change).toMatchObject({ lostMinutes: 40, countingMinutes: 20 })

  const kept = await ask.changeKeep({ id, draft: changed, said, askedBy: 'maker', why: '', promise: 'as-it-is' })
  const after = await stepsOf(ask, id)
  expect(workedIn(after)).toBe(workedIn(steps))
  expect(after.filter(({ lost }) => lost)).toHaveLength(2)
  expect((await ask.commission({ id })).promisedFor).toBe('2026-05-18')
  // Through to the end, and ready.
  await ask.undo({ entryId: kept.entryId! })
  expect(await stepsOf(ask, id)).toEqual(steps)
})

test('boards in clamps that another size has no use for are told before it is kept, with the clamps that come free', async () => {
  const { ask, setClock } = await aDesk()
  const boards = aPiece({ length: '18' }, 'edge-grain-board', '2')
  const { commissionId: id } = await ask.takeOrder({
    draft: aDraft({ pieces: [boards] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  for (const { stepId, name } of await stepsOf(ask, id)) {
    await ask.stepPutRight({ stepId, stretches: [], isDone: true })
    if (name.startsWith('Glue')) break
  }
  const { place } = (await ask.rack()).waiting[0]!
  expect(place).toMatch(/^Clamps 1–/)
  const { draft } = await ask.changeBegin({ id })
  const unused = async (changed: Draft) =>
    (await ask.changeCompare({ id, draft: changed, said: {}, asked: 'dates' })).change!.unused
  const longer = withPiece(draft, { input: { length: '20' } })
  expect(await unused(longer)).toEqual([
    { count: 2, piece: expect.stringContaining('18') as string, lot: null, upTo: 'Glue-up', places: place },
  ])
  expect(await unused({ ...draft, price: '200' })).toEqual([])
  await ask.changeKeep({ id, draft: longer, said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' })
  expect((await ask.rack()).waiting).toEqual([])

  // Out of the clamps nothing comes free, and the glued-up boards are named all the same.
  await setClock('2026-03-05T15:00:00Z')
  for (const { stepId, name, state, lost } of await stepsOf(ask, id)) {
    if (state !== 'done' && !lost) await ask.stepPutRight({ stepId, stretches: [], isDone: true })
    if (name.startsWith('Take off') && !lost) break
  }
  expect(await unused(withPiece(draft, { input: { length: '22' } }))).toMatchObject([
    { count: 2, upTo: expect.stringMatching(/^Take off/) as string, places: '' },
  ])
})

test('another wood for the top of a table leaves the work on its base', async () => {
  const { ask, setClock } = await aDesk()
  const draft = aDraft({ pieces: [aPiece({}, 'small-table')], price: '900' })
  const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  const all = await stepsOf(ask, id)
  const first = (name: RegExp) => all.findIndex((step) => name.test(step.name))
  const begun = [first(/legs|apron|base/i), first(/top/i)].map((index) => all[index]!)
  let now = Date.parse('2026-03-04T01:00:00Z')
  for (const { stepId } of begun) {
    await setClock(new Date((now += 3_600_000)).toISOString())
    await ask.stepDone({ stepId, anyway: true, workedMin: 30 })
  }
  const changed = withPiece((await ask.changeBegin({ id })).draft, { input: { woodA: 'maple' } })
  const { change, problems } = await ask.changeCompare({ id, draft: changed, said: {}, asked: 'dates' })
  expect(problems).toEqual([])
  expect(change!.work.map(({ stepId, counts }) => [stepId, counts])).toEqual(
    expect.arrayContaining([
      [begun[0]!.stepId, true],
      [begun[1]!.stepId, false],
    ]),
  )
  expect(change).toMatchObject({ countingMinutes: 30, lostMinutes: 30 })
})

test('wood is lost of the parts that are others, as long as nothing that was milled of it counts', () => {
  const step = (key: string, lot = 1) => ({ id: `${lot}/${key}`, key, lot }) as BookStep
  const steps = [step('top-mill'), step('base-mill'), step('top-mill', 2), step('base-mill', 2)]
  const made = (...counting: string[]) => ({ ...{ steps, lags: [], counting, lost: [], mayCount: [] } })
  const top = new Map([['top-mill', ['Top stave']]])
  const lost = woodLostOf('p', steps, made('1/base-mill', '2/top-mill'), top)
  expect(lost).toEqual([{ pieceId: 'p', lot: 1, parts: ['Top stave'] }])
  const isLost = (lot: number, name: string) => isWoodLost(lost, { pieceId: 'p', lot, name })
  expect([isLost(1, 'Top stave'), isLost(1, 'Leg'), isLost(2, 'Top stave')]).toEqual([true, false, false])
  expect(woodLostOf('p', steps, made('2/top-mill'), null)).toEqual([{ pieceId: 'p', lot: 1, parts: null }])
  expect(woodLostOf('p', steps, made(), new Map())).toEqual([])
})

test('one more board goes beside those begun, one fewer leaves the work of the others', async () => {
  const { ask, id } = await boardsWorkedOn(2)
  const { draft } = await ask.changeBegin({ id })
  await ask.changeKeep({
    ...{ id, draft: withPiece(draft, { count: '3' }), said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' },
  })
  const more = await stepsOf(ask, id)
  expect(more.filter(({ state }) => state === 'done').map(({ count, lost }) => [count, lost])).toEqual([
    [2, false],
    [2, false],
  ])
  expect(new Set(more.map(({ lot, count }) => `${lot}: ${count}`))).toEqual(new Set(['lot 1 of 2: 2', 'lot 2 of 2: 1']))
  const now = await ask.changeBegin({ id })
  await ask.changeKeep({
    ...{ id, draft: withPiece(now.draft, { count: '1' }), said: {}, askedBy: 'customer', why: '', promise: 'as-it-is' },
  })
  const fewer = await stepsOf(ask, id)
  expect(fewer.filter(({ state }) => state === 'done').map(({ lost }) => lost)).toEqual([false, false])
  expect(new Set(fewer.map(({ count }) => count))).toEqual(new Set([1]))
  expect((await ask.shopState()).inTheWay).toEqual([])
})

test('a piece that is no longer wanted leaves its hours in the order; a new one comes in; customer and gift change', async () => {
  const { ask, id, setClock } = await boardsWorkedOn(2)
  const { draft } = await ask.changeBegin({ id })
  const stepsBefore = await stepsOf(ask, id)
  const running = stepsBefore.find(({ state }) => state === 'to-do')!
  await ask.stepStart({ stepId: running.stepId, anyway: true })
  await setClock(
    at((await ask.bench({ rows: 24 })).canStart[0]?.plannedAt ?? Date.parse('2026-03-20T00:00:00Z') / 60_000),
  )
  const box = aPiece({}, 'box')
  const changed: Draft = {
    ...{ ...draft, pieces: [box], giftFor: 'Uncle Ned' },
    customer: { ...draft.customer, id: undefined, name: 'Ada Quist-Hale' },
  }
  const { change } = await ask.changeCompare({ id, draft: changed, said: {}, asked: 'dates' })
  expect(change!.work.every(({ counts, canSay }) => !counts && !canSay)).toBe(true)
  const kept = await ask.changeKeep({ id, draft: changed, said: {}, askedBy: 'customer', why: '', promise: 'none' })
  const after = await ask.commission({ id })
  expect(after.customer.name).toBe('Ada Quist-Hale')
  expect(after.giftFor).toBe('Uncle Ned')
  expect(after.promisedFor).toBeNull()
  expect(after.pieces).toHaveLength(1)
  expect(after.pieces[0]!.steps.filter(({ lost }) => lost)).toHaveLength(3)
  expect(workedIn(after.pieces[0]!.steps)).toBeGreaterThanOrEqual(workedIn(stepsBefore))
  expect(
    (await ask.customers({ sought: '', within: 'all', count: 50 })).found.filter(({ customer }) =>
      customer.name.startsWith('Ada'),
    ),
  ).toHaveLength(1)
  await ask.undo({ entryId: kept.entryId! })
  const back = await stepsOf(ask, id)
  expect(back.map(({ stepId }) => stepId)).toEqual(stepsBefore.map(({ stepId }) => stepId))
  expect(back.filter(({ state }) => state === 'running')).toHaveLength(1)
})

test('nothing is kept that is wrong, past or the same, and each says what would do', async () => {
  const { ask, call, id } = await boardsWorkedOn(1)
  const { draft } = await ask.changeBegin({ id })
  const keep = (changed: Draft, promise = 'as-it-is') =>
    call.changeKeep({ id, draft: changed, said: {}, askedBy: 'customer', why: '', promise })
  expect(await keep(draft)).toMatchObject({ ok: false, problems: [{ code: 'nothing-changed' }] })
  expect(await keep(withPiece(draft, { count: 'two' }))).toMatchObject({
    ok: false,
    problems: [{ field: 'pieces.0.count' }],
  })
  expect(await keep({ ...draft, notes: 'feet' }, '2026-01-05')).toMatchObject({
    ok: false,
    problems: [{ field: 'promise' }],
  })
  const before = (await ask.commission({ id })).promises.length
  // Only words: the promise stays as it was given.
  expect((await keep({ ...draft, notes: 'feet' })).ok).toBe(true)
  expect((await ask.commission({ id })).promises).toHaveLength(before)
  // What is being changed is kept as it is typed, and is no order of its own.
  await ask.draftSave({ key: `change-${id}`, draft: { ...draft, notes: 'half typed' } })
  expect(await ask.drafts()).toEqual([])
  expect((await ask.changeBegin({ id })).draft.notes).toBe('half typed')
  await ask.commissionCallOff({ id })
  expect(await call.changeBegin({ id })).toMatchObject({ ok: false, problems: [{ code: 'wrong-standing' }] })
})

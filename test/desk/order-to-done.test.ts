import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

test('an order goes from a draft to the day it is handed over, step by step as the Bench offers them', async () => {
  const { ask, setClock } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-04-18' })

  for (let presses = 0; presses < 60; presses++) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]
    if (!next) break
    expect(next.plannedAt).not.toBeNull()
    await setClock(at(next.plannedAt!))
    await ask.stepStart({ stepId: next.stepId })
    const running = (await ask.bench({ rows: 24 })).onTheBench[0]!
    expect(running.stepId).toBe(next.stepId)
    await setClock(at(running.plannedEndAt!))
    await ask.stepDone({ stepId: next.stepId })
  }

  const done = await ask.commission({ id: commissionId })
  expect(done.word).toBe('ready-to-collect')
  expect(done.pieces.map((piece) => piece.state)).toEqual(['finished'])
  await ask.commissionHandOver({ id: commissionId })
  expect((await ask.closedOrders({ count: 50 })).map((row) => row.standing)).toEqual(['handed-over'])
})

test('a glued-up panel is seen on the Rack with its clamps and the time they come off', async () => {
  const { ask, setClock, events } = await aDesk()
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-04-18' })
  let glued: { end: number; name: string } | null = null
  while (glued === null) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]!
    await setClock(at(next.plannedAt!))
    await ask.stepStart({ stepId: next.stepId })
    const end = next.plannedEndAt!
    await setClock(at(end))
    await ask.stepDone({ stepId: next.stepId })
    if (next.name === 'First glue-up') glued = { end, name: next.name }
  }

  const { waiting } = await ask.rack()
  const [row] = waiting
  expect(waiting).toHaveLength(1)
  expect(row).toMatchObject({ state: 'in-clamps', sinceAt: glued.end, advice: { kind: 'wait' } })
  expect(row!.place).toMatch(/^Clamps 1–\d+$/)
  // Clamp time of a water-resistant PVA glue is 60 min at 21 C (waits.csv: 'Glue Characteristics' chart), the new shop's air.
  expect(row!.readyAt).toBe(glued.end + 60)

  // Told in the evening: the shop is quiet from 22:00.
  await setClock(at(row!.readyAt!))
  const told = events.filter((event) => event.kind === 'notice').map((event) => event.notice.title)
  expect(told).toEqual(['Clamps can come off'])
  expect((await ask.rack()).waiting[0]!.advice).toEqual({ kind: 'ready' })
})

test('a step that took a day longer than estimated moves what follows, and says so', async () => {
  const { ask, setClock } = await aDesk()
  const { commissionId } = await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' })] }),
    standing: 'agreed',
    promisedFor: '2026-04-18',
  })
  const first = (await ask.bench({ rows: 24 })).canStart[0] ?? (await ask.bench({ rows: 24 })).comingUp[0]!
  await setClock(at(first.plannedAt!))
  await ask.stepStart({ stepId: first.stepId })
  const before = await ask.commission({ id: commissionId })
  // Not before the next evening.
  await setClock(at(first.plannedAt! + 2 * 60))
  await ask.stepPause({ stepId: first.stepId })
  await setClock(at(first.plannedAt! + 26 * 60))
  await ask.stepStart({ stepId: first.stepId })
  await setClock(at(first.plannedAt! + 27 * 60))
  await ask.stepDone({ stepId: first.stepId })
  const after = await ask.commission({ id: commissionId })
  expect(after.doneAt!).toBeGreaterThan(before.doneAt!)
})

test('what was done by mistake is taken back, and the plan with it', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const first = (await ask.bench({ rows: 24 })).canStart[0] ?? (await ask.bench({ rows: 24 })).comingUp[0]!
  await setClock(at(first.plannedAt!))
  const started = await ask.stepStart({ stepId: first.stepId })
  expect((await ask.bench({ rows: 24 })).onTheBench).toHaveLength(1)
  await ask.undo({ entryId: started.entryId! })
  expect((await ask.bench({ rows: 24 })).onTheBench).toHaveLength(0)
  expect((await ask.bench({ rows: 24 })).canStart.map((step) => step.stepId)).toContain(first.stepId)
})

test('everything is there again after closing and opening', async () => {
  const one = await aDesk()
  await one.ask.draftSave({ draft: aDraft({ notes: 'half a sent' }) })
  await one.ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-04-18' })
  await one.ask.draftSave({ draft: aDraft({ notes: 'and a second one, half ty' }) })
  const before = await one.ask.orderBook()
  await one.desk.close()

  const two = await aDesk({ folder: one.folder })
  expect(await two.ask.orderBook()).toEqual(before)
  expect((await two.ask.draftLoad())?.notes).toBe('and a second one, half ty')
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const row = (name: string, minutes: string, kind: string) => ({
  ...{ name, minutes, kind, wait: '', atMost: '', after: '', dusty: false, units: '' },
})

/** An order of a single step. */
const shelf = (name: string, minutes: string, kind = 'hand') =>
  aDraft({ pieces: [aPiece({ title: 'Shelf', rows: [row(name, minutes, kind)] }, 'free-list')] })

test('each line of the Bench has the promise of its order with its chance, and the first says why it comes first', async () => {
  const { ask, desk } = await aDesk()
  await ask.takeOrder({ draft: shelf('Plane it', '40'), standing: 'agreed', promisedFor: '2026-03-10' })
  await expect
    .poll(async () => (await ask.bench({ rows: 24 })).canStart[0]?.promise?.outlook.chance ?? null)
    .not.toBeNull()
  const { canStart, whyFirst } = await ask.bench({ rows: 24 })
  expect(canStart[0]!.promise!.day).toBe('2026-03-10')
  expect(canStart[0]!.promise!.outlook.chance).toBeGreaterThan(0.9)
  expect(whyFirst[0]).toMatch(/^No\. 1 is promised for .*Mar 10.*: nearly certain\.$/)
  expect(whyFirst.at(-1)).toMatch(
    /^First what keeps promises and lets waits use the night, then the orders promised soonest/,
  )
  await desk.close()
})

test('a step in one go that does not fit what is left of the session is not offered, and says so; one that may be paused is', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({ draft: shelf('Glue it up', '60', 'glue-up'), standing: 'agreed', promisedFor: '2026-03-10' })
  await ask.takeOrder({ draft: shelf('Carve it', '100'), standing: 'agreed', promisedFor: '2026-03-20' })
  const { session } = await ask.bench({ rows: 24 })
  expect((await ask.bench({ rows: 24 })).canStart.map(({ name }) => name)).toEqual(['Glue it up', 'Carve it'])
  const closes = session!.toAt
  await setClock(new Date((closes - 45) * 60_000).toISOString())
  const late = await ask.bench({ rows: 24 })
  expect(late.canStart.map(({ name }) => name)).toEqual(['Carve it'])
  expect(late.comingUp.find(({ name }) => name === 'Glue it up')?.hindrance).toMatch(/ in one go, only 45 min left\.$/)
})

test('a step in one go that is longer than an evening is kept for the Saturday that it fits', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({ draft: shelf('Glue it up', '180', 'glue-up'), standing: 'agreed', promisedFor: '2026-03-20' })
  // An evening is 150 minutes long: as it begins, and shortly before its end.
  for (const [clock, left] of [
    ['2026-03-04T01:00:00Z', '2 h 30 min'],
    ['2026-03-04T03:25:00Z', '5 min'],
  ] as const) {
    await setClock(clock)
    const { canStart, comingUp } = await ask.bench({ rows: 24 })
    expect(canStart).toEqual([])
    expect(comingUp[0]).toMatchObject({ name: 'Glue it up', hindrance: `Takes 3 h in one go, only ${left} left.` })
    expect(new Date(comingUp[0]!.plannedAt! * 60_000).toISOString()).toBe('2026-03-07T15:00:00.000Z')
  }
  await setClock('2026-03-07T15:00:00Z')
  expect((await ask.bench({ rows: 24 })).canStart.map(({ name }) => name)).toEqual(['Glue it up'])
})

test('dusty work goes before a coat that keeps dust down for the rest of the evening, and says why', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  const box = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'box')] })
  await ask.takeOrder({ draft: box, standing: 'agreed', promisedFor: '2026-05-20' })
  await workUntil(desk, 'Sand')
  const plane = { ...row('Plane it', '60', 'machine'), dusty: true }
  const board = aDraft({ pieces: [aPiece({ title: 'Shelf', rows: [plane] }, 'free-list')] })
  await ask.takeOrder({ draft: board, standing: 'agreed', promisedFor: '2026-06-20' })
  await setClock('2026-03-17T00:00:00Z')
  const { canStart, session, whyFirst } = await ask.bench({ rows: 24 })
  expect(canStart.map(({ name }) => name)).toEqual(['Plane it', 'First coat'])
  // The plan has the coat first, and the planing for another day.
  expect(canStart[1]!.plannedAt).toBe(session!.fromAt)
  expect(canStart[0]!.plannedAt).toBeGreaterThan(session!.toAt)
  expect(whyFirst).toContain('No dust may fly once “First coat” is on: dusty work goes first.')
})

test('why a step comes first tells no chance of the plan before', async () => {
  const { ask } = await aDesk()
  const { commissionId: id } = await ask.takeOrder({
    draft: shelf('Plane it', '40'),
    standing: 'agreed',
    promisedFor: '2026-03-10',
  })
  const first = async () => {
    const { canStart, whyFirst } = await ask.bench({ rows: 24 })
    return { outlook: canStart[0]!.promise!.outlook, why: whyFirst[0]! }
  }
  await expect.poll(async () => (await first()).outlook.fresh).toBe(true)
  expect((await first()).why).toMatch(/: nearly certain\.$/)
  // Each press plans anew; one of them is looked at before its chances are worked out.
  let seen = await first()
  for (let weight = 2; seen.outlook.fresh; weight = 5 - weight) {
    await ask.commissionChange({ id, changes: { weight } })
    seen = await first()
  }
  expect(seen.outlook.chance).not.toBeNull()
  expect(seen.why).toMatch(/^No\. 1 is promised for .*Mar 10[^:]*\.$/)
})

test('a press is answered once it is kept, and whatever is asked next follows from it', async () => {
  const { ask, call, desk } = await aDesk()
  await ask.takeOrder({ draft: shelf('Plane it', '40'), standing: 'agreed', promisedFor: '2026-03-10' })
  await ask.takeOrder({ draft: shelf('Carve it', '40'), standing: 'agreed', promisedFor: '2026-03-20' })
  const [plane] = (await ask.bench({ rows: 24 })).canStart
  let isTold = false
  desk.onEvent(({ kind }) => (isTold ||= kind === 'changed'))
  const started = await call.stepStart({ stepId: plane!.stepId, makerId: null })
  expect(started).toMatchObject({ ok: true, value: { datesFollow: true, entryId: expect.any(Number) as number } })
  expect(isTold).toBe(false)
  // Not waited for: each finds the press before it, in the book and in the plan.
  const [onIt, again] = await Promise.all([
    ask.bench({ rows: 24 }),
    call.stepStart({ stepId: plane!.stepId, makerId: null }),
  ])
  expect(isTold).toBe(true)
  expect(onIt.onTheBench.map(({ name }) => name)).toEqual(['Plane it'])
  expect(again).toMatchObject({ ok: false, problems: [{ code: 'already-running' }] })
  const undone = await call.undo({ entryId: started.ok ? started.value.entryId! : 0 })
  expect(undone).toMatchObject({ ok: true, value: { datesFollow: true } })
  expect((await ask.bench({ rows: 24 })).canStart.map(({ name }) => name)).toEqual(['Plane it', 'Carve it'])
})

test('presses that wait while another is caught up with go on one after the other', async () => {
  const { ask, call } = await aDesk()
  for (const name of ['Plane it', 'Carve it'])
    await ask.takeOrder({ draft: shelf(name, '40'), standing: 'agreed', promisedFor: '2026-03-20' })
  const [first, second] = (await ask.bench({ rows: 24 })).canStart.map(({ stepId }) => stepId)
  await ask.stepStart({ stepId: first!, makerId: null })
  // Two people press the same at the same time: one of them was quicker, and each takes back what was pressed there.
  const [one, other, paused] = await Promise.all([
    call.stepStart({ stepId: second!, makerId: null }),
    call.stepStart({ stepId: second!, makerId: null }),
    call.stepPause({ stepId: first! }),
  ])
  expect(one).toMatchObject({ ok: true, value: { said: 'Started: carve it of Shelf.' } })
  expect(other).toMatchObject({ ok: false, problems: [{ code: 'already-running' }] })
  expect(paused).toMatchObject({ ok: true })
  expect(new Set([one, paused].map((reply) => reply.ok && reply.value.entryId)).size).toBe(2)
  await ask.undo({ entryId: one.ok ? one.value.entryId! : 0 })
  const { onTheBench, canStart } = await ask.bench({ rows: 24 })
  expect(onTheBench.map(({ stepId, state }) => [stepId, state])).toEqual([[first, 'paused']])
  expect(canStart.map(({ stepId }) => stepId)).toEqual([second])
})

test('a press that is answered is kept although the desk closes before the plan follows', async () => {
  const { ask, call, desk, folder } = await aDesk()
  await ask.takeOrder({ draft: shelf('Plane it', '40'), standing: 'agreed', promisedFor: '2026-03-10' })
  const [plane] = (await ask.bench({ rows: 24 })).canStart
  expect((await call.stepStart({ stepId: plane!.stepId, makerId: null })).ok).toBe(true)
  await desk.close()
  const again = await aDesk({ folder })
  expect((await again.ask.bench({ rows: 24 })).onTheBench.map(({ name }) => name)).toEqual(['Plane it'])
})

test('of what can be started as many rows come as are asked for, and how many more there are', async () => {
  const { ask } = await aDesk()
  for (const name of ['Plane it', 'Carve it', 'Sand it'])
    await ask.takeOrder({ draft: shelf(name, '40'), standing: 'agreed', promisedFor: '2026-03-20' })
  const all = await ask.bench({ rows: 24 })
  expect(all).toMatchObject({ canStart: { length: 3 }, canStartToo: 0 })
  const two = await ask.bench({ rows: 2 })
  expect(two.canStart).toEqual(all.canStart.slice(0, 2))
  expect(two.canStartToo).toBe(1)
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()
const DAY = 24 * 60

/** A Tuesday morning in January; the shop is heated only while somebody works, at night it falls to 3 °C or so. */
const JANUARY = '2026-01-13T15:00:00Z'

const HOUSE = {
  ...{ id: '', name: 'Hall', kind: 'house', temperature: '20 C', humidity: '45 %' },
  ...{ capacity: '4', carry: '5 min', inPlans: false },
}

async function inJanuary(finish: string, place: Partial<typeof HOUSE> | null): Promise<TestDesk> {
  const one = await aDesk({ at: JANUARY })
  await one.ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  if (place !== null) await one.ask.almanacSave({ list: 'places', item: { ...HOUSE, ...place } })
  const draft = aDraft({ pieces: [aPiece({ finish }, 'edge-grain-board')] })
  await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  return one
}

test('a coat is carried into the house with one press: it dries there at the figure of its label, and undo carries it back', async () => {
  const one = await inJanuary('tung_pure', {})
  const { ask, setClock } = one
  await workUntil(one, 'First coat')
  const cold = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  const [offered] = cold.moves
  expect(offered).toMatchObject({ name: 'Hall' })
  expect(cold.readyAt! - offered!.readyAt!).toBeGreaterThan(DAY)

  await ask.pieceMove({ stepId: cold.afterStepId, place: offered!.place })
  const warm = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  // 20 C and 45 % are within 18-27 C and 40-60 % RH, where the figures hold (reference/waits.md, 3.2).
  expect(warm.readyAt! - warm.sinceAt).toBe(48 * 60)
  expect(warm).toMatchObject({ standsIn: 'Hall', readyAt: offered!.readyAt })
  const stations = (await ask.rack()).stations
  expect(stations.find(({ name }) => name === 'Hall')).toMatchObject({ used: 1, capacity: 4 })
  expect(stations.find(({ name }) => name === 'Drying rack')).toMatchObject({ used: 0 })
  expect(warm.next!.plannedAt).toBeGreaterThanOrEqual(warm.readyAt!)

  await setClock(at(warm.sinceAt + 600))
  expect((await ask.rack()).waiting[0]!.moves.at(-1)).toMatchObject({ place: null, name: 'Shop' })
  await ask.undo({ entryId: (await ask.bench({ rows: 24 })).lastAction!.entryId })
  const again = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  expect(again).toMatchObject({ standsIn: null, readyAt: cold.readyAt })
})

test('the Bench offers what is worth a walk with one press, and not what is ready soon anyway', async () => {
  const one = await inJanuary('tung_pure', {})
  const { ask, setClock } = one
  await workUntil(one, 'First coat')
  const row = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  const [line] = (await ask.bench({ rows: 24 })).carry
  expect(line).toMatchObject({ afterStepId: row.afterStepId, readyAt: row.readyAt, move: row.moves[0] })
  expect((await ask.bench({ rows: 24 })).carry).toHaveLength(1)

  await setClock(at(row.readyAt! - 6 * 60))
  expect((await ask.bench({ rows: 24 })).carry).toEqual([])
  await setClock(at(row.sinceAt + 60))
  const [again] = (await ask.bench({ rows: 24 })).carry
  await ask.pieceMove({ stepId: again!.afterStepId, place: again!.move.place })
  expect((await ask.bench({ rows: 24 })).carry).toEqual([])
  expect((await ask.rack()).waiting.find(({ state }) => state === 'drying')!.standsIn).toBe('Hall')
})

test('solvent finish is never offered the house nor a box with a heater, and is refused there with the reason', async () => {
  const one = await inJanuary('oil_polyurethane', {})
  const { ask, call } = one
  await ask.almanacSave({ list: 'places', item: { ...HOUSE, name: 'Box', kind: 'warm-box' } })
  await ask.almanacSave({ list: 'places', item: { ...HOUSE, name: 'Boiler room', kind: 'room' } })
  await workUntil(one, 'First coat')
  const row = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  expect(row.moves.map(({ name }) => name)).toEqual(['Boiler room'])
  const reply = await call.pieceMove({ stepId: row.afterStepId, place: 'hall' })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'not-in-the-house' }] })
  const box = await call.pieceMove({ stepId: row.afterStepId, place: 'box' })
  expect(box).toMatchObject({ ok: false, problems: [{ code: 'not-near-a-heater' }] })
})

test('a plan carries pieces only into places that the maker allows', async () => {
  const doneIn = async (place: Partial<typeof HOUSE> | null): Promise<number> => {
    const { ask } = await inJanuary('tung_pure', place)
    const { doneAt } = (await ask.orderBook()).open[0]!
    return doneAt!
  }
  const [never, notAllowed, allowed] = [
    await doneIn(null),
    await doneIn({ inPlans: false }),
    await doneIn({ inPlans: true }),
  ]
  expect(notAllowed).toBe(never)
  expect(never - allowed).toBeGreaterThan(3 * DAY)
})

test('what the plan has carried off is logged there with the press that ends its coat', async () => {
  const one = await inJanuary('tung_pure', { inPlans: true })
  await workUntil(one, 'First coat')
  const row = (await one.ask.rack()).waiting.find(({ state }) => state === 'drying')!
  expect(row.standsIn).toBe('Hall')
  expect(row.readyAt! - row.sinceAt).toBe(48 * 60)
})

test('a full place takes no more pieces, and one with a piece in it stays in the Almanac', async () => {
  const one = await inJanuary('tung_pure', { capacity: '1' })
  const { ask, call } = one
  await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ finish: 'tung_pure' }, 'edge-grain-board')] }),
    standing: 'agreed',
    promisedFor: null,
  })
  await workUntil(one, 'First coat')
  const first = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  await ask.pieceMove({ stepId: first.afterStepId, place: 'hall' })
  await workUntil(one, 'First coat')
  const second = (await ask.rack()).waiting.find(({ standsIn, state }) => state === 'drying' && standsIn === null)!
  expect(second.moves).toEqual([])
  const full = await call.pieceMove({ stepId: second.afterStepId, place: 'hall' })
  expect(full).toMatchObject({ ok: false, problems: [{ code: 'place-full' }] })
  expect(await call.almanacRemove({ list: 'places', id: 'hall' })).toMatchObject({ ok: false })
  await ask.pieceMove({ stepId: first.afterStepId, place: null })
  expect(await call.almanacRemove({ list: 'places', id: 'hall' })).toMatchObject({ ok: true })
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

/** Works as planned, without a press against anything, until a step of that name is next. */
async function workUntil({ ask, setClock }: TestDesk, name: string): Promise<string> {
  for (let presses = 0; presses < 80; presses++) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]
    if (!next) throw new Error('Nothing is left to work on.')
    await setClock(at(next.plannedAt!))
    if (next.name === name) return next.stepId
    await ask.stepStart({ stepId: next.stepId })
    await setClock(at(next.plannedAt! + next.handsOnMinutes))
    await ask.stepDone({ stepId: next.stepId })
  }
  throw new Error(`${name} never comes.`)
}

test('five boards on a rack of eight get their second coat: the places that they stand in themselves are not in its way', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const five = aPiece({ finish: 'wiping_oil_varnish', coats: '2' }, 'edge-grain-board', '5')
  await ask.almanacChangeFact({ key: 'stations.clamps.capacity', input: '60' })
  await ask.takeOrder({ draft: aDraft({ pieces: [five] }), standing: 'agreed', promisedFor: null })

  const second = await workUntil(desk, 'Second coat')
  const rack = (await ask.rack()).stations.find(({ id }) => id === 'rack')!
  expect(rack).toMatchObject({ capacity: 8, used: 5 })
  expect((await ask.bench({ rows: 24 })).canStart.find(({ stepId }) => stepId === second)?.hindrance).toBeNull()
  await ask.stepStart({ stepId: second })
  expect((await ask.rack()).stations.find(({ id }) => id === 'rack')).toMatchObject({ used: 5 })
})

test('more clamps in use than there are is told as that, and one press says that the forgotten ones are off', async () => {
  const { ask, setClock } = await aDesk()
  const board = aPiece({ length: '18' }, 'edge-grain-board')
  const orders: string[] = []
  for (const name of ['Bill Tran', 'Rosa Lund']) {
    const draft = aDraft({ pieces: [board] })
    const customer = { ...draft.customer, name }
    orders.push(
      (await ask.takeOrder({ draft: { ...draft, customer }, standing: 'agreed', promisedFor: null })).commissionId,
    )
  }
  const glueUp = async (id: string): Promise<void> => {
    for (const { stepId, name } of (await ask.commission({ id })).pieces[0]!.steps) {
      await ask.stepPutRight({ stepId, stretches: [], isDone: true })
      if (name.startsWith('Glue')) return
    }
  }
  await glueUp(orders[0]!)
  expect((await ask.rack()).overfull).toEqual([])
  await setClock('2026-03-04T15:00:00Z')
  await glueUp(orders[1]!)

  const { overfull, waiting } = await ask.rack()
  expect(overfull).toMatchObject([
    {
      name: 'Clamps',
      used: 18,
      capacity: 12,
      freedBy: { name: expect.stringMatching(/^Take off/) as string, piece: { customer: 'Bill Tran' } },
    },
  ])
  expect(waiting.map(({ place }) => place).toSorted()).toEqual(['Clamps 10–12, 6 more than there are', 'Clamps 1–9'])
  const off = await ask.stepDone({ stepId: overfull[0]!.freedBy!.stepId, anyway: true, workedMin: null })
  const after = await ask.rack()
  expect(after.overfull).toEqual([])
  expect(after.stations.find(({ id }) => id === 'clamps')).toMatchObject({ used: 9 })
  await ask.undo({ entryId: off.entryId! })
  expect((await ask.rack()).overfull).toEqual(overfull)
})

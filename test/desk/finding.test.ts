import { describe, expect, test } from 'vitest'
import { isFoundIn } from '../../core/book/found-in.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const small = aPiece({ length: '14', width: '9', woodA: 'cherry' }, 'edge-grain-board')

const everybody = { sought: '', within: 'all', count: 50 } as const

const take = async (
  { ask }: TestDesk,
  changes: Parameters<typeof aDraft>[0] = {},
  standing: 'agreed' | 'asked-about' = 'agreed',
) =>
  (
    await ask.takeOrder({
      draft: aDraft({ pieces: [small], ...changes }),
      standing,
      promisedFor: standing === 'agreed' ? '2026-06-20' : 'as-quoted',
    })
  ).commissionId

const finish = async ({ ask }: TestDesk, id: string): Promise<void> => {
  for (const { stepId } of (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps))
    await ask.stepDone({ stepId, anyway: true })
}

const listed = async ({ ask }: TestDesk, id: string) => {
  const { open } = await ask.orderBook()
  return [...open, ...(await ask.closedOrders({ count: 50 }))].find(({ commissionId }) => commissionId === id)!.lists
}

test('everything that was typed is in the text of an order, open and closed', async () => {
  const desk = await aDesk()
  const id = await take(desk, {
    customer: { ...aDraft().customer, address: '12 Mill Lane', notes: 'rings twice' },
    ...{ notes: 'Dark side up', price: '312', neededWhy: 'a wedding' },
  })
  const sought = [
    '5550100',
    'ada@example',
    'mill lane',
    'twice',
    'dark side',
    '312',
    'wedding',
    '14x9',
    'cherry',
    'no. 1',
  ]
  const [row] = (await desk.ask.orderBook()).open
  for (const words of sought) expect(isFoundIn(row!.text, words), words).toBe(true)
  expect(isFoundIn(row!.text, 'walnut')).toBe(false)
  await desk.ask.commissionCallOff({ id, why: 'Moved to Oslo' })
  const [closed] = await desk.ask.closedOrders({ count: 50 })
  for (const words of [...sought, 'oslo']) expect(isFoundIn(closed!.text, words), words).toBe(true)
})

describe('the lists', () => {
  test('have who to call: on the day that was wanted, and once an order is finished until they were told', async () => {
    const desk = await aDesk()
    const id = await take(desk)
    expect(await listed(desk, id)).toEqual([])
    await desk.ask.commissionRemind({ id, day: '2026-03-04' })
    expect(await listed(desk, id)).toEqual([])
    await desk.setClock('2026-03-04T20:00:00Z')
    expect(await listed(desk, id)).toEqual(['to-call'])
    await desk.ask.commissionTold({ id })
    expect(await listed(desk, id)).toEqual([])
    await finish(desk, id)
    expect(await listed(desk, id)).toEqual(['to-pick-up'])
    await desk.ask.undo({
      entryId: (await desk.ask.commission({ id })).history.find(({ text }) => text.startsWith('Customer told'))!
        .entryId,
    })
    expect(await listed(desk, id)).toEqual(['to-call', 'to-pick-up'])
  })

  test('have an inquiry whose quote ran out without an answer', async () => {
    const desk = await aDesk()
    const id = await take(desk, {}, 'asked-about')
    await desk.setClock('2026-03-17T20:00:00Z')
    expect(await listed(desk, id)).toEqual([])
    await desk.setClock('2026-03-18T20:00:00Z')
    expect(await listed(desk, id)).toEqual(['to-call'])
  })

  test('have what waits for lumber, until it is here and rested', async () => {
    const desk = await aDesk()
    const id = await take(desk)
    await desk.ask.lumberFrom({ id, from: 'customer', expectedOn: '2026-03-20' })
    expect(await listed(desk, id)).toEqual(['waiting-for-lumber'])
    await desk.ask.lumberHere({ id })
    await desk.ask.lumberRested({ id })
    expect(await listed(desk, id)).toEqual([])
  })

  test('have who owes, also after the piece has left', async () => {
    const desk = await aDesk()
    const id = await take(desk, { price: '300' })
    await finish(desk, id)
    await desk.ask.commissionTold({ id })
    expect(await listed(desk, id)).toEqual(['to-pick-up', 'owing'])
    await desk.ask.commissionHandOver({ id })
    expect(await listed(desk, id)).toEqual(['owing'])
  })
})

describe('customers', () => {
  test('are known again with their orders, and changed for all of them by a new order', async () => {
    const desk = await aDesk()
    const { ask } = desk
    const first = await take(desk)
    const {
      found: [known],
    } = await ask.customers(everybody)
    expect(known).toMatchObject({ customer: { name: 'Ada Quist' }, orders: [{ commissionId: first, number: 1 }] })
    const second = await take(desk, { customer: { ...known!.customer, allergies: 'walnut', notes: 'rings twice' } })
    const { found: customers } = await ask.customers(everybody)
    expect(customers).toHaveLength(1)
    expect(customers[0]!.orders.map(({ commissionId }) => commissionId)).toEqual([second, first])
    expect((await ask.commission({ id: first })).customer).toMatchObject({ allergies: 'walnut', notes: 'rings twice' })
  })

  test('of one name and one phone are one, of another phone they are two', async () => {
    const desk = await aDesk()
    await take(desk)
    await take(desk, { customer: { ...aDraft().customer, reach: '555 0100' } })
    await take(desk, { customer: { ...aDraft().customer, reach: '555-0199' } })
    const { found: customers } = await desk.ask.customers(everybody)
    expect(customers.map(({ orders }) => orders.length).sort()).toEqual([1, 2])
  })

  test('come by name some at a time, and are found among all of them by who they are or by what they ordered', async () => {
    const desk = await aDesk()
    const named = (name: string, reach: string) => ({ customer: { ...aDraft().customer, name, reach } })
    await take(desk, named('Cleo Marsh', '555-0102'))
    await take(desk, named('Ada Quist', '555-0100'))
    await take(desk, named('Bert Ames', 'bert@example.com'))
    const { customers } = desk.ask
    const names = async (input: Parameters<typeof customers>[0]) => {
      const { found, foundCount, count } = await customers(input)
      return [found.map(({ customer }) => customer.name), foundCount, count]
    }
    expect(await names({ ...everybody, count: 2 })).toEqual([['Ada Quist', 'Bert Ames'], 3, 3])
    expect(await names({ sought: '5550102', within: 'who', count: 4 })).toEqual([['Cleo Marsh'], 1, 3])
    expect(await names({ sought: 'no. 3', within: 'all', count: 4 })).toEqual([['Bert Ames'], 1, 3])
    expect(await names({ sought: 'no. 3', within: 'who', count: 4 })).toEqual([[], 0, 3])
    expect(await names({ sought: 'board', within: 'all', count: 1 })).toEqual([['Ada Quist'], 3, 3])
  })
})

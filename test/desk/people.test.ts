import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const piece = aPiece({ length: '14', width: '9' }, 'edge-grain-board')

async function closedOrder({ ask }: TestDesk, name = 'Ada Quist', reach = '555-0100'): Promise<string> {
  const draft = aDraft({ customer: { ...aDraft().customer, name, reach, notes: 'rings twice' }, pieces: [piece] })
  const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  await ask.commissionCallOff({ id, why: `${name} moved to Oslo` })
  return (await ask.customers({ sought: '', within: 'all', count: 50 })).found.find(
    ({ customer }) => customer.name === name,
  )!.customer.id
}

const inFile = ({ folder }: TestDesk, text: string): boolean =>
  readdirSync(folder)
    .filter((name) => name.startsWith('shop.sqlite'))
    .some((name) => readFileSync(join(folder, name)).toString('latin1').toLowerCase().includes(text.toLowerCase()))

test('a customer is erased once the orders are closed: told beforehand, gone from file, lists, search and history', async () => {
  const shop = await aDesk()
  const { ask, call } = shop
  const draft = aDraft({ pieces: [piece] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  const {
    found: [known],
  } = await ask.customers({ sought: '', within: 'all', count: 50 })
  const id = known!.customer.id
  expect(await ask.personToErase({ id })).toMatchObject({ orders: [1], open: [1] })
  expect(await call.personErase({ id, fromPapersKeptByLaw: false })).toMatchObject({
    ok: false,
    problems: [{ code: 'order-open', message: expect.stringContaining('No. 1') as string }],
  })
  expect(inFile(shop, 'Ada Quist')).toBe(true)

  await ask.commissionCallOff({ id: commissionId, why: 'Ada Quist moved to Oslo' })
  expect(await ask.personErase({ id, fromPapersKeptByLaw: false })).toEqual({ said: 'Customer erased.', entryId: null })
  for (const text of ['Ada Quist', '555-0100', 'ada@example', 'Oslo']) expect(inFile(shop, text), text).toBe(false)
  expect((await ask.customers({ sought: '', within: 'all', count: 50 })).found).toEqual([])
  const [row] = await ask.closedOrders({ count: 50 })
  expect(row).toMatchObject({ number: 1, customer: 'Erased' })
  const { history } = await ask.commission({ id: commissionId })
  expect(JSON.stringify(history)).not.toContain('Ada')
  expect(await call.personToErase({ id })).toMatchObject({ ok: false, problems: [{ code: 'unknown-customer' }] })
})

test('a name of one word in small letters goes wherever it was typed, and a wood of that name stays', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const given = { woodA: 'cherry', engraving: 'shop', engravingSays: 'cherry' }
  const customer = { ...aDraft().customer, name: 'cherry' }
  const draft = aDraft({ customer, pieces: [aPiece(given, 'edge-grain-board')] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  const input = async () => (await ask.commission({ id: commissionId })).pieces[0]!.input
  expect(await input()).toMatchObject({ woodA: 'cherry', engravingSays: 'cherry' })
  await ask.commissionCallOff({ id: commissionId, why: '' })
  const {
    found: [known],
  } = await ask.customers({ sought: '', within: 'all', count: 50 })
  const { id } = known!.customer
  expect((await ask.personToErase({ id })).sameName).toEqual(['Cherry'])
  await ask.personErase({ id, fromPapersKeptByLaw: false })
  expect(await input()).toMatchObject({ woodA: 'cherry', engravingSays: 'Erased' })
})

test('who is due by the almanac is listed and stays until somebody erases them; 0 years lists nobody', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  await closedOrder(shop)
  expect(await ask.peopleDue()).toEqual({ keptYears: 6, due: [] })
  await setClock('2032-03-03T15:00:00Z')
  expect((await ask.peopleDue()).due).toEqual([])
  await setClock('2032-03-04T15:00:00Z')
  expect((await ask.peopleDue()).due).toMatchObject([{ name: 'Ada Quist', lastDay: '2026-03-03' }])
  expect((await ask.customers({ sought: '', within: 'all', count: 50 })).found).toHaveLength(1)
  await ask.almanacChangeFact({ key: 'shop.keepCustomers', input: '0' })
  expect((await ask.peopleDue()).due).toEqual([])
  await ask.almanacChangeFact({ key: 'shop.keepCustomers', input: '10' })
  expect((await ask.peopleDue()).due).toEqual([])
})

test('a customer with an order under way is never due', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  await ask.takeOrder({ draft: aDraft({ pieces: [piece] }), standing: 'agreed', promisedFor: '2026-06-20' })
  await setClock('2040-03-04T15:00:00Z')
  expect((await ask.peopleDue()).due).toEqual([])
})

test('an older copy brings an erased customer back as due, and erasing again ends that', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const id = await closedOrder(shop)
  const { file } = await ask.backupNow()
  await ask.personErase({ id, fromPapersKeptByLaw: true })
  await ask.openBackup({ file })
  expect((await ask.peopleDue()).due).toEqual([{ customerId: id, name: 'Ada Quist', lastDay: null }])
  await ask.personErase({ id, fromPapersKeptByLaw: true })
  expect((await ask.peopleDue()).due).toEqual([])
  expect(inFile(shop, 'Ada Quist')).toBe(false)
})

test('an older copy that is opened in place of a damaged book brings an erased customer back as due, too', async () => {
  const shop = await aDesk()
  const id = await closedOrder(shop)
  const { file } = await shop.ask.backupNow()
  await shop.ask.personErase({ id, fromPapersKeptByLaw: true })
  await shop.desk.close()
  writeFileSync(join(shop.folder, 'shop.sqlite'), 'no order book any more '.repeat(900))
  const again = await aDesk({ folder: shop.folder })
  expect((await again.ask.shopState()).trouble?.problem.code).toBe('file-damaged')
  await again.ask.openBackup({ file })
  expect((await again.ask.peopleDue()).due).toEqual([{ customerId: id, name: 'Ada Quist', lastDay: null }])
})

test('what is kept about a customer is one text that anybody can read, and holds nobody else', async () => {
  const shop = await aDesk()
  const id = await closedOrder(shop)
  await closedOrder(shop, 'Bo Kestrel', '555-0199')
  const { name, mediaType, text } = await shop.ask.personFile({ id })
  expect([name, mediaType]).toEqual(['out-of-clamps-customer-2026-03-03.txt', 'text/plain'])
  for (const part of [
    'Ada Quist',
    '555-0100',
    'rings twice',
    'ORDER NO. 1',
    'canceled',
    'moved to Oslo',
    'Promised for',
  ])
    expect(text).toContain(part)
  expect(text).not.toMatch(/Kestrel|0199|NO\. 2/)
})

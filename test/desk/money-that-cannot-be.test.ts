import { expect, test } from 'vitest'
import { aDesk, aDraft } from './support/a-desk.ts'

const payment = { kind: 'payment', amount: '50', how: 'card', day: '', reference: '' } as const
const form = { kind: 'quote', text: '', newDay: '', amends: '', credit: '' } as const

/** An order of 400.00 with 120.00 paid. */
async function anOrder() {
  const desk = await aDesk()
  const draft = aDraft({ price: '400', deposit: '120', depositHow: 'cash' })
  const { commissionId: id } = await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  return { ...desk, id, money: async () => (await desk.ask.commission({ id })).money }
}

test.each(['101', '-1', '250 %'])('a tax of %s is refused, and the one before stays', async (input) => {
  const { ask, call } = await aDesk()
  await ask.almanacChangeFact({ key: 'money.tax1.rate', input: '7.25' })
  const reply = await call.almanacChangeFact({ key: 'money.tax1.rate', input })
  expect(reply).toMatchObject({ ok: false, problems: [{ message: expect.stringContaining('0 to 100') }] })
  expect((await ask.almanac()).almanac.money.taxes).toMatchObject([{ rate: 72_500 }])
})

test.each([
  ['85 EUR', 'EUR'],
  ['€85', '€'],
])('a payment of %s to a shop that counts in dollars is refused at its field', async (amount, named) => {
  const { call, id, money } = await anOrder()
  const message = `This shop counts in USD, not ${named}: write it like 1250.50.`
  const reply = await call.moneyEnter({ id, money: { ...payment, amount } })
  expect(reply).toMatchObject({ ok: false, problems: [{ message, field: 'amount' }] })
  expect((await money()).entries).toHaveLength(1)
})

test('a price and a deposit in another currency are said at their fields, and no order is taken', async () => {
  const { ask, call } = await aDesk()
  const draft = aDraft({ price: '€400', deposit: '85 GBP' })
  const reply = await call.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  expect(reply).toMatchObject({ ok: false, problems: [{ field: 'price' }, { field: 'deposit' }] })
  expect((await ask.orderBook()).open).toEqual([])
})

test('no more is written off than is owed, and nothing where there is no price', async () => {
  const { ask, call, id, money } = await anOrder()
  const writeOff = (amount: string) => call.moneyEnter({ id, money: { ...payment, kind: 'write-off', amount } })
  const message = 'Only $280.00 is owed: enter that or less.'
  expect(await writeOff('280.01')).toMatchObject({ ok: false, problems: [{ message, field: 'amount' }] })
  expect(await writeOff('280')).toMatchObject({ ok: true })
  expect((await money()).standing).toMatchObject({ owedMinor: 0, writtenOffMinor: 28_000 })
  await ask.commissionChange({ id, changes: { priceMinor: null } })
  expect(await writeOff('1')).toMatchObject({ ok: false })
})

test('a payment that was given back stays while that stands, whether it is corrected or undone', async () => {
  const { ask, call, id, money } = await anOrder()
  const { entryId: paid } = await ask.moneyEnter({ id, money: payment })
  const { entryId: back } = await ask.moneyEnter({ id, money: { ...payment, kind: 'refund', amount: '170' } })
  const { entries, standing } = await money()
  expect(standing.paidMinor).toBe(0)
  const correct = (at: number) => call.moneyTakeBack({ id, entryId: entries[at]!.id })
  expect(await correct(1)).toMatchObject({ ok: false, problems: [{ code: 'given-back' }] })
  expect(await call.undo({ entryId: paid! })).toMatchObject({ ok: false, problems: [{ code: 'changed-since' }] })
  expect((await money()).entries).toEqual(entries)
  await ask.undo({ entryId: back! })
  await ask.undo({ entryId: paid! })
  expect((await money()).standing.paidMinor).toBe(12_000)
})

test('a paper for an order without a name is refused, and takes no number', async () => {
  const { ask, call, id } = await anOrder()
  const { customer } = await ask.commission({ id })
  const named = (name: string) => ask.commissionChange({ id, changes: { customer: { ...aDraft().customer, name } } })
  await named('')
  const message = 'Who is it for? Add the customer’s name to the order first.'
  for (const reply of [await call.paperPreview({ id, form }), await call.paperIssue({ id, form })])
    expect(reply).toMatchObject({ ok: false, problems: [{ message, field: 'kind' }] })
  expect(await ask.papers({ id })).toEqual([])
  await named(customer.name)
  expect((await ask.paper(await ask.paperIssue({ id, form }))).number).toBe(1)
})

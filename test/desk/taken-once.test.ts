import { expect, test } from 'vitest'
import { aDesk, aDraft } from './support/a-desk.ts'

const withDeposit = aDraft({ price: '320', deposit: '100', depositHow: 'cash' })

const taking = (draftKey: string, draft = withDeposit) => ({
  ...{ draft, draftKey },
  ...{ standing: 'agreed' as const, promisedFor: 'as-quoted' },
})

test('an order that is taken again, as its answer was lost, is the one that was taken: one promise, one deposit', async () => {
  const { ask } = await aDesk()
  await ask.draftSave({ key: 'draft-one', draft: withDeposit })
  const first = await ask.takeOrder(taking('draft-one'))
  const again = await ask.takeOrder(taking('draft-one'))
  expect(first.day).not.toBeNull()
  expect(again).toEqual({
    ...{ commissionId: first.commissionId, day: first.day, chance: first.chance },
    ...{ said: 'No. 1, Ada Quist, is in the book already.', entryId: null },
  })
  expect((await ask.orderBook()).open).toHaveLength(1)
  const { money, promises } = await ask.commission({ id: first.commissionId })
  expect(money.entries.map(({ minor }) => minor)).toEqual([10_000])
  expect(promises).toHaveLength(1)
})

test('of two pages that take the same draft at the same moment, one takes it and both are answered with it', async () => {
  const { ask } = await aDesk()
  const [one, other] = await Promise.all([ask.takeOrder(taking('draft-one')), ask.takeOrder(taking('draft-one'))])
  expect(other.commissionId).toBe(one.commissionId)
  expect((await ask.orderBook()).open).toHaveLength(1)
})

test('it is the order that was taken also where the draft would be refused by now', async () => {
  const { ask, setClock } = await aDesk()
  const at = { ...taking('draft-one'), promisedFor: '2026-06-30' }
  const first = await ask.takeOrder(at)
  await setClock('2026-07-02T15:00:00Z')
  expect(await ask.takeOrder(at)).toMatchObject({ commissionId: first.commissionId, day: '2026-06-30' })
})

test('what was typed after the answer was lost is not thrown away: it is a draft of its own', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder(taking('draft-one'))
  const changed = aDraft({ notes: 'and a second board for her sister' })
  await ask.draftSave({ key: 'draft-one', draft: changed })
  const { said } = await ask.takeOrder(taking('draft-one', changed))
  expect(said).toBe('No. 1, Ada Quist, is in the book already. What you typed since is under New order.')
  const [line, ...more] = await ask.drafts()
  expect(more).toEqual([])
  expect(await ask.draftLoad({ key: line!.key })).toMatchObject({ notes: changed.notes })
  await ask.takeOrder(taking(line!.key, changed))
  expect((await ask.orderBook()).open).toHaveLength(2)
})

test('the same again is another order in a draft of its own, and so is a draft that came back when its order was taken back', async () => {
  const { ask } = await aDesk()
  const first = await ask.takeOrder(taking('draft-one'))
  const second = await ask.takeOrder(taking('draft-two'))
  expect(second.commissionId).not.toBe(first.commissionId)
  await ask.undo({ entryId: second.entryId! })
  const third = await ask.takeOrder(taking('draft-two'))
  expect(third.commissionId).not.toBe(second.commissionId)
  expect(await ask.takeOrder(taking('draft-two'))).toMatchObject({ commissionId: third.commissionId })
  expect((await ask.orderBook()).open).toHaveLength(2)
})

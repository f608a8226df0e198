import { expect, test } from 'vitest'
import { tenthsOf } from '../../core/book/chance.ts'
import type { Draft } from '../../desk/orders/draft.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { bring, taken } from './support/take-along.ts'

/** One or two replications in two hundred: what is learned of the orders that come in a week changes with each one taken. */
const HARDLY_ANYTHING = 0.015

const drafts: readonly Draft[] = (
  [
    ['box', 'shellac', '2'],
    ['end-grain-board', 'wiping_oil_varnish', '3'],
    ['edge-grain-board', 'hardwax_oil', '1'],
    ['end-grain-board', 'hardwax_oil', '2'],
    ['box', 'shellac', '1'],
    ['edge-grain-board', 'wiping_oil_varnish', '2'],
  ] as const
).map(([construction, finish, count]) => aDraft({ pieces: [aPiece({ finish }, construction, count)] }))

/** The chance of each open promise by its order, once all of them are of the present plan. */
async function chances({ ask }: TestDesk): Promise<ReadonlyMap<string, number>> {
  const all = new Map<string, number>()
  for (const { commissionId: id } of (await ask.orderBook()).open) {
    await expect.poll(async () => (await ask.commission({ id })).outlook.fresh).toBe(true)
    all.set(id, (await ask.commission({ id })).outlook.chance!)
  }
  return all
}

const dates = async ({ ask }: TestDesk): Promise<readonly (number | null)[]> =>
  (await ask.orderBook()).open.map(({ doneAt }) => doneAt)

test('an order that is taken keeps the chance that it was given, stands in the plan where it was offered, and costs others what was said', async () => {
  const one = await aDesk()
  const { ask } = one
  let others = await chances(one)
  let told = 0
  for (const draft of drafts) {
    const [offer] = (await ask.draftQuote({ draft, asked: 'odds' })).offers
    const taken = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: offer!.dayToSay })
    const now = await chances(one)
    const { doneAt, promises } = await ask.commission({ id: taken.commissionId })
    expect(doneAt).toBeLessThanOrEqual(offer!.doneAt)
    expect(Math.abs(now.get(taken.commissionId)! - promises[0]!.chance!)).toBeLessThan(HARDLY_ANYTHING)
    for (const [id, before] of others) {
      const said = offer!.lessSure.find(({ commissionId }) => commissionId === id)
      const after = now.get(id)!
      if (said === undefined) expect(tenthsOf(after + HARDLY_ANYTHING)).toBeGreaterThanOrEqual(tenthsOf(before))
      else expect(Math.abs(after - said.after)).toBeLessThan(HARDLY_ANYTHING)
      if (said !== undefined) told += 1
    }
    others = now
  }
  expect(told).toBeGreaterThan(0)
})

test('two orders that were quoted beside each other are both taken, one after the other or at once', async () => {
  const { ask } = await aDesk()
  const [first, second, third, fourth] = drafts
  for (const draft of [first!, second!]) await ask.draftQuote({ draft, asked: 'odds' })
  for (const draft of [first!, second!]) await ask.takeOrder({ draft, standing: 'agreed', promisedFor: 'as-quoted' })
  for (const draft of [third!, fourth!]) await ask.draftQuote({ draft, asked: 'odds' })
  await Promise.all(
    [third!, fourth!].map((draft) => ask.takeOrder({ draft, standing: 'agreed', promisedFor: 'as-quoted' })),
  )
  expect((await ask.orderBook()).open.map(({ number }) => number).toSorted()).toEqual([1, 2, 3, 4])
})

test('the same orders have the same chances, whatever ids were drawn for them', async () => {
  const [one, other] = [await aDesk(), await aDesk()]
  for (const shop of [one, other])
    for (const draft of drafts.slice(0, 3))
      await shop.ask.takeOrder({ draft, standing: 'agreed', promisedFor: 'as-quoted' })
  const [here, there] = [await chances(one), await chances(other)]
  expect([...there.values()]).toEqual([...here.values()])
  expect([...there.keys()].some((id) => here.has(id))).toBe(false)
})

test('an app that is opened again, here or on another computer, goes on from the plan that promises were given in', async () => {
  const one = await aDesk()
  for (const draft of drafts) await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: 'as-quoted' })
  const before = { chances: await chances(one), dates: await dates(one) }
  const along = await taken(one, 'everything')
  await one.desk.close()
  const again = await aDesk({ folder: one.folder })
  expect(await dates(again)).toEqual(before.dates)
  expect(await chances(again)).toEqual(before.chances)
  const elsewhere = await aDesk()
  expect(await bring(elsewhere, along)).toMatchObject({ ok: true })
  expect(await dates(elsewhere)).toEqual(before.dates)
  expect(await chances(elsewhere)).toEqual(before.chances)
})

import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const board = { wood: 'maple', thickness: '8/4', width: '8', length: "8'", flaws: '', quality: '', place: '' }

/** An order of 400.00 with 300.00 paid, for a maple board with feet, glued up so far; 1 kg of glue was counted before. */
async function aGluedUpOrder() {
  const desk = await aDesk()
  const { ask } = desk
  await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '0' })
  const { commissionId: id } = await ask.takeOrder({
    draft: aDraft({
      ...{ pieces: [aPiece({ woodA: 'maple', feet: true }, 'edge-grain-board')], price: '400' },
      ...{ deposit: '300', depositHow: 'check' },
    }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  const { supplies } = await ask.timber({ askedAbout: false, lines: 24 })
  const productId = supplies.find(({ kind, needed }) => kind === 'glue' && needed !== '')!.productId!
  await ask.almanacChangeFact({ key: `money.supplyPrice.${productId}`, input: '24 for 16 oz' })
  await ask.supplySave({ ref: { productId }, input: { name: '', amount: '16 oz', reorderAt: '' } })
  await workUntil(desk, 'Glue-up')
  const kept = async () => (await ask.commission({ id })).money.kept!
  return { ...desk, id, kept }
}

// What the year counts as used off the shelf is what was spent: two ways to the same figure.
test('glue that went off the shelf may be kept, by the price of the almanac', async () => {
  const { ask, kept } = await aGluedUpOrder()
  const { usedMinor } = (await ask.year({ year: 2026 })).goods.suppliesCounted
  expect(usedMinor).toBeGreaterThan(0)
  expect((await kept()).spent).toMatchObject({ suppliesMinor: usedMinor, suppliesUnpriced: 0 })
})

test('hardware counts once it is on the piece, finish once a coat is on, and what has no price is said', async () => {
  const desk = await aGluedUpOrder()
  const glueMinor = (await desk.kept()).spent.suppliesMinor
  // Four feet at 0.50; their screws and the finish have no price.
  await desk.ask.almanacChangeFact({ key: 'money.supplyPrice.fitting:feet', input: '0.50' })
  expect((await desk.kept()).spent.suppliesMinor).toBe(glueMinor)
  const names = (await desk.ask.commission({ id: desk.id })).pieces[0]!.steps.map(({ name }) => name)
  await workUntil(
    desk,
    names.find((name) => /feet/i.test(name))!,
  )
  expect((await desk.kept()).spent).toMatchObject({ suppliesMinor: glueMinor + 200, suppliesUnpriced: 2 })
})

// A board of 60.00 that nobody has cut is one of those that the begun piece is reckoned with: it is paid once.
test('whole boards that were bought for it count until they are free for other orders, and undo keeps them for it', async () => {
  const { ask, call, id, kept } = await aGluedUpOrder()
  await ask.almanacChangeFact({ key: 'yard.price.maple', input: '10' })
  const { woodMinor: reckoned } = (await kept()).spent
  expect(reckoned).toBeGreaterThan(0)
  await ask.boardsAdd({
    board: { ...board, price: '60', moisture: '', boughtFor: id },
    ...{ count: '1', photo: { kind: 'none' } },
  })
  const before = await kept()
  expect(before.spent).toMatchObject({ woodMinor: Math.max(0, reckoned - 6_000), uncutMinor: 6_000, uncutBoards: [1] })
  await ask.commissionCallOff({ id, why: 'Moved away' })
  expect(await kept()).toEqual(before)
  const { entryId, said } = await ask.boardsFree({ id })
  expect(said).toBe('Free for other orders: board no. 1.')
  expect((await kept()).spent).toMatchObject({ woodMinor: reckoned, uncutMinor: 0, uncutBoards: [] })
  expect(await call.boardsFree({ id })).toMatchObject({ ok: false, problems: [{ code: 'board-missing' }] })
  await ask.undo({ entryId: entryId! })
  expect(await kept()).toEqual(before)
})

// 300.00 was paid, of which the proposal keeps the glue; E26 of the reference has the rule of the proposal.
test('another sum may be kept than the proposal, never more than was paid, and what goes back follows', async () => {
  const { ask, call, id, kept } = await aGluedUpOrder()
  const proposed = (await kept()).keptMinor
  const early = await call.moneyKeep({ id, amount: '10' })
  expect(early).toMatchObject({ ok: false, problems: [{ code: 'wrong-standing' }] })
  const tooMuch = await call.commissionCallOff({ id, why: '', keep: '300.01' })
  const message = 'Only $300.00 was paid: keep that or less.'
  expect(tooMuch).toMatchObject({ ok: false, problems: [{ code: 'too-much', field: 'keep', message }] })
  expect((await ask.commission({ id })).standing).toBe('agreed')

  const canceled = await ask.commissionCallOff({ id, why: 'Moved away', keep: '120' })
  expect(canceled.said).toContain('Keep $120.00, give back $180.00.')
  expect(await kept()).toMatchObject({ isTyped: true, proposedMinor: proposed, keptMinor: 12_000, backMinor: 18_000 })
  for (const [amount, code] of [
    ['300.01', 'too-much'],
    ['-5', 'negative'],
    ['EUR 5', 'currency'],
    ['some', 'money'],
  ])
    expect(await call.moneyKeep({ id, amount: amount! })).toMatchObject({
      ok: false,
      problems: [{ code, field: 'amount' }],
    })
  expect((await kept()).keptMinor).toBe(12_000)

  const all = await ask.moneyKeep({ id, amount: '300' })
  expect((await ask.closedOrders({ count: 50 }))[0]).toMatchObject({ moneyState: 'settled', owedMinor: 0 })
  await ask.undo({ entryId: all.entryId! })
  expect((await kept()).keptMinor).toBe(12_000)
  await ask.moneyEnter({ id, money: { kind: 'refund', amount: '180', how: 'check', day: '', reference: '' } })
  expect((await ask.closedOrders({ count: 50 }))[0]).toMatchObject({ moneyState: 'settled', owedMinor: 0 })
  await ask.moneyKeep({ id, amount: '' })
  expect(await kept()).toMatchObject({ isTyped: false, keptMinor: proposed })
  // Taken up again, it is asked anew should it be canceled once more.
  await ask.moneyKeep({ id, amount: '50' })
  await ask.commissionReopen({ id })
  expect(await kept()).toMatchObject({ isTyped: false, keptMinor: proposed })
})

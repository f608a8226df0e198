import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const money = { kind: 'payment', amount: '50', how: 'card', day: '', reference: '' } as const

/** An order of 375.25 at 7.25 %: 27.21 of tax, 402.46 in all; 205.00 is paid with it. */
async function aShop() {
  const desk = await aDesk()
  await desk.ask.almanacChangeFact({ key: 'money.tax1.name', input: 'Sales tax' })
  await desk.ask.almanacChangeFact({ key: 'money.tax1.rate', input: '7.25' })
  const draft = aDraft({ price: '375.25', deposit: '205', depositHow: 'check', pieces: [aPiece({}, 'box')] })
  const { commissionId: id } = await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  return { ...desk, id }
}

/** Works off a whole order, each step 30 minutes. */
async function workOff({ ask, setClock }: TestDesk): Promise<void> {
  for (;;) {
    const { canStart, comingUp } = await ask.bench({ rows: 24 })
    const next = canStart[0] ?? comingUp[0]
    if (next === undefined) return
    await ask.stepStart({ stepId: next.stepId, anyway: true })
    const { nowMs } = await ask.shopState()
    await setClock(new Date(nowMs + 30 * 60_000).toISOString())
    await ask.stepDone({ stepId: next.stepId })
  }
}

const yearly = async ({ ask }: TestDesk) => ask.year({ year: null })

describe('the year', () => {
  test('of before has what was held at its end and worked in it, also once the order is closed and put right in the next', async () => {
    const shop = await aShop()
    await workOff(shop)
    const worked = (await yearly(shop)).total.minutes
    expect(worked).toBeGreaterThan(0)
    await shop.setClock('2027-01-20T18:00:00Z')
    await shop.ask.moneyEnter({ id: shop.id, money: { ...money, amount: '197.46' } })
    const { entryId } = await shop.ask.commissionHandOver({ id: shop.id })
    const before = await shop.ask.year({ year: 2026 })
    expect(before).toMatchObject({ depositsHeldMinor: 20_500, total: { receivedMinor: 20_500, minutes: worked } })
    expect(before).toMatchObject({ years: [2027, 2026], earned: [], isOver: true })
    const now = await shop.ask.year({ year: 2027 })
    expect(now).toMatchObject({ depositsHeldMinor: 0, total: { receivedMinor: 19_746, minutes: 0 } })
    expect(now.earned).toMatchObject([{ pieces: 1, minutes: worked }])
    // What was kept of the order is read anew once something else is written about it.
    await shop.ask.undo({ entryId: entryId! })
    const { history } = await shop.ask.commission({ id: shop.id })
    const done = history.find(({ text, canUndo }) => canUndo && /^done/i.test(text))
    await shop.ask.undo({ entryId: done!.entryId })
    expect((await shop.ask.year({ year: 2027 })).earned).toEqual([])
    expect((await shop.ask.year({ year: 2026 })).total.minutes).toBe(worked - 30)
  })

  test('of a shop without orders is empty, not wrong', async () => {
    const year = await yearly(await aDesk())
    expect(year).toMatchObject({ year: 2026, years: [2026], isOver: false, earned: [], taxes: [] })
    expect(year.total).toEqual({ receivedMinor: 0, givenBackMinor: 0, taxMinor: 0, incomeMinor: 0, minutes: 0 })
  })

  test('counts what was paid, less the tax in it, in its month', async () => {
    const shop = await aShop()
    const { months, depositsHeldMinor, taxes, account } = await yearly(shop)
    // 205.00 of 402.46 carries 205.00 x 27.21 / 402.46 = 13.86 of tax, worked out by hand.
    expect(months[2]).toMatchObject({ receivedMinor: 20_500, taxMinor: 1_386, incomeMinor: 19_114 })
    expect(depositsHeldMinor).toBe(20_500)
    expect(taxes).toEqual([])
    expect(account.find(({ line }) => line === '1')?.minor).toBe(19_114)
  })

  test('has tax, sales and earnings by the hour once the order is handed over', async () => {
    const shop = await aShop()
    await shop.ask.almanacChangeFact({ key: 'money.accounting', input: 'accrual' })
    await workOff(shop)
    await shop.ask.moneyEnter({ id: shop.id, money: { ...money, amount: '197.46' } })
    await shop.ask.commissionHandOver({ id: shop.id })
    const year = await yearly(shop)
    expect(year.taxes).toEqual([{ name: 'Sales tax', rate: 72_500, baseMinor: 37_525, minor: 2_721 }])
    expect(year.total.incomeMinor).toBe(37_525)
    expect(year.withoutInvoice).toBe(1)
    expect(year.depositsHeldMinor).toBe(0)
    const [box] = year.earned
    expect(box).toMatchObject({ pieces: 1, minutes: year.total.minutes })
    expect(box!.perHourMinor).toBe(Math.round((box!.earnedMinor * 60) / box!.minutes))
  })

  test('says no rate by the hour of an order that was mostly entered as done without hours', async () => {
    const shop = await aShop()
    const [first] = (await shop.ask.commission({ id: shop.id })).pieces[0]!.steps
    await shop.ask.stepDone({ stepId: first!.stepId, anyway: true, workedMin: 30 })
    await shop.ask.stepsAllDone({ id: shop.id, day: '2026-03-03' })
    await shop.ask.commissionHandOver({ id: shop.id })
    const year = await yearly(shop)
    expect(year.total.minutes).toBe(30)
    expect(year.earned).toMatchObject([{ pieces: 0, perHourMinor: null, leftOut: { pieces: 1 } }])
    expect((await shop.ask.yearTable({ year: 2026 })).text).toMatch(
      /2026,"earned, hours not known",[^,]+,[\d.]+,USD,\r?\n/,
    )
  })

  test('is taxed by the invoice also when the rates of the almanac change afterwards', async () => {
    const shop = await aShop()
    const form = { kind: 'invoice', text: '', newDay: '', amends: '', credit: '' } as const
    const { id: invoice } = await shop.ask.paperIssue({ id: shop.id, form })
    await shop.ask.paperIssue({ id: shop.id, form: { ...form, kind: 'credit-note', amends: invoice, credit: '37.52' } })
    await shop.ask.almanacChangeFact({ key: 'money.tax1.rate', input: '20' })
    await workOff(shop)
    await shop.ask.commissionHandOver({ id: shop.id })
    // 27.21 less the 2.72 of the credit note (E29 of the reference).
    expect((await yearly(shop)).taxes).toEqual([
      { name: 'Sales tax', rate: 72_500, baseMinor: 37_525 - 3_752, minor: 2_721 - 272 },
    ])
  })

  test('takes the inventory from the boards until the maker types another figure, and undo brings it back', async () => {
    const shop = await aShop()
    const board = {
      ...{ wood: (await shop.ask.almanac()).almanac.woods[0]!.id, thickness: '2', width: '7', length: '96' },
      ...{ flaws: '', quality: '', place: '', price: '60', moisture: '' },
    }
    await shop.ask.boardsAdd({ board, count: '2', photo: { kind: 'none' } })
    const [first] = (await shop.ask.timber({ askedAbout: false, lines: 24 })).boards
    expect((await yearly(shop)).goods).toMatchObject({
      beginMinor: 0,
      purchasesMinor: 12_000,
      endMinor: 12_000,
      costMinor: 0,
    })
    await shop.ask.boardUsedUp({ id: first!.id })
    expect((await yearly(shop)).goods).toMatchObject({ endMinor: 6_000, costMinor: 6_000 })
    const { entryId } = await shop.ask.yearFigure({ year: 2026, name: 'supplies', typed: '410.20' })
    await shop.ask.yearFigure({ year: 2026, name: 'purchases', typed: '200' })
    expect((await yearly(shop)).goods).toMatchObject({
      purchasesMinor: 20_000,
      suppliesMinor: 41_020,
      costMinor: 55_020,
    })
    await shop.ask.yearFigure({ year: 2026, name: 'purchases', typed: '' })
    await shop.ask.undo({ entryId: entryId! })
    expect((await yearly(shop)).goods).toMatchObject({ purchasesMinor: 12_000, suppliesMinor: 0, costMinor: 6_000 })
    expect((await shop.ask.year({ year: 2025 })).goods).toMatchObject({ purchasesMinor: 0, endMinor: 0 })
  })

  // 16 oz at 24.00: what glue-ups have taken by their spread is used, the rest is on hand; nothing of it was typed for the year.
  test('has glue that was counted as bought, used and on hand', async () => {
    const shop = await aShop()
    const { supplies } = await shop.ask.timber({ askedAbout: false, lines: 24 })
    const productId = supplies.find(({ kind, needed }) => kind === 'glue' && needed !== '')!.productId!
    await shop.ask.almanacChangeFact({ key: `money.supplyPrice.${productId}`, input: '24 for 16 oz' })
    await shop.ask.supplySave({
      ref: { productId },
      input: { name: '', amount: '16 oz', reorderAt: '' },
    })
    await shop.setClock('2026-03-03T16:00:00Z')
    expect((await yearly(shop)).goods).toMatchObject({ suppliesMinor: 2_400, endMinor: 2_400, costMinor: 0 })
    await workOff(shop)
    const { goods } = await yearly(shop)
    const { boughtMinor, usedMinor, endMinor } = goods.suppliesCounted
    expect(boughtMinor).toBe(2_400)
    expect(usedMinor).toBeGreaterThan(0)
    expect(endMinor).toBe(2_400 - usedMinor)
    expect(goods.costMinor).toBe(usedMinor)
    const { text } = await shop.ask.yearTable({ year: 2026 })
    expect(text).toContain('2026,supplies counted,bought,24.00,USD,')
  })

  test.each(['a lot', '-5', '12.345'])('a figure like %s is refused and nothing is kept', async (typed) => {
    const shop = await aShop()
    expect(await shop.call.yearFigure({ year: 2026, name: 'supplies', typed })).toMatchObject({ ok: false })
    expect((await yearly(shop)).typed).toEqual({})
  })

  test('is the same as a table of lines', async () => {
    const shop = await aShop()
    const { text, name } = await shop.ask.yearTable({ year: 2026 })
    expect(name).toBe('out-of-clamps-year-2026.csv')
    expect(text).toContain('2026,received,2026-03,205.00,USD,')
    expect(text).toContain('2026,account,42 Cost of goods sold,0.00,USD,')
  })
})

describe('what is owed', () => {
  test('is a deposit from the day of the order, then a balance from the day it was ready', async () => {
    const desk = await aDesk()
    const draft = aDraft({ price: '400' })
    const { commissionId: id } = await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
    expect((await desk.ask.owed()).map(({ totalMinor }) => totalMinor)).toEqual([0, 0, 0])
    await desk.ask.commissionChange({ id, changes: { depositMinor: 20_000 } })
    await desk.setClock('2026-04-08T15:00:00Z')
    expect(await desk.ask.owed()).toMatchObject([
      { totalMinor: 0 },
      { totalMinor: 20_000, dues: [{ number: 1, kind: 'deposit', days: 36, since: '2026-03-03' }] },
      { totalMinor: 0 },
    ])
    await desk.ask.moneyEnter({ id, money: { ...money, amount: '200' } })
    await workOff(desk)
    const ready = await desk.ask.owed()
    expect(ready[0]).toMatchObject({ totalMinor: 20_000, dues: [{ kind: 'balance', days: 0 }] })
    await desk.ask.moneyEnter({ id, money: { ...money, amount: '200' } })
    expect((await desk.ask.owed()).every(({ dues }) => dues.length === 0)).toBe(true)
  })
})

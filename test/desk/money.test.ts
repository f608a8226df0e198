import { woodIn } from '../../core/money/sold-before.ts'
import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, tuesdayMorning, aPiece } from './support/a-desk.ts'

const payment = { kind: 'payment', amount: '50', how: 'card', day: '', reference: 'slip 8' } as const

async function anOrder(draft = aDraft({ price: '400', deposit: '120', depositHow: 'cash' })) {
  const desk = await aDesk()
  const { commissionId: id } = await desk.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  return { ...desk, id, money: async () => (await desk.ask.commission({ id })).money }
}

describe('money of an order', () => {
  test('a deposit that is handed over with the order is a payment', async () => {
    const { money, ask } = await anOrder()
    expect(await money()).toMatchObject({
      entries: [{ kind: 'payment', minor: 12_000, how: 'cash', day: '2026-03-03' }],
      standing: { paidMinor: 12_000, owedMinor: 28_000, state: 'in-order' },
    })
    expect((await ask.orderBook()).open[0]).toMatchObject({ totalMinor: 40_000, paidMinor: 12_000, owedMinor: 28_000 })
  })

  test('once there are amounts the currency stays', async () => {
    const empty = await aDesk()
    await empty.ask.almanacChangeFact({ key: 'shop.currency', input: 'EUR' })
    expect((await empty.ask.shopState()).currency.code).toBe('EUR')
    const { call, ask } = await anOrder()
    expect(await call.almanacChangeFact({ key: 'shop.currency', input: 'EUR' })).toMatchObject({
      ok: false,
      problems: [{ code: 'amounts-exist', message: 'The book has amounts in USD: the currency stays.' }],
    })
    expect((await ask.shopState()).currency.code).toBe('USD')
    await ask.almanacChangeFact({ key: 'shop.currency', input: 'USD' })
  })

  test('hours of a maker with a pay of their own cost that pay', async () => {
    const { ask, id } = await anOrder()
    await ask.almanacSave({
      list: 'makers',
      item: { id: '', name: 'Wren', attendance: '100%', hours: [{ weekday: 2, from: '19:00', to: '22:00' }] },
    })
    const { makers } = (await ask.almanac()).almanac
    await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' })
    for (const maker of makers) await ask.almanacChangeFact({ key: `money.payOfMaker.${maker.id}`, input: '24' })
    const labor = (await ask.commission({ id })).price.lines.filter(({ label }) => label.startsWith('Hands-on hours'))
    expect(labor.length).toBeGreaterThan(0)
    for (const { label, why } of labor) {
      expect(makers.some(({ name }) => label === `Hands-on hours, ${name}`)).toBe(true)
      expect(why).toContain('$24.00 an hour')
    }
    // A draft is planned too, so its hours cost the pay of who is planned for them.
    const quoted = await ask.draftQuote({ draft: aDraft(), asked: 'dates' })
    const inDraft = quoted.price!.lines.filter(({ label }) => label.startsWith('Hands-on hours'))
    expect(inDraft.length).toBeGreaterThan(0)
    for (const { why } of inDraft) expect(why).toContain('$24.00 an hour')
    // All at one pay: the same minutes cost 24 in place of 30.
    const atOwn = labor.reduce((sum, { minor }) => sum + minor, 0)
    for (const maker of makers) await ask.almanacChangeFact({ key: `money.payOfMaker.${maker.id}`, input: '' })
    const usual = (await ask.commission({ id })).price.lines.find(({ label }) => label === 'Hands-on hours')!
    expect(Math.abs(atOwn / usual.minor - 0.8)).toBeLessThan(0.001)
  })

  test('what pieces like it were sold for stands beside the price, the closest in size first', async () => {
    const { ask, id } = await anOrder()
    const { pieces } = await ask.commission({ id })
    const { construction, parts } = pieces[0]!
    const wood = woodIn(parts) / pieces[0]!.piece.count
    const asked = { construction, woodMm3: wood, except: null }
    const [same] = await ask.soldBefore(asked)
    expect(same).toMatchObject({ commissionId: id, outcome: 'sold', minutesEach: null })
    expect(same!.woodMm3! / wood).toBeCloseTo(1, 2)
    expect(await ask.soldBefore({ ...asked, except: id })).toEqual([])
    expect(await ask.soldBefore({ ...asked, construction: 'none-of-these' })).toEqual([])
  })

  test('a later payment never overwrites an earlier one', async () => {
    const { money, ask, id } = await anOrder()
    await ask.moneyEnter({ id, money: payment })
    await ask.moneyEnter({ id, money: { ...payment, amount: '230', how: 'check', day: '2026-03-02' } })
    const { entries, standing } = await money()
    expect(entries.map(({ minor }) => minor)).toEqual([12_000, 5_000, 23_000])
    expect(standing).toMatchObject({ paidMinor: 40_000, owedMinor: 0, state: 'paid' })
  })

  test('a slip is put right by another entry, once', async () => {
    const { money, ask, call, id } = await anOrder()
    await ask.moneyEnter({ id, money: payment })
    const entryId = (await money()).entries[1]!.id
    await ask.moneyTakeBack({ id, entryId })
    const { entries, standing } = await money()
    expect(standing.paidMinor).toBe(12_000)
    expect(entries.map(({ takenBack }) => takenBack)).toEqual([false, true, false])
    expect(await call.moneyTakeBack({ id, entryId })).toMatchObject({
      ok: false,
      problems: [{ code: 'already-taken-back' }],
    })
  })

  test('undo takes back a payment, and an order with its payment', async () => {
    const { money, ask, call, id } = await anOrder()
    const { entryId } = await ask.moneyEnter({ id, money: payment })
    await ask.undo({ entryId: entryId! })
    expect((await money()).standing.paidMinor).toBe(12_000)
    const [taken] = (await ask.commission({ id })).history.filter(({ canUndo }) => canUndo)
    await ask.undo({ entryId: taken!.entryId })
    expect(await call.commission({ id })).toMatchObject({ ok: false })
  })

  test.each([
    ['amount', { amount: 'a lot' }, 'amount'],
    ['amount', { amount: '0' }, 'amount'],
    ['amount', { amount: '-5' }, 'amount'],
    ['amount', { amount: '12.345' }, 'amount'],
    ['day', { day: 'tomorrow' }, 'day'],
    ['day', { day: '2026-03-09' }, 'day'],
    ['a refund of more than was paid', { kind: 'refund' as const, amount: '500' }, 'amount'],
  ])('a wrong %s is said at its field and nothing is written: %o', async (_, changes, field) => {
    const { money, call, id } = await anOrder()
    const reply = await call.moneyEnter({ id, money: { ...payment, ...changes } })
    expect(reply).toMatchObject({ ok: false, problems: [{ field }] })
    expect((await money()).entries).toHaveLength(1)
  })

  test('tax as typed in the almanac stands on the bill, but not where there is a reason for none', async () => {
    const { money, ask, id } = await anOrder()
    await ask.almanacChangeFact({ key: 'money.tax1.name', input: 'Sales tax' })
    await ask.almanacChangeFact({ key: 'money.tax1.rate', input: '7.25' })
    // 7.25 % of 400.00.
    expect(await money()).toMatchObject({
      bill: { taxMinor: 2900, totalMinor: 42_900 },
      standing: { owedMinor: 30_900 },
    })
    await ask.commissionChange({ id, changes: { untaxedWhy: 'resale certificate 77-120' } })
    expect(await money()).toMatchObject({ bill: { taxMinor: 0, totalMinor: 40_000 } })
  })

  test('a deposit is asked by the share of the almanac', async () => {
    const { ask } = await aDesk({ at: tuesdayMorning })
    await ask.almanacChangeFact({ key: 'money.depositShare', input: '50' })
    const draft = aDraft({ price: '285.55' })
    const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
    // Half of 285.55 is 142.78, up to the next 5.00.
    expect((await ask.commission({ id })).money.standing).toMatchObject({
      state: 'deposit-due',
      depositOpenMinor: 14_500,
    })
  })
})

describe('the price of an order', () => {
  test('New order, the order itself and the price go by the same hands-on minutes, with the set-ups that the plan pays', async () => {
    const { ask } = await aDesk()
    await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '60' })
    const draft = aDraft({ pieces: [aPiece({}, 'edge-grain-board', '3')] })
    const typed = await ask.draftQuote({ draft, asked: 'dates' })
    const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
    const order = await ask.commission({ id })
    const ofStep = ({ name, handsOnMinutes }: { readonly name: string; readonly handsOnMinutes: number }) => [
      name,
      handsOnMinutes,
    ]
    expect(typed.pieces[0]!.steps.map(ofStep)).toEqual(order.pieces[0]!.steps.map(ofStep))
    const minutes = typed.pieces[0]!.handsOnMinutes
    expect(order.pieces[0]!.steps.reduce((sum, { handsOnMinutes }) => sum + handsOnMinutes, 0)).toBe(minutes)
    // At 60.00 an hour a minute costs 1.00.
    const hours = (price: typeof typed.price) => price?.lines.find(({ label }) => label === 'Hands-on hours')?.minor
    expect([hours(typed.price), hours(order.price)]).toEqual([minutes * 100, minutes * 100])
  })

  test('a change of the order and what it would cost again go by the same hands-on minutes, with set-ups that lots share', async () => {
    const { ask } = await aDesk()
    await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '60' })
    const draft = aDraft({ pieces: [aPiece({}, 'edge-grain-board', '12')] })
    const { commissionId: id } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
    const { pieces, price } = await ask.commission({ id })
    const minutes = pieces.flatMap(({ steps }) => steps).reduce((sum, { handsOnMinutes }) => sum + handsOnMinutes, 0)
    const { draft: same } = await ask.changeBegin({ id })
    const { change } = await ask.changeCompare({ id, draft: same, said: {}, asked: 'dates' })
    for (const side of [change!.before, change!.after])
      expect(side).toMatchObject({ minutesToDo: minutes, askedMinor: price.askedMinor })
    expect((await ask.madeBefore({ id })).costMinor).toBe(price.costMinor)
  })

  test('is said for each of several pieces only where it is known', async () => {
    const { ask } = await aDesk()
    const each = async (price: string): Promise<number | null | undefined> => {
      const draft = aDraft({ price, pieces: [aPiece({}, 'edge-grain-board', '3')] })
      return (await ask.draftQuote({ draft, asked: 'dates' })).price?.eachMinor
    }
    expect(await each('')).toBeNull()
    expect(await each('240')).toBe(8_000)
  })

  test('is built up from the facts of the almanac while it is typed', async () => {
    const { ask } = await aDesk()
    const before = await ask.draftQuote({ draft: aDraft(), asked: 'dates' })
    expect(before.price?.missing).toHaveLength(3)
    for (const wood of ['walnut', 'maple', 'cherry']) {
      await ask.almanacChangeFact({ key: `yard.price.${wood}`, input: '10' })
    }
    await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '28' })
    await ask.almanacChangeFact({ key: 'money.overheadYearMinor', input: '5,400' })
    await ask.almanacChangeFact({ key: 'money.handsOnHoursYear', input: '644' })
    await ask.almanacChangeFact({ key: 'money.profitRate', input: '20' })
    const { price, pieces } = await ask.draftQuote({ draft: aDraft({ price: '100' }), asked: 'dates' })
    expect(price?.missing).toEqual([])
    const of = (label: string) => price?.lines.find((line) => line.label === label)?.minor ?? 0
    expect(price?.lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(price?.askedMinor)
    // 28.00 an hour for the hands-on minutes of the steps, set-ups among them.
    expect(of('Hands-on hours')).toBe(Math.round((pieces[0]!.handsOnMinutes * 2800) / 60))
    // Overhead by hands-on hour: 5,400.00 over 644 hours is 8.385 against 28.00 for the same minutes.
    expect(of('Overhead') / of('Hands-on hours')).toBeCloseTo(5400 / 644 / 28, 3)
    expect(price!.askedMinor % 500).toBe(0)
    expect(price!.upToMinor).toBeGreaterThanOrEqual(price!.askedMinor)
    expect(price!.leaves.some((line) => line.includes('below cost'))).toBe(true)
  })
})

describe('a price', () => {
  const priced = async (changes: Partial<Parameters<typeof aDraft>[0]>) => {
    const desk = await aDesk()
    for (const [name, input] of [
      ['payPerHourMinor', '28'],
      ['overheadYearMinor', '5400'],
      ['handsOnHoursYear', '644'],
    ] as const)
      await desk.ask.almanacChangeFact({ key: `money.${name}`, input })
    const price = async () => (await desk.ask.draftQuote({ draft: aDraft(changes), asked: 'dates' })).price!
    return { ...desk, price }
  }

  test('has no charge for the customer’s own lumber, says so, and the list to buy leaves it out', async () => {
    const lumber = { from: 'customer', expectedOn: '2026-03-12' } as const
    const { ask, price } = await priced({ lumber })
    const { lines, missing } = await price()
    expect(lines[0]).toEqual({ label: 'Wood', minor: 0, why: 'The customer’s own lumber: no charge.' })
    expect(missing).toEqual([])
    expect(lines.filter(({ label }) => label === 'Wood')).toHaveLength(1)
    await ask.takeOrder({ draft: aDraft({ lumber }), standing: 'agreed', promisedFor: null })
    expect((await ask.woodToCut({ askedAbout: false })).toBuy.woods).toEqual([])
    const { leftOut } = await ask.timber({ askedAbout: false, lines: 24 })
    expect(leftOut).toContain('No. 1 is of the customer’s own lumber: its parts are left out.')
  })

  test('of an order of several kinds is told apart piece by piece, to the last cent', async () => {
    const { price } = await priced({
      pieces: [aPiece({}, 'edge-grain-board', '2'), aPiece({}, 'box')],
      price: '1000.01',
    })
    const { byPiece } = await price()
    expect(byPiece.map(({ count }) => count)).toEqual([2, 1])
    expect(byPiece.reduce((sum, { minor }) => sum + minor, 0)).toBe(100_001)
    expect(byPiece.every(({ minor }) => minor > 0)).toBe(true)
  })

  test('that is said with tax has it in, and an hour brings what is left without it', async () => {
    const { ask, price } = await priced({ price: '119' })
    const before = await price()
    await ask.almanacChangeFact({ key: 'money.tax1.rate', input: '19' })
    await ask.almanacChangeFact({ key: 'money.pricesIncludeTax', input: 'true' })
    const after = await price()
    const tax = after.lines.find(({ label }) => label === 'Tax in the price')!
    const withoutRounding = before.lines.filter(({ label }) => label !== 'Rounding')
    // 19 % of everything above it.
    expect(tax.minor).toBe(Math.round(withoutRounding.reduce((sum, { minor }) => sum + minor, 0) * 0.19))
    expect(after.lines.reduce((sum, { minor }) => sum + minor, 0)).toBe(after.askedMinor)
    const hour = ({ leaves }: { readonly leaves: readonly string[] }) =>
      Number(/\$([\d.]+) a hands-on/.exec(leaves[0]!)![1])
    // 119.00 with 19 % in it are 100.00.
    const whole = await priced({ price: '100' })
    expect(hour(after)).toBe(hour(await whole.price()))
  })

  test('of each inquiry says which brings more by the hour', async () => {
    const { ask } = await priced({})
    const inquire = (price: string) =>
      ask.takeOrder({ draft: aDraft({ price }), standing: 'asked-about', promisedFor: null })
    const { commissionId: id } = await inquire('300')
    // Without a price of its wood nobody knows what it leaves; the order itself says what it does not count.
    const leaves = async () => (await ask.commission({ id })).price.leaves
    expect(await ask.inquiriesWorth()).toEqual([])
    expect(await leaves()).toEqual([
      expect.stringMatching(/ a hands-on hour after supplies, not counting wood, which has no price yet\.$/),
    ])
    for (const wood of ['walnut', 'maple', 'cherry'])
      await ask.almanacChangeFact({ key: `yard.price.${wood}`, input: '10' })
    expect((await leaves())[0]).toMatch(/ a hands-on hour after wood and supplies\.$/)
    await inquire('500')
    await inquire('')
    const worth = await ask.inquiriesWorth()
    expect(worth.map(({ number }) => number)).toEqual([2, 1])
    expect(worth[0]!.perHourMinor).toBeGreaterThan(worth[1]!.perHourMinor)
  })
})

// Two hinges at 6.00 for 12 are 1.00; twelve screws at 0.10 each are 1.20.
test('hardware costs what a piece of it cost, and glue and finish by their amounts once all of them have a price', async () => {
  const { ask, call } = await aDesk()
  const draft = aDraft({ pieces: [aPiece({ lid: 'hinged' }, 'box')] })
  const price = async () => (await ask.draftQuote({ draft, asked: 'dates' })).price!
  const of = async (label: string) => (await price()).lines.find((line) => line.label === label)
  expect((await price()).unpriced).toEqual(['Hinges', 'Screws for the hinges'])
  await ask.almanacChangeFact({ key: 'money.supplyPrice.fitting:hinges', input: '6 for 12' })
  expect((await of('Hardware'))?.minor).toBe(100)
  await ask.almanacChangeFact({ key: 'money.supplyPrice.fitting:screws', input: '0.10' })
  expect((await of('Hardware'))?.minor).toBe(220)
  expect((await price()).unpriced).toEqual([])
  expect((await of('Glue, finish, abrasives'))?.why).toMatch(/^10% of/)
  const { glues, finishes } = (await ask.almanac()).almanac
  for (const { id } of [...glues, ...finishes])
    await ask.almanacChangeFact({ key: `money.supplyPrice.${id}`, input: '24 per qt' })
  expect((await of('Glue, finish, abrasives'))?.why).toMatch(/by their amounts/)
  expect(await call.almanacChangeFact({ key: `money.supplyPrice.${glues[0]!.id}`, input: '24' })).toMatchObject({
    ok: false,
    problems: [{ message: 'Type price and amount, like 24 for 16 oz.' }],
  })
})

// 402.46 less a deposit of 205.00 leaves 197.46; with coins of 0.05 the cash is 197.45 and the cent is a line of its own.
test('cash is rounded to the smallest coin, and nothing is owed after it', async () => {
  const { money, ask, id } = await anOrder(aDraft({ price: '402.46', deposit: '205', depositHow: 'card' }))
  await ask.almanacChangeFact({ key: 'money.cashStepMinor', input: '0.05' })
  await ask.moneyEnter({ id, money: { ...payment, amount: '197.45', how: 'cash' } })
  expect(await money()).toMatchObject({
    standing: { state: 'paid', owedMinor: 0, paidMinor: 40_245 },
    entries: [{ minor: 20_500 }, { kind: 'payment', minor: 19_745 }, { kind: 'cash-rounding', minor: 1 }],
  })
})

test('a card is never rounded', async () => {
  const { money, ask, id } = await anOrder(aDraft({ price: '402.46', deposit: '205', depositHow: 'card' }))
  await ask.almanacChangeFact({ key: 'money.cashStepMinor', input: '0.05' })
  await ask.moneyEnter({ id, money: { ...payment, amount: '197.45', how: 'card' } })
  expect((await money()).standing).toMatchObject({ state: 'in-order', owedMinor: 1 })
})

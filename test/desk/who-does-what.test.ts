import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

/** A shop of two who are there on the same evenings, and an order for a board; answers with the ids. */
async function twoPeople() {
  const desk = await aDesk()
  const { ask } = desk
  const hours = [1, 2, 3, 4, 5, 6].map((weekday) => ({ weekday, from: '19:00', to: '22:00' }))
  await ask.almanacSave({ list: 'makers', item: { id: '', name: 'Wren', attendance: '100%', hours } })
  const { makers } = (await ask.almanac()).almanac
  const [first, wren] = makers.map(({ id }) => id)
  const order = async () => {
    const draft = aDraft({ pieces: [aPiece({}, 'edge-grain-board')] })
    return (await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })).commissionId
  }
  return { ...desk, first: first!, wren: wren!, names: makers.map(({ name }) => name), order }
}

const stepsOf = async ({ ask }: TestDesk, id: string) =>
  (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)

test('work that somebody leaves to others is planned for the others, by name, until that is undone', async () => {
  const shop = await twoPeople()
  const id = await shop.order()
  const change = await shop.ask.almanacChangeFact({
    key: `leftToOthers.${shop.wren}`,
    input: 'jointer and planer, glue-ups',
  })
  const steps = await stepsOf(shop, id)
  expect(steps.every(({ who }) => who.length > 0)).toBe(true)
  const mine = steps.filter(({ name }) => /plane the stock|glue-up/i.test(name))
  expect(mine.length).toBeGreaterThan(1)
  for (const step of mine) if (step.who.length === 1) expect(step.who).toEqual([shop.names[0]])
  expect((await shop.ask.bench({ rows: 24 })).canStart[0]!.who).toEqual([shop.names[0]])
  await shop.ask.almanacChangeFact({ key: `leftToOthers.${shop.wren}`, input: '' })
  await shop.ask.almanacChangeFact({ key: `leftToOthers.${shop.first}`, input: 'planer' })
  expect((await shop.ask.bench({ rows: 24 })).canStart[0]!.who).toEqual(['Wren'])
  const refused = await shop.call.almanacChangeFact({ key: `leftToOthers.${shop.wren}`, input: 'planer' })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'nobody' }] })
  expect(change.said).toBe('Changed in the Almanac.')
})

test('who does what is named in the weeks ahead, and under each evening of the calendar', async () => {
  const shop = await twoPeople()
  const id = await shop.order()
  await shop.ask.almanacChangeFact({ key: `leftToOthers.${shop.wren}`, input: 'planer' })
  const [milling] = await stepsOf(shop, id)
  expect(milling).toMatchObject({ name: 'Joint and plane the stock', who: [shop.names[0]] })
  const { lanes } = await shop.ask.weeksAhead({ weeks: 4 })
  expect(lanes[0]!.bars[0]!.name).toBe(`Joint and plane the stock, ${shop.names[0]}`)

  const { text } = await shop.ask.takeAlong({ what: 'calendar' })
  const unfolded = text.replaceAll('\r\n ', '')
  const planned = new RegExp(`SUMMARY:In the shop: (.*)\r\nDESCRIPTION:(.*)\r\n`, 'g')
  const evenings = [...unfolded.matchAll(planned)].map(([, who, does]) => ({ who, does }))
  const milled = evenings.filter(({ does }) => does!.includes('Joint and plane the stock: '))
  expect(new Set(milled.map(({ who }) => who))).toEqual(new Set([shop.names[0]]))
  expect(milled[0]!.does).toContain('No. 1')
})

test('a machine that is counted takes one job at a time, and none waits for it where it is not', async () => {
  const shop = await twoPeople()
  const ids = [await shop.order(), await shop.order()]
  const millings = async () =>
    (await Promise.all(ids.map((id) => stepsOf(shop, id)))).map((steps) =>
      steps.find(({ name }) => name === 'Joint and plane the stock')!,
    )
  const overlap = ([a, b]: Awaited<ReturnType<typeof millings>>) => a!.startAt! < b!.endAt! && b!.startAt! < a!.endAt!
  expect(overlap(await millings())).toBe(true)
  const { entryId } = await shop.ask.almanacChangeFact({ key: 'machines.planer', input: 'yes' })
  expect(overlap(await millings())).toBe(false)
  await shop.ask.undo({ entryId: entryId! })
  expect(overlap(await millings())).toBe(true)
})

test('warm-up and putting away are left out of plans', async () => {
  const shop = await aDesk()
  await shop.ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({}, 'edge-grain-board')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  const before = (await shop.ask.bench({ rows: 24 })).session!
  await shop.ask.almanacChangeFact({ key: 'session.warmUpMin', input: '20' })
  await shop.ask.almanacChangeFact({ key: 'session.putAwayMin', input: '10' })
  const bench = await shop.ask.bench({ rows: 24 })
  expect(bench.session).toMatchObject({ fromAt: before.fromAt + 20, toAt: before.toAt - 10 })
  expect([...bench.canStart, ...bench.comingUp][0]!.plannedAt).toBeGreaterThanOrEqual(before.fromAt + 20)
  expect(await shop.call.almanacChangeFact({ key: 'session.warmUpMin', input: 'long' })).toMatchObject({ ok: false })
})

test('a helper who does not come is one press: the plan gives the work to who is there, and undo brings the helper back', async () => {
  const shop = await twoPeople()
  await shop.order()
  await shop.ask.almanacChangeFact({ key: `leftToOthers.${shop.first}`, input: 'planer' })
  const before = (await shop.ask.bench({ rows: 24 })).canStart[0]!
  expect(before.who).toEqual(['Wren'])
  expect((await shop.ask.bench({ rows: 24 })).today).toMatchObject([{ away: false }, { name: 'Wren', away: false }])
  const away = await shop.ask.makerAway({ makerId: shop.wren, away: true })
  expect(away.said).toMatch(/^Wren isn’t coming today\./)
  const after = await shop.ask.bench({ rows: 24 })
  expect(after.today.find(({ name }) => name === 'Wren')).toMatchObject({ away: true })
  const moved = [...after.canStart, ...after.comingUp].find(({ stepId }) => stepId === before.stepId)!
  expect(moved.plannedAt!).toBeGreaterThan(before.plannedAt! + 12 * 60)
  expect(await shop.call.makerAway({ makerId: shop.wren, away: true })).toMatchObject({ ok: false })
  await shop.ask.undo({ entryId: away.entryId! })
  expect((await shop.ask.bench({ rows: 24 })).canStart[0]).toMatchObject({
    stepId: before.stepId,
    plannedAt: before.plannedAt,
  })
  await shop.ask.makerAway({ makerId: shop.wren, away: true })
  await shop.ask.makerAway({ makerId: shop.wren, away: false })
  expect((await shop.ask.almanac()).almanac.specialDays.filter(({ maker }) => maker === shop.wren)).toEqual([])
})

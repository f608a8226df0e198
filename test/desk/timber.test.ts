import { expect, onTestFinished, test, vi } from 'vitest'
import { Thread } from '../../desk/planner/planning-thread.ts'
import { aDesk, aDraft, aPiece } from './support/a-desk.ts'
import { allOfLumber } from './support/all-of-lumber.ts'

const board = (changes: object = {}) => ({
  ...{ wood: 'walnut', thickness: '8/4', width: '7', length: '96' },
  ...{ flaws: '', quality: '', place: 'Rack', price: '', moisture: '' },
  ...changes,
})
const noPhoto = { kind: 'none' } as const
const strip = (changes = {}) => aPiece({ stripes: 'one', woodA: 'walnut', ...changes }, 'edge-grain-board')
const agreed = { standing: 'agreed', promisedFor: '2026-05-30' } as const
const counted = { askedAbout: false }

test('parts of agreed orders are cut out of the boards on hand, and what they do not give is to buy', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  const before = await allOfLumber(ask)
  expect(before.lists.toMill.map(({ wood, rough }) => [wood, rough])).toEqual([['walnut', '8/4']])
  expect(before.wood).toMatchObject({ cutFor: {}, toBuy: { woods: [{ wood: 'walnut' }] } })
  expect(before.plan.boards.length).toBeGreaterThan(0)
  expect(before.plan.boards.every(({ number }) => number === null)).toBe(true)

  await ask.boardsAdd({ board: board({ price: '90' }), count: '2', photo: noPhoto })
  const { lists, wood, plan } = await allOfLumber(ask)
  expect(lists.boards.map(({ number, id }) => [number, wood.cutFor[id]])).toEqual([
    [1, [1]],
    [2, undefined],
  ])
  expect(wood.toBuy.woods).toEqual([])
  expect(plan.boards.map(({ number }) => number)).toEqual([1])
  expect(lists.whySizes[0]).toMatch(/^Joint an edge .* squaring an end /)
})

test('the lists stand while the cutting plan is still being made, which is made once for all who ask', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  const threadAsk = Thread.prototype.ask
  const { promise: released, resolve: release } = Promise.withResolvers<void>()
  const asked = vi.spyOn(Thread.prototype, 'ask').mockImplementation(async function (this: Thread, ...question) {
    await released
    return threadAsk.apply(this, question)
  })
  onTestFinished(() => asked.mockRestore())
  const waiting = Promise.all([ask.woodToCut(counted), ask.cuttingPlan(counted)])
  const { toMill, consumables, boards } = await ask.timber({ ...counted, lines: 24 })
  expect(toMill).toHaveLength(1)
  expect(consumables).toHaveLength(2)
  expect(boards).toEqual([])
  release()
  const [wood, plan] = await waiting
  expect(wood.toBuy.woods).toHaveLength(1)
  expect(plan.boards.every(({ number }) => number === null)).toBe(true)
  await ask.woodToCut(counted)
  expect(asked.mock.calls.filter(([, { kind }]) => kind === 'cutting')).toHaveLength(1)
})

test('what is to buy has no price until the yard’s is known, then costs that much with the waste', async () => {
  const { ask, call } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  const [unknown] = (await ask.woodToCut(counted)).toBuy.woods
  expect(unknown).toMatchObject({ costMinor: null, paid: null, price: { value: '', unit: 'a board foot' } })
  expect(unknown?.why.at(-1)).toMatch(/^No price yet/)
  const before = (await ask.commission({ id: commissionId })).wood
  expect(before).toMatchObject({ costMinor: null, unpriced: ['walnut'] })

  await ask.almanacChangeFact({ key: 'yard.price.walnut', input: '12' })
  await ask.almanacChangeFact({ key: 'yard.waste', input: '20 %' })
  const { toBuy } = await ask.woodToCut(counted)
  const [wood] = toBuy.woods
  // Board feet of the list at 12.00, so much more that a fifth may be lost.
  expect(wood?.costMinor).toBe(Math.round(((wood?.boardFeet ?? 0) * 1200) / 0.8))
  expect(toBuy.costMinor).toBe(wood?.costMinor)
  expect(wood?.why.at(-1)).toMatch(/at 12 USD a board foot, the price in the Almanac/)
  const after = (await ask.commission({ id: commissionId })).wood
  expect(after).toMatchObject({ unpriced: [] })
  expect(after.costMinor).toBe(Math.round(after.boardFeet * 1200))
  const quoted = await ask.draftQuote({ draft: aDraft({ pieces: [strip()] }), asked: 'dates' })
  expect(quoted.wood?.costMinor).toBe(after.costMinor)

  const refused = await call.almanacChangeFact({ key: 'yard.price.walnut', input: 'cheap' })
  expect(refused.ok ? null : refused.problems[0]?.field).toBe('yard.price.walnut')
})

test('what an order’s wood costs counts a board on hand at its own price', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  await ask.boardsAdd({ board: board({ price: '90' }), count: '1', photo: noPhoto })
  await ask.almanacChangeFact({ key: 'yard.price.walnut', input: '1000' })
  const { toBuy } = await ask.woodToCut(counted)
  const plan = (await ask.cuttingPlan(counted)).boards
  const kept = plan[0]?.keptShare ?? 0
  expect(toBuy.orders).toMatchObject([{ number: 1, toBuyMinor: 0, unpriced: [] }])
  // What is kept keeps its share of the price, to a cent for each offcut.
  const cents = plan[0]?.offcuts.length ?? 0
  expect(Math.abs((toBuy.orders[0]?.onHandMinor ?? 0) - 9000 * (1 - kept))).toBeLessThanOrEqual(cents)
})

test('sizes of the yard are those of the Almanac, and so is the list', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  await ask.almanacChangeFact({ key: 'yard.thicknesses', input: '9/4' })
  await ask.almanacChangeFact({ key: 'yard.widths', input: '7' })
  await ask.almanacChangeFact({ key: 'yard.lengths', input: "9'" })
  const { toMill } = await ask.timber({ ...counted, lines: 24 })
  const { toBuy } = await ask.woodToCut(counted)
  expect(toMill.map(({ rough }) => rough)).toEqual(['9/4'])
  const sizes = toBuy.woods.flatMap(({ lines }) =>
    lines.map(({ rough, widthNm, lengthNm }) => [rough, widthNm, lengthNm]),
  )
  expect(sizes).toEqual([['9/4', 7 * 25_400_000, 108 * 25_400_000]])
  expect(toBuy.whyBoards[0]).toMatch(/9\/4 thick/)
})

test('glue and finish still to be put on are counted, and less when the glue-up is done', async () => {
  const { ask } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  const { consumables } = await ask.timber({ ...counted, lines: 24 })
  expect(consumables.map(({ kind, product }) => [kind, product])).toEqual([
    ['glue', 'pva_type1'],
    ['finish', 'mineral_oil_wax'],
  ])
  const steps = (await ask.commission({ id: commissionId })).pieces[0]?.steps ?? []
  for (const { stepId, name } of steps) {
    await ask.stepStart({ stepId, anyway: true })
    await ask.stepDone({ stepId, anyway: true })
    if (name === 'Glue-up') break
  }
  expect((await ask.timber({ ...counted, lines: 24 })).consumables.map(({ kind }) => kind)).toEqual(['finish'])
})

test('orders that are only asked about count when they are asked for', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), standing: 'asked-about', promisedFor: null })
  expect((await ask.timber({ ...counted, lines: 24 })).toMill).toEqual([])
  expect((await ask.timber({ askedAbout: true, lines: 24 })).toMill).toHaveLength(1)
})

test('an order on hold is left out, and that is said', async () => {
  const { ask } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  await ask.commissionHold({ id: commissionId, until: 'open-end', why: '' })
  const { toMill, leftOut } = await ask.timber({ ...counted, lines: 24 })
  expect(toMill).toEqual([])
  expect(leftOut).toEqual(['No. 1 is on hold: its parts are left out.'])
})

test('one board serves two orders, each part with the number of its own', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip({ length: '20', width: '4' })] }), ...agreed })
  await ask.takeOrder({ draft: aDraft({ pieces: [strip({ length: '24', width: '4' })] }), ...agreed })
  await ask.boardsAdd({ board: board({ length: '96' }), count: '1', photo: noPhoto })
  const { boards } = await ask.cuttingPlan(counted)
  expect(boards).toHaveLength(1)
  expect(boards[0]?.list.map(({ piece }) => piece.number).toSorted()).toEqual([1, 2])
})

test('parts whose milling is done are not cut again', async () => {
  const { ask } = await aDesk()
  const { commissionId } = await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  const [piece] = (await ask.commission({ id: commissionId })).pieces
  const mill = piece?.steps[0]
  await ask.stepStart({ stepId: mill?.stepId ?? '' })
  expect((await ask.timber({ ...counted, lines: 24 })).toMill[0]?.lines[0]?.begun).toBe(true)
  await ask.stepDone({ stepId: mill?.stepId ?? '' })
  expect((await ask.timber({ ...counted, lines: 24 })).toMill).toEqual([])
})

test('a board that is cut takes its parts off the list and leaves its offcuts, and taking that back brings all back', async () => {
  const { ask } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  await ask.boardsAdd({ board: board(), count: '1', photo: noPhoto })
  const before = await allOfLumber(ask)
  const [planned] = before.plan.boards
  if (planned === undefined) throw new Error('Nothing is planned.')
  const cut = await ask.boardCut({ id: planned.id, askedAbout: false, shown: planned.shown })
  expect(cut.said).toMatch(/^Cut: board no. 1, \d+ parts?. What is left is on hand: boards? no. 2/)
  const after = await ask.timber({ ...counted, lines: 24 })
  expect(after.toMill).toEqual([])
  expect(after.boards.map(({ cutFrom, widthNm, lengthNm }) => [cutFrom, widthNm, lengthNm])).toEqual(
    planned.offcuts.map(({ widthNm, lengthNm }) => [1, widthNm, lengthNm]),
  )
  await ask.undo({ entryId: cut.entryId ?? 0 })
  expect(await allOfLumber(ask)).toEqual(before)
})

test('a cut that was planned otherwise by now is refused', async () => {
  const { ask, call } = await aDesk()
  await ask.takeOrder({ draft: aDraft({ pieces: [strip()] }), ...agreed })
  await ask.boardsAdd({ board: board(), count: '1', photo: noPhoto })
  const [planned] = (await ask.cuttingPlan(counted)).boards
  await ask.takeOrder({ draft: aDraft({ pieces: [strip({ length: '20' })] }), ...agreed })
  const id = planned?.id ?? ''
  const refused = await call.boardCut({ id, askedAbout: false, shown: planned?.shown ?? '' })
  expect(refused.ok ? null : refused.problems[0]?.code).toBe('plan-changed')
  expect((await ask.timber({ ...counted, lines: 24 })).boards.map((one) => one.id)).toEqual([id])
})

test('wrong fields of a board are all named, and nothing is kept', async () => {
  const { ask, call } = await aDesk()
  const refused = await call.boardsAdd({
    board: board({ wood: '', thickness: 'thick', width: '' }),
    count: '0',
    photo: { kind: 'new', base64: Buffer.from('<svg/>').toString('base64') },
  })
  expect(refused.ok ? [] : refused.problems.map(({ field }) => field)).toEqual([
    ...['wood', 'thickness', 'width', 'count', 'photo'],
  ])
  expect((await ask.timber({ ...counted, lines: 24 })).boards).toEqual([])
})

test('a photo is kept with its board and given back as it came', async () => {
  const { ask } = await aDesk()
  const base64 = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]).toString('base64')
  await ask.boardsAdd({ board: board(), count: '1', photo: { kind: 'new', base64 } })
  const [kept] = (await ask.timber({ ...counted, lines: 24 })).boards
  expect(await ask.photo({ id: kept?.photoId ?? '' })).toEqual({ mediaType: 'image/jpeg', base64 })
  await ask.boardChange({ id: kept?.id ?? '', board: board({ place: 'Door' }), photo: { kind: 'as-it-is' } })
  expect((await ask.timber({ ...counted, lines: 24 })).boards[0]).toMatchObject({
    place: 'Door',
    photoId: kept?.photoId,
  })
})

test('the form of a board says again what was kept', async () => {
  const { ask } = await aDesk()
  await ask.boardsAdd({ board: board({ flaws: '12-15', price: '38.50' }), count: '1', photo: noPhoto })
  const [before] = (await ask.timber({ ...counted, lines: 24 })).boards
  if (before === undefined) throw new Error('No board is on hand.')
  const again = await ask.boardChange({ id: before.id, board: before.input, photo: { kind: 'as-it-is' } })
  expect(again.said).toBe('Changed: board no. 1.')
  expect((await ask.timber({ ...counted, lines: 24 })).boards[0]).toEqual(before)
})

test('the demo shop has boards on hand, some of them to cut and some wood to buy', async () => {
  const { ask } = await aDesk({ demo: true, at: '2026-11-25T12:00:00Z' })
  const { lists, wood, plan } = await allOfLumber(ask)
  expect(lists.boards.length).toBeGreaterThan(5)
  expect(plan.boards.some(({ number }) => number !== null)).toBe(true)
  expect([wood.missing, plan.missing]).toEqual([[], []])
})

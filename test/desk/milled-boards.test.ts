import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()
const maple = {
  wood: 'maple',
  thickness: '8/4',
  width: '8',
  flaws: '',
  quality: '',
  place: '',
  price: '60',
  moisture: '',
}

/** Boards on hand, and an order for a maple board whose stock has just been milled. Answers with the id of that step. */
async function aMilledOrder({ ask, setClock }: TestDesk, lengths: readonly string[]): Promise<string> {
  for (const length of lengths)
    await ask.boardsAdd({ board: { ...maple, length }, count: '1', photo: { kind: 'none' } })
  await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ woodA: 'maple' }, 'edge-grain-board')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  const milling = (await ask.bench({ rows: 24 })).canStart[0]!
  expect(milling.name).toBe('Joint and plane the stock')
  await setClock(at(milling.plannedAt!))
  await ask.stepStart({ stepId: milling.stepId })
  await setClock(at(milling.plannedAt! + 20))
  await ask.stepDone({ stepId: milling.stepId })
  return milling.stepId
}

const onHand = async ({ ask }: TestDesk): Promise<number[]> =>
  (await ask.timber({ askedAbout: false, lines: 24 })).boards.map(({ number }) => number)

test('milling that is done asks which boards it came from, takes them as cut in one act, and undo brings them back', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const stepId = await aMilledOrder(desk, ["8'", "8'"])
  expect((await ask.bench({ rows: 24 })).milled.map((one) => one.stepId)).toEqual([stepId])
  const { boards, missing } = await ask.milledBoards({ stepId })
  // The desk and two phones ask at the same moment.
  const atOnce = await Promise.all([1, 2, 3].map(() => ask.milledBoards({ stepId })))
  expect(atOnce.map((each) => each.boards)).toEqual([boards, boards, boards])
  expect(missing).toBe(0)
  expect(boards.map(({ number, parts }) => [number, parts > 0])).toEqual([
    [1, true],
    [2, false],
  ])
  const [leftOver] = boards[0]!.offcuts
  expect(leftOver).toBeDefined()

  const cut = await ask.boardsMilled({ stepId, boards: [boards[0]!.id] })
  expect(cut.said).toMatch(/^Cut: no\. 1\. Offcuts on hand: no\. 3/)
  expect((await onHand(desk)).includes(1)).toBe(false)
  expect((await ask.timber({ askedAbout: false, lines: 24 })).boards.find(({ number }) => number === 3)).toMatchObject({
    cutFrom: 1,
    lengthNm: leftOver!.lengthNm,
    widthNm: leftOver!.widthNm,
  })
  expect((await ask.bench({ rows: 24 })).milled).toEqual([])
  await ask.undo({ entryId: cut.entryId! })
  expect(await onHand(desk)).toEqual([1, 2])
  expect((await ask.bench({ rows: 24 })).milled.map((one) => one.stepId)).toEqual([stepId])
})

test('others than the planned boards may be taken, and what they do not give is asked for again', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const stepId = await aMilledOrder(desk, ["8'", '40', '14'])
  const { boards } = await ask.milledBoards({ stepId })
  const long = boards.find(({ number }) => number === 1)!
  const short = boards.find(({ number }) => number === 3)!
  const none = await desk.call.boardsMilled({ stepId, boards: [short.id] })
  expect(none.ok ? '' : none.problems[0]!.code).toBe('nothing-fits')
  expect(await onHand(desk)).toEqual([1, 2, 3])
  await ask.boardsMilled({ stepId, boards: [long.id] })
  expect((await ask.bench({ rows: 24 })).milled).toEqual([])
  const gone = await desk.call.boardsMilled({ stepId, boards: [long.id] })
  expect(gone.ok ? '' : gone.problems[0]!.code).toBe('board-missing')
})

test('which boards were cut is asked until it is answered: after all done, on later days, and after the hand-over', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  for (const length of ["8'", "8'"])
    await ask.boardsAdd({ board: { ...maple, length }, count: '1', photo: { kind: 'none' } })
  const { commissionId: id } = await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ woodA: 'maple' }, 'edge-grain-board')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  const asked = async () => [(await ask.bench({ rows: 24 })).milled, (await ask.commission({ id })).milled]
  expect(await asked()).toEqual([[], []])
  await setClock('2026-03-10T15:00:00Z')
  await ask.stepsAllDone({ id, day: '2026-03-09' })
  const [question] = (await ask.bench({ rows: 24 })).milled
  expect(question).toMatchObject({ name: 'Joint and plane the stock', piece: { commissionId: id } })
  await ask.commissionHandOver({ id })
  await setClock('2026-05-20T15:00:00Z')
  expect(await asked()).toEqual([[question], [question]])

  // Boards that came later went into nothing of before.
  await ask.boardsAdd({ board: { ...maple, length: '60' }, count: '1', photo: { kind: 'none' } })
  const { stepId } = question!
  const none = await ask.woodOffList({ stepId })
  expect(none.said).toBe('No boards taken off: joint and plane the stock, No. 1.')
  expect(await asked()).toEqual([[], []])
  expect(await onHand(desk)).toEqual([1, 2, 3])
  expect((await ask.commission({ id })).history[0]!.text).toMatch(/^Wood is off the list/)
  await ask.undo({ entryId: none.entryId! })
  expect(await asked()).toEqual([[question], [question]])

  const { boards } = await ask.milledBoards({ stepId })
  const cut = await ask.boardsMilled({ stepId, boards: boards.filter(({ parts }) => parts > 0).map((one) => one.id) })
  expect(await asked()).toEqual([[], []])
  expect((await ask.commission({ id })).woodPaidMinor).toBeGreaterThan(0)
  await ask.undo({ entryId: cut.entryId! })
  expect(await asked()).toEqual([[question], [question]])
})

test('boards that were listed after the day of the work are not asked about', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  await aMilledOrder(desk, [])
  await setClock('2026-03-20T15:00:00Z')
  await ask.boardsAdd({ board: { ...maple, length: "8'" }, count: '1', photo: { kind: 'none' } })
  expect((await ask.bench({ rows: 24 })).milled).toEqual([])
})

test('a shop without boards is asked nothing', async () => {
  const desk = await aDesk()
  await aMilledOrder(desk, [])
  expect((await desk.ask.bench({ rows: 24 })).milled).toEqual([])
})

// A board of 60.00 less what its offcuts are worth is the wood; 20 min at 30.00 an hour are the hours.
test('of a canceled order the wood that was cut for it may be kept besides the hours, here and in the Order book', async () => {
  const desk = await aDesk()
  const { ask } = desk
  await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' })
  const stepId = await aMilledOrder(desk, ["8'", "8'"])
  const id = (await ask.orderBook()).open[0]!.commissionId
  await ask.commissionChange({ id, changes: { priceMinor: 40_000 } })
  await ask.moneyEnter({ id, money: { kind: 'payment', amount: '200', how: 'check', day: '', reference: '' } })
  const { boards } = await ask.milledBoards({ stepId })
  await ask.boardsMilled({ stepId, boards: [boards[0]!.id] })
  const offcuts = (await ask.timber({ askedAbout: false, lines: 24 })).boards.filter(({ cutFrom }) => cutFrom === 1)
  const boughtMinor = 6_000 - offcuts.reduce((sum, { priceMinor }) => sum + (priceMinor ?? 0), 0)
  expect(boughtMinor).toBeGreaterThan(0)
  expect(boughtMinor).toBeLessThan(6_000)
  const kept = {
    ...{ laborMinor: 1_000, spent: { woodMinor: boughtMinor, suppliesMinor: 0, uncutMinor: 0 } },
    ...{ keptMinor: 1_000 + boughtMinor, backMinor: 19_000 - boughtMinor },
  }
  expect(await ask.commission({ id })).toMatchObject({ woodPaidMinor: boughtMinor, money: { kept } })
  await ask.commissionCallOff({ id, why: 'Moved away' })
  expect((await ask.commission({ id })).money.kept).toMatchObject(kept)
  expect((await ask.closedOrders({ count: 50 }))[0]).toMatchObject({
    moneyState: 'to-give-back',
    owedMinor: -kept.backMinor,
  })
  await ask.moneyEnter({
    id,
    money: { kind: 'refund', amount: String(kept.backMinor / 100), how: 'check', day: '', reference: '' },
  })
  expect((await ask.closedOrders({ count: 50 }))[0]).toMatchObject({ moneyState: 'settled', owedMinor: 0 })
})

// What two of a board of 60.00 took is what its boards cost; one of the two that cracks has lost half of it.
test('wood that is lost cost what its boards did, stays paid by its order, and new parts are asked for', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  for (const length of ["8'", "8'"])
    await ask.boardsAdd({ board: { ...maple, length }, count: '1', photo: { kind: 'none' } })
  const { commissionId: id } = await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ woodA: 'maple', length: '12' }, 'edge-grain-board', '2')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  const milling = (await ask.bench({ rows: 24 })).canStart[0]!
  await setClock(at(milling.plannedAt! + 20))
  await ask.stepDone({ stepId: milling.stepId, anyway: true, workedMin: 20 })
  const { boards } = await ask.milledBoards({ stepId: milling.stepId })
  await ask.boardsMilled({ stepId: milling.stepId, boards: boards.map((each) => each.id) })
  const paid = async () => (await ask.commission({ id })).woodPaidMinor
  const bought = await paid()
  expect(bought).toBeGreaterThan(0)

  const failure = { stepId: milling.stepId, fromStepId: milling.stepId, reason: 'crack', note: '' } as const
  const toBuy = async () => JSON.stringify((await ask.timber({ askedAbout: false, lines: 24 })).toMill)
  const parts = await toBuy()
  const one = await ask.stepFailed({ ...failure, count: 1 })
  expect((await ask.tally()).madeAgain).toMatchObject([{ woodMinor: Math.round(bought / 2), unpriced: 0 }])
  expect(await toBuy()).not.toBe(parts)
  await ask.undo({ entryId: one.entryId! })
  expect(await toBuy()).toBe(parts)

  const both = await ask.stepFailed({ ...failure, count: 2 })
  expect((await ask.tally()).madeAgain).toMatchObject([{ woodMinor: bought, unpriced: 0 }])
  expect(await toBuy()).not.toBe(parts)
  expect(await paid()).toBe(bought)
  await ask.undo({ entryId: both.entryId! })
  expect(await toBuy()).toBe(parts)
  expect(await paid()).toBe(bought)
})

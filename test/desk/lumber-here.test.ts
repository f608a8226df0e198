import { expect, test } from 'vitest'
import { localDay } from '../../core/time/local-day.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import type { Draft } from '../../desk/orders/draft.ts'

// The desk's clock stands at Tuesday, March 3, 2026; the Saturdays are March 7 and 14.
const walnutBoard = { thickness: '8/4', width: '8', length: "8'", flaws: '', quality: '', place: '', price: '96' }
const onHand = ({ ask }: TestDesk, changes: object = {}, count = '1') =>
  ask.boardsAdd({
    board: { wood: 'cherry', ...walnutBoard, moisture: '', ...changes },
    count,
    photo: { kind: 'none' },
  })

const ofWalnut = (changes: Partial<Draft> = {}): Draft =>
  aDraft({ pieces: [aPiece({ woodA: 'walnut' }, 'edge-grain-board')], ...changes })

const take = async ({ ask }: TestDesk, draft = ofWalnut()): Promise<string> =>
  (await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })).commissionId

const dayOf = (minute: number): string => localDay(minute, 'America/Chicago')

const firstCut = async ({ ask }: TestDesk, id: string): Promise<string> => {
  const starts = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps.map(({ startAt }) => startAt ?? 0))
  return dayOf(Math.min(...starts))
}

test('the first board says that lumber is counted from now on, who waits for it, and why boards that are there do not do', async () => {
  const { ask } = await aDesk()
  for (const name of ['Rosa Lund', 'Bill Tran']) {
    const draft = aDraft({ pieces: [aPiece({ woodA: 'maple', thickness: '2' }, 'edge-grain-board')] })
    const customer = { ...draft.customer, name }
    await ask.takeOrder({ draft: { ...draft, customer }, standing: 'agreed', promisedFor: null })
  }
  const maple = { wood: 'maple', width: '8', length: "8'", flaws: '', quality: '', place: '', price: '', moisture: '' }
  const add = async (thickness: string): Promise<string> =>
    (await ask.boardsAdd({ board: { ...maple, thickness }, count: '3', photo: { kind: 'none' } })).said
  expect(await add('4/4')).toBe(
    'On hand: boards no. 1 to 3. Chalk the number on the end. From now on every order’s lumber is counted from the boards you list ' +
      'here. 2 orders now wait for wood: No. 1, Rosa Lund; No. 2, Bill Tran. If it’s here, say so on the order’s page or list its boards.',
  )
  const { waiting } = await ask.timber({ askedAbout: false, lines: 24 })
  expect(waiting.map(({ missing }) => missing)).toEqual([
    ['Maple (your 4/4 is too thin, this needs 8/4)'],
    ['Maple (your 4/4 is too thin, this needs 8/4)'],
  ])
  expect(await add('8/4')).toBe('On hand: boards no. 4 to 6. Chalk the number on the end.')
})

test('wood that is not among the boards on hand waits for the trip to the yard, then rests a week', async () => {
  const desk = await aDesk()
  await onHand(desk)
  const quoted = await desk.ask.draftQuote({ draft: ofWalnut(), asked: 'dates' })
  expect(quoted.lumber).toEqual({ text: 'Lumber: Sat, Mar 7, then 7 days to rest', missing: ['Walnut'], counted: true })
  expect(quoted.offers[0]!.why.join(' ')).toContain('Lumber: Sat, Mar 7, then 7 days to rest')

  const id = await take(desk)
  expect(await firstCut(desk, id)).toBe('2026-03-14')
  expect((await desk.ask.commission({ id })).lumber).toMatchObject({ state: 'coming', expectedOn: '2026-03-07' })
  const bench = await desk.ask.bench({ rows: 24 })
  expect(bench.canStart).toEqual([])
  expect(bench.comingUp[0]!.hindrance).toBe('Lumber: Sat, Mar 7, then 7 days to rest.')
  expect(bench.lumber).toEqual([])
  const start = await desk.call.stepStart({ stepId: bench.comingUp[0]!.stepId })
  expect(start.ok ? '' : start.problems[0]!.code).toBe('not-yet')
})

test('the day it comes the Bench asks: "not yet" moves the day, "here" starts the rest, and both are taken back', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  await onHand(desk)
  const id = await take(desk)
  await setClock('2026-03-07T15:00:00Z')
  expect((await ask.bench({ rows: 24 })).lumber.map(({ number, text }) => [number, text])).toEqual([
    [1, 'Lumber: today, then 7 days to rest'],
  ])

  const later = await ask.lumberNotYet({ id, on: '2026-03-11' })
  expect(later.said).toBe('Lumber expected Wed, Mar 11: No. 1, Ada Quist.')
  expect(await firstCut(desk, id)).toBe('2026-03-18')
  await ask.undo({ entryId: later.entryId! })
  expect(await firstCut(desk, id)).toBe('2026-03-14')

  const here = await ask.lumberHere({ id })
  expect((await ask.commission({ id })).lumber).toMatchObject({
    state: 'resting',
    text: 'Lumber rests until Sat, Mar 14',
  })
  expect((await ask.bench({ rows: 24 })).lumber).toEqual([])
  const rested = await ask.lumberRested({ id })
  expect((await ask.commission({ id })).lumber).toBeNull()
  expect((await ask.bench({ rows: 24 })).canStart).not.toEqual([])
  await ask.undo({ entryId: rested.entryId! })
  await ask.undo({ entryId: here.entryId! })
  expect((await ask.bench({ rows: 24 })).lumber).toHaveLength(1)
  expect((await ask.commission({ id })).history.map(({ text }) => text)).toContain('Lumber here: No. 1, Ada Quist')
})

test('boards put on hand let an order start: at once when they have lain there, rested when they came today', async () => {
  const desk = await aDesk()
  await onHand(desk)
  const id = await take(desk)
  await onHand(desk, { wood: 'walnut', hereSince: '2026-03-03' }, '3')
  expect((await desk.ask.commission({ id })).lumber).toMatchObject({ state: 'resting' })
  expect(await firstCut(desk, id)).toBe('2026-03-10')

  const [, ...walnut] = (await desk.ask.timber({ askedAbout: false, lines: 24 })).boards
  for (const board of walnut)
    await desk.ask.boardChange({
      id: board.id,
      board: { ...board.input, moisture: '7.5' },
      photo: { kind: 'as-it-is' },
    })
  // A meter that reads what the glue takes ends the rest.
  expect((await desk.ask.commission({ id })).lumber).toBeNull()
})

// Franklin International, Product and Application Technical Guide I: 6-8 % for gluing, 10 % at most (EPI guide).
test('a board that was measured too wet for the glue is named before it is milled, until it is measured again', async () => {
  const desk = await aDesk()
  await onHand(desk, { wood: 'walnut', moisture: '12.5' }, '3')
  await take(desk)
  const told = async () => {
    const bench = await desk.ask.bench({ rows: 24 })
    return [...bench.canStart, ...bench.comingUp].map(({ hindrance }) => hindrance ?? '').join(' ')
  }
  expect(await told()).toMatch(/Board \d+ read 12\.5% on \S+ \S+ \d+: too wet to glue up, let it rest to 6-8%/)
  for (const board of (await desk.ask.timber({ askedAbout: false, lines: 24 })).boards) {
    expect(board.moisture).toMatchObject({ pct: 12.5, tooWet: expect.stringMatching(/too wet/) as string })
    const photo = { kind: 'as-it-is' } as const
    await desk.ask.boardChange({ id: board.id, board: { ...board.input, moisture: '7' }, photo })
  }
  expect(await told()).not.toMatch(/read \d/)
})

test('the boards on hand go to whoever ordered first', async () => {
  const desk = await aDesk()
  await onHand(desk, { wood: 'walnut' })
  const [first, second] = [await take(desk), await take(desk)]
  const third = await take(desk, ofWalnut({ pieces: [aPiece({ woodA: 'walnut' }, 'edge-grain-board', '4')] }))
  const short = async (id: string): Promise<boolean> => (await desk.ask.commission({ id })).lumber !== null
  expect([await short(first), await short(third)]).toEqual([false, true])
  expect(typeof (await short(second))).toBe('boolean')
})

test('a customer’s own wood has a day, which the order cannot do without', async () => {
  const desk = await aDesk()
  const draft = (expectedOn: string): Draft => ofWalnut({ lumber: { from: 'customer', expectedOn } })
  const refused = await desk.call.takeOrder({ draft: draft(''), standing: 'agreed', promisedFor: null })
  expect(refused.ok ? [] : refused.problems).toMatchObject([{ field: 'lumber.expectedOn' }])
  const id = await take(desk, draft('2026-03-12'))
  expect((await desk.ask.commission({ id })).lumber?.text).toBe('Customer’s lumber: Thu, Mar 12, then 7 days to rest')
  expect(await firstCut(desk, id)).toBe('2026-03-19')
  await desk.ask.lumberFrom({ id, from: 'shop', expectedOn: null })
  expect((await desk.ask.commission({ id })).lumber).toBeNull()
})

test('a shop that lists no boards counts its wood as here, unless the Almanac says otherwise', async () => {
  const desk = await aDesk()
  const id = await take(desk)
  expect((await desk.ask.commission({ id })).lumber).toBeNull()
  await desk.ask.almanacChangeFact({ key: 'yard.countLumber', input: 'always' })
  await desk.ask.almanacChangeFact({ key: 'yard.buyingDay', input: '4' })
  await desk.ask.almanacChangeFact({ key: 'yard.restDays', input: '10' })
  expect((await desk.ask.commission({ id })).lumber?.text).toBe('Lumber: Thu, Mar 5, then 10 days to rest')
})

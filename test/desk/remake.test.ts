import { expect, test } from 'vitest'
import { sayChance } from '../../core/book/chance.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const GLUE_UP = /^Glue/
const row = (name: string, minutes: string, kind: string, wait = '') => ({
  ...{ name, minutes, kind, wait, atMost: '', after: '', dusty: false, units: kind === 'glue-up' ? '2' : '' },
})
const ROWS = [
  row('Cut the boards', '60 min', 'machine'),
  row('Glue the shelves', '30 min', 'glue-up', '4 h'),
  row('Sand them', '30 min', 'hand'),
  row('First coat', '15 min', 'coat', '12 h'),
  row('Second coat', '15 min', 'coat', '24 h'),
  row('Pack them', '15 min', 'hand'),
]
const at = (minute: number): string => new Date(minute * 60_000).toISOString()

/** Three boards, worked on until a step of that name is done. */
async function threeBoardsUntil(named: RegExp) {
  const one = await aDesk()
  const draft = aDraft({ pieces: [aPiece({ title: 'Shelf', rows: ROWS }, 'free-list', '3')] })
  const { commissionId: id } = await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-05-18' })
  for (;;) {
    const bench = await one.ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]!
    await one.setClock(at(next.plannedAt! + 20))
    await one.ask.stepDone({ stepId: next.stepId, anyway: true, workedMin: 20 })
    if (named.test(next.name)) return { ...one, id }
  }
}
const stepsOf = async ({ ask, id }: { ask: TestDesk['ask']; id: string }) =>
  (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
const workedIn = (steps: readonly { readonly workedMinutes: number | null }[]): number =>
  steps.reduce((sum, { workedMinutes }) => sum + (workedMinutes ?? 0), 0)

test('a failed glue-up is one press: its steps come again, its hours stay counted, the date moves, and undo restores all', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const { ask, id } = shop
  const before = await ask.commission({ id })
  const steps = await stepsOf(shop)
  const glued = steps.find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  expect(glued.againFrom.map(({ name }) => name)).toContain(glued.name)
  const said = await ask.stepFailed({
    ...{ stepId: glued.stepId, count: 3, fromStepId: glued.againFrom[0]!.stepId },
    ...{ reason: 'glue-up', note: 'joint starved' },
  })
  expect(said.said).toMatch(/^Failed: .* To do again: [^.]*\. Promised .*: .* now(, was .*)?\./s)
  expect((await ask.tally()).madeAgain).toEqual([
    { reason: 'glue-up', times: 1, pieces: 3, lostMin: 40, woodMinor: 0, unpriced: 1 },
  ])
  expect(await ask.madeBefore({ id })).toMatchObject({ workedMin: 40, lostMin: 40 })
  const after = await ask.commission({ id })
  const again = await stepsOf(shop)
  expect(after.doneAt!).toBeGreaterThan(before.doneAt!)
  expect(workedIn(again)).toBe(workedIn(steps))
  expect(again.filter(({ lost }) => lost).map(({ name }) => name)).toEqual(
    steps.filter(({ state }) => state === 'done').map(({ name }) => name),
  )
  expect(after.history.map(({ text }) => text)).toContainEqual(expect.stringMatching(/^Failed \(glue-up\)/))
  // Nothing of the failed ones waits on the rack.
  expect((await ask.rack()).waiting).toEqual([])
  // Its time teaches nothing.
  expect((await ask.yourTimes()).leftOut.map(({ stepId }) => stepId)).toContain(glued.stepId)

  await ask.undo({ entryId: said.entryId! })
  expect((await ask.tally()).madeAgain).toEqual([])
  const restored = await ask.commission({ id })
  expect(restored.pieces).toEqual(before.pieces)
  expect(restored.doneAt).toBe(before.doneAt)
})

test('what is likely is offered first: of what is glued or has set the glue-up, of a coat the finish, of anything else a crack', async () => {
  const steps = await stepsOf(await threeBoardsUntil(/^Second coat/))
  expect(new Map(steps.map(({ name, likely }) => [name, likely]))).toEqual(
    new Map([
      ['Cut the boards', 'crack'],
      ['Glue the shelves', 'glue-up'],
      ['Take off the clamps (Glue the shelves)', 'glue-up'],
      ['Sand them', 'glue-up'],
      ['First coat', 'finish'],
      ['Second coat', 'finish'],
      ['Pack them', 'finish'],
    ]),
  )
})

test('made again from where the reason says: a joint from its glue-up, a finish from its coat, a crack from new wood', async () => {
  const steps = await stepsOf(await threeBoardsUntil(/^Second coat/))
  const nameOf = (id: string): string | undefined => steps.find(({ stepId }) => stepId === id)?.name
  const from = (name: RegExp) => {
    const { likelyFrom } = steps.find((step) => name.test(step.name))!
    return Object.fromEntries(Object.entries(likelyFrom).map(([reason, id]) => [reason, nameOf(id)]))
  }
  expect(from(/^Take off the clamps/)).toEqual({
    ...{ 'glue-up': 'Glue the shelves', crack: 'Cut the boards', finish: 'Glue the shelves' },
    ...{ 'tear-out': 'Glue the shelves', mistake: 'Glue the shelves', other: 'Glue the shelves' },
  })
  expect(from(/^Sand/)).toMatchObject({
    'glue-up': 'Glue the shelves',
    crack: 'Cut the boards',
    'tear-out': 'Sand them',
  })
  expect(from(/^Second coat/)).toMatchObject({ finish: 'Second coat', mistake: 'Second coat' })
  expect(from(/^Cut/)).toMatchObject({ 'glue-up': 'Cut the boards', crack: 'Cut the boards' })
})

test('once the clamps are off the Bench speaks of the glue-up that failed, not of the taking off', async () => {
  const { ask } = await threeBoardsUntil(/^Take off the clamps/)
  const { canStart, comingUp } = await ask.bench({ rows: 24 })
  const next = canStart[0] ?? comingUp[0]!
  expect(next.name).toBe('Sand them')
  expect(next.failsAt).toMatchObject({ name: 'Glue the shelves', likely: 'glue-up' })
})

test('a promise that a failure moves stays as it was given, until the maker says the new day: a record of its own, with why', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const { ask, id } = shop
  const glued = (await stepsOf(shop)).find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  const promisesOf = async () => (await ask.commission({ id })).promises
  await ask.commissionChange({ id, changes: { promisedFor: '2026-03-06' } })
  const before = await promisesOf()
  const failure = { stepId: glued.stepId, count: 3, fromStepId: glued.againFrom[0]!.stepId } as const
  const { newDay } = await ask.stepFailed({ ...failure, reason: 'glue-up', note: 'joint starved' })
  expect(newDay).toMatchObject({ commissionId: id, why: 'Glue the shelves failed (glue-up): joint starved' })
  expect(newDay!.day > '2026-03-06').toBe(true)
  expect(await promisesOf()).toEqual(before)

  const told = await ask.commissionChange({
    id,
    changes: { promisedFor: newDay!.day, promiseWantedBy: 'maker', promiseWhy: newDay!.why },
  })
  expect((await ask.commission({ id })).promisedFor).toBe(newDay!.day)
  const [last, ...earlier] = await promisesOf()
  expect(last).toMatchObject({ day: newDay!.day, wantedBy: 'maker', why: newDay!.why })
  expect(last!.chance!).toBeGreaterThanOrEqual(0.75)
  expect(earlier).toEqual(before)
  await ask.undo({ entryId: told.entryId! })
  expect((await ask.commission({ id })).promisedFor).toBe('2026-03-06')
})

test('what a failure makes of its promise is told once: the answer says the chance and what it was, the news leaves it out', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const { ask, id, events } = shop
  const told = () => events.flatMap((event) => (event.kind === 'odds' ? [event.moved] : []))
  const glued = (await stepsOf(shop)).find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  await ask.commissionChange({ id, changes: { promisedFor: '2026-03-08' } })
  await expect.poll(async () => (await ask.commission({ id })).outlook).toMatchObject({ fresh: true, daysLate: 0 })
  const before = (await ask.commission({ id })).outlook.chance!
  const heard = told().length
  const failure = { stepId: glued.stepId, count: 3, fromStepId: glued.againFrom[0]!.stepId } as const
  const { said } = await ask.stepFailed({ ...failure, reason: 'glue-up', note: '' })
  await expect.poll(() => told().length).toBeGreaterThan(heard)
  const { chance } = (await ask.commission({ id })).outlook
  // A fall that is news.
  expect(before - chance!).toBeGreaterThan(0.2)
  expect(said).toContain(`Promised Sun, Mar 8: ${sayChance(chance!)} now, was ${sayChance(before)}.`)
  expect(told().slice(heard).flat()).toEqual([])
  // The next press tells its own again: what is taken back brings the chance back.
  const { entryId } = (await ask.bench({ rows: 24 })).lastAction!
  const heardThen = told().length
  await ask.undo({ entryId })
  await expect.poll(() => told().length).toBeGreaterThan(heardThen)
  expect(told().slice(heardThen).flat()).toEqual([expect.stringMatching(/^No\. 1, Ada Quist: now /)])
})

test('a failure that the promise bears offers no other day', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const glued = (await stepsOf(shop)).find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  await shop.ask.commissionChange({ id: shop.id, changes: { promisedFor: '2027-03-06' } })
  const failure = { stepId: glued.stepId, count: 1, fromStepId: glued.againFrom[0]!.stepId } as const
  expect((await shop.ask.stepFailed({ ...failure, reason: 'crack', note: '' })).newDay).toBeUndefined()
})

test('one board of three is made again beside the others and joins them at the finish, wood of the loss known', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const { ask, call, id } = shop
  const steps = await stepsOf(shop)
  const glued = steps.find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  const failure = {
    stepId: glued.stepId,
    count: 1,
    fromStepId: glued.againFrom[0]!.stepId,
    reason: 'crack',
    note: '',
  } as const
  expect(glued.mayFail).toBe(3)
  expect(await call.stepFailed({ ...failure, count: 4 })).toMatchObject({ ok: false, problems: [{ field: 'count' }] })
  const said = await ask.stepFailed(failure)
  // The two that are left of the lot: no more can fail there.
  expect((await stepsOf(shop)).find(({ stepId }) => stepId === glued.stepId)).toMatchObject({ count: 3, mayFail: 2 })
  expect(said.said).toMatch(/1 of 3 again: .*It joins the others at /s)
  const again = await stepsOf(shop)
  const own = again.filter(({ lot }) => lot === 'lot 2 of 2')
  expect(own[0]).toMatchObject({ state: 'to-do', count: 1 })
  expect(again.filter(({ lost }) => lost)).toEqual([])
  expect(
    (await ask.bench({ rows: 24 })).canStart
      .concat((await ask.bench({ rows: 24 })).comingUp)
      .map(({ stepId }) => stepId),
  ).toContain(own[0]!.stepId)
  // To the end: the coat waits for both, and the order can be handed over.
  for (let presses = 0; presses < 80; presses++) {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]
    if (next === undefined) break
    await shop.setClock(at(next.plannedAt!))
    await ask.stepDone({ stepId: next.stepId, anyway: true, workedMin: 5 })
  }
  expect((await ask.commission({ id })).word).toBe('ready-to-collect')
})

test('a board that failed leaves the rack, and the clamps that held it are free', async () => {
  const { ask, setClock } = await aDesk()
  await ask.takeOrder({
    draft: aDraft({ pieces: [aPiece({ length: '18' }, 'edge-grain-board', '2')] }),
    ...{ standing: 'agreed', promisedFor: null },
  })
  let glueUp = ''
  while (glueUp === '') {
    const bench = await ask.bench({ rows: 24 })
    const next = bench.canStart[0] ?? bench.comingUp[0]!
    await setClock(at(next.plannedAt! + 20))
    await ask.stepDone({ stepId: next.stepId, anyway: true, workedMin: 20 })
    if (GLUE_UP.test(next.name)) glueUp = next.stepId
  }
  const onRack = async () => {
    const { waiting, stations } = await ask.rack()
    return { ...waiting[0]!, used: stations.find(({ id }) => id === 'clamps')!.used }
  }
  const before = await onRack()
  expect(before.piece.count).toBe(2)
  const again = (await ask.commission({ id: before.piece.commissionId })).pieces[0]!.steps
  const first = again.find(({ name }) => name === 'Joint and plane the stock')!
  const said = await ask.stepFailed({
    ...{ stepId: glueUp, count: 1, fromStepId: first.stepId, reason: 'glue-up' as const, note: '' },
  })
  const after = await onRack()
  expect(after.piece.count).toBe(1)
  expect(after.used).toBe(before.used / 2)
  expect(after.place).not.toBe(before.place)
  await ask.undo({ entryId: said.entryId! })
  expect(await onRack()).toEqual(before)
})

test('what failed is kept back for in the next price: the log moves the share that was typed, and the price says from what', async () => {
  const shop = await threeBoardsUntil(GLUE_UP)
  const { ask } = shop
  await ask.almanacChangeFact({ key: 'money.payPerHourMinor', input: '30' })
  await ask.almanacChangeFact({ key: 'money.remakesShare', input: '3' })
  const reserve = async () => {
    const { price } = await ask.draftQuote({ draft: aDraft(), asked: 'dates' })
    const { lines } = price!
    const at = lines.findIndex(({ label }) => label === 'Kept back for remakes')
    return {
      why: lines[at]!.why,
      share: lines[at]!.minor / lines.slice(0, at).reduce((sum, { minor }) => sum + minor, 0),
    }
  }
  // Two steps of 20 min that count, nothing lost: 3% x 100 h / (100 h + 40 min).
  expect((await reserve()).share).toBeCloseTo((0.03 * 6000) / 6040, 3)

  const glued = (await stepsOf(shop)).find(({ name, state }) => state === 'done' && GLUE_UP.test(name))!
  const failure = { stepId: glued.stepId, count: 1, fromStepId: glued.againFrom[0]!.stepId } as const
  const said = await ask.stepFailed({ ...failure, reason: 'crack', note: '' })
  // One of three: 40 min / 3 are lost, 13 in whole minutes. By hand: (180 + 13) / (6000 + 27) = 3.2%.
  const after = await reserve()
  expect(after.share).toBeCloseTo(193 / 6027, 3)
  expect(after.why).toBe(
    '3.2% of the cost so far. Your log: 1 of 3 pieces made again, 13 min lost against 27 min that count. ' +
      'The 3% you typed counts like 100 h.',
  )
  expect((await ask.tally()).madeAgain).toMatchObject([{ reason: 'crack', lostMin: 13 }])

  await ask.almanacChangeFact({ key: 'money.remakesBy', input: 'typed' })
  expect(await reserve()).toMatchObject({ why: '3% of the cost so far, as typed in the Almanac.' })
  await ask.almanacChangeFact({ key: 'money.remakesBy', input: 'own-record' })
  await ask.undo({ entryId: said.entryId! })
  expect((await reserve()).share).toBeCloseTo((0.03 * 6000) / 6040, 3)
})

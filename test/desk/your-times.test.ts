import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

/** Works on one step of an order for so long, without a pause. */
async function work({ ask, setClock }: TestDesk, stepId: string, from: number, minutes: number): Promise<void> {
  await setClock(at(from))
  await ask.stepStart({ stepId, anyway: true })
  await setClock(at(from + minutes))
  await ask.stepDone({ stepId, anyway: true })
}

const SEVEN_PM = Date.parse('2026-03-04T01:00:00Z') / 60_000

/** Eight strips at a minute each by the book. */
const STRIPS_MIN = 8

/** The ripping steps of some orders. */
async function ripping({ ask }: TestDesk, orders: number) {
  const found = []
  for (let order = 0; order < orders; order++) {
    const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: '2026-12-01' })
    const steps = (await ask.commission({ id: commissionId })).pieces.flatMap((piece) => piece.steps)
    const step = steps.find(({ name }) => name === 'Rip the strips')!
    found.push({ commissionId, stepId: step.stepId, why: step.whyMinutes[0] })
  }
  return found
}

const timeOf = async ({ ask }: TestDesk, operation: string) =>
  (await ask.yourTimes()).times.find((row) => row.operation === operation)

test('what was worked teaches how long it takes here, and is used once the maker says so', async () => {
  const one = await aDesk()
  const { ask } = one
  const steps = await ripping(one, 5)
  const { almanac } = await ask.almanac()
  const { setUpMin } = almanac.standardTimes.find(({ operation }) => operation === 'rip-strips')!
  for (const [day, { stepId }] of steps.slice(0, 4).entries())
    await work(one, stepId, SEVEN_PM + day * 1440, STRIPS_MIN * 2 + setUpMin)

  const learned = (await timeOf(one, 'rip-strips'))!
  expect(learned).toMatchObject({ pieces: 4, use: null, inUseMin: learned.bookMin })
  expect(learned.yoursMin / learned.bookMin).toBeGreaterThan(1.4)
  expect(learned.yoursMin / learned.bookMin).toBeLessThan(2)

  // A promise says which times its chance was worked out with.
  const another = await ask.takeOrder({ draft: aDraft({}), standing: 'agreed', promisedFor: 'as-quoted' })
  expect((await ask.commission({ id: another.commissionId })).promises[0]?.times).toBe('learned')

  const promised = async () => (await ask.commission({ id: steps[4]!.commissionId })).promisedFor
  const before = await promised()
  const used = await ask.timeUse({ operation: 'rip-strips', use: 'mine' })
  expect(used.said).toContain('Promises keep their day')
  const row = (await timeOf(one, 'rip-strips'))!
  expect(row).toMatchObject({ use: 'mine', inUseMin: Number(learned.yoursMin.toFixed(2)) })
  expect(await promised()).toBe(before)
  expect((await ask.yourTimes()).history[0]).toMatchObject({ undone: false })

  // A new order is drawn up with it.
  const [later] = await ripping(one, 1)
  expect(steps[4]!.why).toContain(': 1 min for each strip')
  expect(later!.why).toContain(`: ${row.inUseMin} min for each strip`)

  await ask.undo({ entryId: used.entryId! })
  expect((await timeOf(one, 'rip-strips'))?.use).toBeNull()
  expect((await ask.yourTimes()).history[0]).toMatchObject({ undone: true })
})

test('a pause that was forgotten is left out with its reason, and can be put back', async () => {
  const one = await aDesk()
  const { ask } = one
  const [step] = await ripping(one, 1)
  await work(one, step!.stepId, SEVEN_PM, 8 * 60)
  const [left] = (await ask.yourTimes()).leftOut
  expect(left).toMatchObject({ why: 'Over six hours without a pause: forgotten?', canCount: true })
  expect((await ask.yourTimes()).times).toEqual([])

  await ask.entryChoose({ stepId: step!.stepId, choice: 'count' })
  expect(await timeOf(one, 'rip-strips')).toMatchObject({ pieces: 1 })
  expect((await ask.yourTimes()).putBack).toHaveLength(1)
  await ask.entryChoose({ stepId: step!.stepId, choice: 'as-found' })
  expect((await ask.yourTimes()).leftOut).toHaveLength(1)
})

test('a shop that follows its own times takes them on from three pieces on, but not where the book is kept', async () => {
  const one = await aDesk()
  const { ask } = one
  await ask.timesFollow({ follow: 'by-themselves' })
  const steps = await ripping(one, 6)
  const workOn = async (from: number, to: number): Promise<void> => {
    for (const [index, { stepId }] of steps.slice(from, to).entries())
      await work(one, stepId, SEVEN_PM + (from + index) * 1440, STRIPS_MIN * 2 + 10)
  }
  await workOn(0, 3)
  expect((await timeOf(one, 'rip-strips'))?.use).toBeNull()
  await workOn(3, 4)
  expect((await timeOf(one, 'rip-strips'))?.use).toBe('mine')
  await ask.timeUse({ operation: 'rip-strips', use: 'book' })
  await workOn(4, 6)
  expect((await timeOf(one, 'rip-strips'))?.use).toBe('book')
})

test('three answers at the start say how fast somebody is, and nonsense is named', async () => {
  const { ask, call } = await aDesk()
  const reply = await call.timesAsked({ answers: { 'mill-stock': 'long' } })
  expect(reply).toMatchObject({ ok: false, problems: [{ field: 'mill-stock', message: 'Enter minutes, such as 25.' }] })
  const [milling] = (await ask.yourTimes()).asked
  await ask.timesAsked({ answers: { 'mill-stock': String(milling!.bookMin * 2), 'rip-strips': '' } })
  const { asked, times } = await ask.yourTimes()
  expect(asked.map(({ minutes }) => minutes)).toEqual([milling!.bookMin * 2, null, null])
  expect(times).toMatchObject([{ operation: 'mill-stock', pieces: 0 }])
  expect(times[0]!.yoursMin / times[0]!.bookMin).toBeGreaterThan(1.3)
})

test('a coat that came after its recoat window teaches nothing, as sanding was in it, unless the maker counts it', async () => {
  const one = await aDesk()
  const { ask, setClock } = one
  const wiped = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  /** Does everything up to the first coat on an evening, and the second one so many days later, for 30 minutes. */
  const secondCoatAfter = async (evening: number, days: number): Promise<string> => {
    const { commissionId: id } = await ask.takeOrder({ draft: wiped, standing: 'agreed', promisedFor: '2026-12-01' })
    const steps = (await ask.commission({ id })).pieces.flatMap((piece) => piece.steps)
    const second = steps.findIndex(({ name }) => /second coat/i.test(name))
    await setClock(at(SEVEN_PM + evening * 1440))
    for (const { stepId } of steps.slice(0, second)) await ask.stepDone({ stepId, anyway: true })
    const { stepId } = steps[second]!
    await work(one, stepId, SEVEN_PM + (evening + days) * 1440, 30)
    return stepId
  }
  await secondCoatAfter(0, 1)
  const late = await secondCoatAfter(2, 20)
  const leftOut = async () => (await ask.yourTimes()).leftOut.filter(({ why }) => !/without a start/.test(why))
  expect(await leftOut()).toMatchObject([
    { stepId: late, canCount: true, why: 'Started after its window had closed: making up for that is in its time' },
  ])
  expect((await ask.yourTimes()).times.map(({ pieces }) => pieces)).toEqual([1])
  await ask.entryChoose({ stepId: late, choice: 'count' })
  expect(await leftOut()).toEqual([])
  expect((await ask.yourTimes()).times.map(({ pieces }) => pieces)).toEqual([2])
})

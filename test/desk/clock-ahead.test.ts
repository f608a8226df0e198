import { expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

/** A step that was begun while the clock was a week ahead; by now it is right, on Tuesday at 7 PM in Chicago. */
async function begunAhead(): Promise<TestDesk & { readonly id: string; readonly stepId: string }> {
  const one = await aDesk({ at: '2026-03-11T01:00:00Z' })
  const draft = aDraft({ pieces: [aPiece({ length: '14', width: '9' }, 'edge-grain-board')] })
  const { commissionId: id } = await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: '2026-06-20' })
  const [step] = (await one.ask.commission({ id })).pieces[0]!.steps
  await one.ask.stepStart({ stepId: step!.stepId, anyway: true })
  await one.setClock('2026-03-04T01:30:00Z')
  return { ...one, id, stepId: step!.stepId }
}

const line = async ({ ask, id, stepId }: Awaited<ReturnType<typeof begunAhead>>) =>
  (await ask.commission({ id })).pieces[0]!.steps.find((step) => step.stepId === stepId)!

test.each(['stepDone', 'stepPause'] as const)(
  'begun while the clock was ahead, then set right: %s asks how long it took, and takes the answer up to now',
  async (press) => {
    const shop = await begunAhead()
    const { ask, call, stepId } = shop
    expect((await ask.bench({ rows: 24 })).onTheBench).toMatchObject([{ stepId, begunAhead: true }])
    expect(await call[press]({ stepId })).toMatchObject({
      ok: false,
      problems: [{ code: 'begun-ahead', field: 'workedMin' }],
    })
    const now = Date.parse('2026-03-04T01:30:00Z') / 60_000
    await ask[press]({ stepId, workedMin: 25 })
    expect(await line(shop)).toMatchObject({
      state: press === 'stepDone' ? 'done' : 'paused',
      workedMinutes: 25,
      work: [{ fromAt: now - 25, toAt: now }],
    })
    expect((await ask.commission({ id: shop.id })).doneAt).toBeGreaterThan(now)
  },
)

test('what was answered can be undone: the step is in hand again, and asks again', async () => {
  const shop = await begunAhead()
  const { ask, stepId } = shop
  const { entryId } = await ask.stepDone({ stepId, workedMin: 25 })
  await ask.undo({ entryId: entryId! })
  expect((await ask.bench({ rows: 24 })).onTheBench).toMatchObject([{ stepId, begunAhead: true }])
})

test('with a clock that is right nothing is asked', async () => {
  const shop = await begunAhead()
  await shop.setClock('2026-03-11T01:20:00Z')
  expect((await shop.ask.bench({ rows: 24 })).onTheBench).toMatchObject([{ begunAhead: false }])
  await shop.ask.stepDone({ stepId: shop.stepId })
  expect(await line(shop)).toMatchObject({ state: 'done', workedMinutes: 20 })
})

const WEEK_MIN = 7 * 24 * 60
const instant = (minute: number): string => new Date(minute * 60_000).toISOString()

/** A coat that was done while the clock was a week ahead, and then the clock is set right. */
async function coatedAhead() {
  const one = await aDesk()
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First coat')
  const drying = async () => (await one.ask.rack()).waiting.find(({ state }) => state === 'drying')!
  const { sinceAt, readyAt } = await drying()
  const now = sinceAt - WEEK_MIN
  await one.setClock(instant(now))
  return { ...one, now, drying, driesMin: readyAt! - sinceAt }
}

test('done while the clock was ahead: its wait runs from now, never from a day to come, until it is said when it was', async () => {
  const { ask, call, now, drying, driesMin } = await coatedAhead()
  expect((await drying()).sinceAt).toBe(now)
  expect((await drying()).readyAt! - now).toBe(driesMin)
  const [asked] = (await ask.bench({ rows: 24 })).doneAhead
  expect(asked).toMatchObject({ name: 'First coat' })

  const { entryId } = await ask.stepDoneWhen({ stepId: asked!.stepId, minutesAgo: 30 })
  expect(await drying()).toMatchObject({ sinceAt: now - 30, readyAt: now - 30 + driesMin })
  expect((await ask.bench({ rows: 24 })).doneAhead.map(({ stepId }) => stepId)).not.toContain(asked!.stepId)
  expect(await call.stepDoneWhen({ stepId: asked!.stepId, minutesAgo: 0 })).toMatchObject({
    ok: false,
    problems: [{ code: 'not-ahead' }],
  })

  await ask.undo({ entryId: entryId! })
  expect((await ask.bench({ rows: 24 })).doneAhead.map(({ stepId }) => stepId)).toContain(asked!.stepId)
})

test('once it is said, the wait stays where it was said when the clock comes to the day of the press', async () => {
  const { ask, setClock, now, drying } = await coatedAhead()
  for (const { stepId } of (await ask.bench({ rows: 24 })).doneAhead) await ask.stepDoneWhen({ stepId, minutesAgo: 30 })
  expect((await ask.bench({ rows: 24 })).doneAhead).toEqual([])
  await setClock(instant(now + WEEK_MIN + 60))
  expect((await ask.rack()).waiting.map(({ sinceAt }) => sinceAt)).toEqual([now - 30])
  expect(drying).toBeDefined()
})

test('still tacky, pressed while the clock was ahead, holds nothing back once that is put right', async () => {
  const { ask, setClock } = await coatedAhead()
  for (const { stepId } of (await ask.bench({ rows: 24 })).doneAhead) await ask.stepDoneWhen({ stepId, minutesAgo: 30 })
  const wait = async () => (await ask.rack()).waiting[0]!
  const { readyAt, tackyStepId } = await wait()
  await setClock(instant(readyAt! + WEEK_MIN))
  await ask.stepStillTacky({ stepId: tackyStepId!, minutes: 24 * 60 })
  expect((await wait()).readyAt).toBe(readyAt! + WEEK_MIN + 24 * 60)
  await setClock(instant(readyAt! + 5))
  expect((await wait()).readyAt).toBe(readyAt)
})

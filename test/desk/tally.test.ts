import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const shelf = aDraft({
  pieces: [
    {
      construction: 'free-list',
      count: '1',
      input: {
        title: 'Wall shelf',
        rows: [
          {
            ...{ name: 'Cut the boards', minutes: '30 min', kind: 'machine', wait: '', atMost: '', after: '' },
            ...{ dusty: false, units: '' },
          },
        ],
      },
    },
  ],
})

const NO_RECORD = { promises: 0, lessSure: 0, toldAsFourInFive: expect.closeTo(0.8, 6), from: 20 }

const THURSDAY_SEVEN_PM = '2026-03-06T01:00:00Z'

/** Works off an order of one step, for so long, and hands it over. */
async function workOff({ ask, setClock }: TestDesk, id: string, from: string, minutes: number): Promise<void> {
  const [step] = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
  await setClock(from)
  await ask.stepStart({ stepId: step!.stepId, anyway: true })
  await setClock(new Date(Date.parse(from) + minutes * 60_000).toISOString())
  await ask.stepDone({ stepId: step!.stepId })
  await ask.commissionHandOver({ id })
}

const take = async ({ ask }: TestDesk, promisedFor: string, draft = shelf) =>
  (await ask.takeOrder({ draft, standing: 'agreed', promisedFor })).commissionId

test('nothing is told of a shop that has finished nothing', async () => {
  const { ask } = await aDesk()
  expect(await ask.tally()).toEqual({
    since: null,
    promises: { tenths: [], judged: 0, kept: 0, withoutChance: 0, movedByMaker: 0, record: NO_RECORD },
    ...{ late: [], attendance: [], hoursBehind: [], hoursAhead: [], byOrder: [], byConstruction: [], stepsLeftOut: 0 },
    madeAgain: [],
  })
})

test('promises kept and late ones stand beside the chance that was stated, with why', async () => {
  const desk = await aDesk()
  const { ask } = desk
  const kept = await take(desk, '2026-03-20')
  const late = await take(desk, '2026-03-05')
  const stated = (await ask.commission({ id: kept })).promises[0]!.chance!
  await ask.commissionChange({
    id: late,
    changes: { promisedFor: '2026-03-06', promiseWantedBy: 'maker', promiseWhy: 'Saw broke' },
  })
  await workOff(desk, kept, THURSDAY_SEVEN_PM, 40)
  await workOff(desk, late, '2026-03-10T00:00:00Z', 90)

  const tally = await ask.tally()
  expect(tally.promises).toMatchObject({ judged: 2, kept: 1, movedByMaker: 1 })
  const tenth = tally.promises.tenths.find((each) => each.tenth === Math.round(stated * 10))!
  expect(tenth.kept).toBe(1)
  expect(tenth.expected).toBeGreaterThanOrEqual(stated)
  expect(tally.late).toMatchObject([{ promisedFor: '2026-03-06', finishedOn: '2026-03-09', daysLate: 3 }])
  expect(tally.late[0]!.why).toEqual(['Saw broke', 'Its steps ran 1 h over'])
  expect(tally.byOrder.map(({ estimatedMin, workedMin }) => [estimatedMin, workedMin])).toEqual([
    [30, 90],
    [30, 40],
  ])
  expect(tally.byConstruction).toMatchObject([{ of: 'free-list', steps: 2, estimatedMin: 60, workedMin: 130 }])
  expect(tally.attendance.reduce((sum, { met }) => sum + met, 0)).toBeGreaterThanOrEqual(1)
  expect(tally.hoursBehind.reduce((sum, { workMin }) => sum + workMin, 0)).toBe(130)
})

test('hours planned fall into their weeks, within the hours of the almanac', async () => {
  const desk = await aDesk()
  const id = await take(desk, '2026-05-30', aDraft({ pieces: [aPiece({}, 'end-grain-board', '4')] }))
  const { hoursAhead } = await desk.ask.tally()
  const steps = (await desk.ask.commission({ id })).pieces.flatMap((piece) => piece.steps)
  const asked = steps.reduce((sum, step) => sum + step.handsOnMinutes, 0)
  expect(hoursAhead[0]!.monday).toBe('2026-03-02')
  expect(hoursAhead.reduce((sum, { workMin }) => sum + workMin, 0)).toBeGreaterThanOrEqual(asked)
  for (const { openMin, workMin } of hoursAhead) expect(workMin).toBeLessThanOrEqual(openMin)
})

test('what was taken back is counted nowhere, and a step done without a start has no time', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  const id = await take(desk, '2026-03-20')
  const [step] = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
  await setClock(THURSDAY_SEVEN_PM)
  await ask.stepDone({ stepId: step!.stepId, anyway: true })
  const handedOver = await ask.commissionHandOver({ id })
  expect(await ask.tally()).toMatchObject({ promises: { judged: 1, kept: 1 }, stepsLeftOut: 1, byOrder: [] })
  await ask.undo({ entryId: handedOver.entryId! })
  const done = (await ask.commission({ id })).history.find(({ canUndo, undone }) => canUndo && !undone)
  await ask.undo({ entryId: done!.entryId })
  expect(await ask.tally()).toMatchObject({ promises: { judged: 0 }, stepsLeftOut: 0 })
})

test('twenty promises that were missed make new dates later, unless past promises are not to count', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  for (let order = 0; order < 20; order++) await take(desk, '2026-04-30')
  // Nobody has worked on anything, and the day is past.
  await setClock('2026-05-02T15:00:00Z')
  const { record } = (await ask.tally()).promises
  expect(record).toMatchObject({ promises: 20 })
  expect(record!.toldAsFourInFive).toBeGreaterThan(0.9)
  const safeDay = async () => (await ask.draftQuote({ draft: shelf, asked: 'odds' })).offers[0]!.odds!.p80At
  const later = await safeDay()
  await ask.almanacChangeFact({ key: 'shop.countRecord', input: 'no' })
  expect((await ask.tally()).promises.record).toBeNull()
  expect(await safeDay()).toBeLessThan(later)
  const refused = await desk.call.almanacChangeFact({ key: 'shop.countRecord', input: 'maybe' })
  expect(refused).toMatchObject({
    ok: false,
    problems: [{ message: 'Past promises move new dates: choose yes or no.' }],
  })
})

test('evenings between two orders, with nothing to do, teach nothing of who comes', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  await workOff(desk, await take(desk, '2026-03-20'), THURSDAY_SEVEN_PM, 30)
  await setClock('2026-08-10T23:00:00Z')
  await workOff(desk, await take(desk, '2026-08-20'), '2026-08-11T00:30:00Z', 30)
  await setClock('2026-08-11T15:00:00Z')
  const { attendance } = await ask.tally()
  expect(attendance).toMatchObject([{ met: 2, missed: 0 }])
  const offer = (await ask.draftQuote({ draft: shelf, asked: 'odds' })).offers[0]!
  // Half an hour of work on a Tuesday, and a shop that is open every evening but on Sundays.
  expect(offer.odds!.p80At).toBeLessThan(Date.parse('2026-08-15T05:00:00Z') / 60_000)
})

test('an order on hold or waiting to be fetched is nothing to do, one that nobody finished is', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  await workOff(desk, await take(desk, '2026-03-20'), THURSDAY_SEVEN_PM, 30)
  const held = await take(desk, '2026-04-20')
  await ask.commissionHold({ id: held, until: '2026-03-18', why: 'On holiday', remindOn: null })
  const [step] = (await ask.commission({ id: held })).pieces.flatMap(({ steps }) => steps)
  // A Thursday again: from Wednesday on it could be worked on.
  await setClock('2026-03-20T00:30:00Z')
  await ask.stepStart({ stepId: step!.stepId, anyway: true })
  await setClock('2026-03-20T01:00:00Z')
  await ask.stepDone({ stepId: step!.stepId })
  expect((await ask.tally()).attendance).toMatchObject([{ met: 2, missed: 1 }])
  await setClock('2026-04-24T00:30:00Z')
  await ask.commissionHandOver({ id: held })
  await workOff(desk, await take(desk, '2026-05-20'), '2026-04-24T00:45:00Z', 10)
  expect((await ask.tally()).attendance).toMatchObject([{ met: 3, missed: 1 }])
})

test('evenings on which all there is to do is wait for glue are not missed, those on which something is ready are', async () => {
  const desk = await aDesk()
  const { ask, setClock } = desk
  const row = { minutes: '20 min', kind: 'hand', atMost: '', after: '', dusty: false, units: '' }
  const glued = aDraft({
    pieces: [
      {
        construction: 'free-list',
        count: '1',
        input: {
          title: 'Tray',
          rows: [
            { ...row, name: 'Glue the tray', wait: '3 days' },
            { ...row, name: 'Take it out and plane it', wait: '' },
          ],
        },
      },
    ],
  })
  const id = await take(desk, '2026-04-20', glued)
  const [glue, plane] = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
  const work = async (stepId: string, from: string) => {
    await setClock(from)
    await ask.stepStart({ stepId, anyway: true })
    await setClock(new Date(Date.parse(from) + 20 * 60_000).toISOString())
    await ask.stepDone({ stepId })
  }
  // A Thursday; the glue is dry on Sunday, when the shop is shut. Nobody comes on Monday and Tuesday, but on Wednesday.
  await work(glue!.stepId, '2026-03-06T00:00:00Z')
  await work(plane!.stepId, '2026-03-12T00:10:00Z')
  expect((await ask.tally()).attendance).toMatchObject([{ met: 2, missed: 2 }])
  await ask.commissionHandOver({ id })
  expect((await ask.tally()).attendance).toMatchObject([{ met: 2, missed: 2 }])
})

describe('evenings count by the hours that held then', () => {
  /** Monday to Thursday from 7 PM, as a new shop has them. */
  const EVENINGS = [1, 2, 3, 4].map((weekday) => ({ weekday, from: '19:00', to: '21:30' }))

  /** A shop whose one maker worked on a large order every Tuesday to Thursday of four weeks, but for two evenings; it is Friday. */
  async function fourWeeks() {
    const desk = await aDesk()
    const { ask, setClock } = desk
    await ask.almanacSave({
      list: 'makers',
      item: { id: 'maker', name: 'Me', attendance: '90%', hours: EVENINGS.slice(1) },
    })
    const id = await take(desk, '2026-12-01')
    const [step] = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
    const tuesdaySevenPm = Date.parse('2026-03-04T01:00:00Z')
    for (let day = 0; day < 28; day++) {
      if (day % 7 > 2 || day === 9 || day === 16) continue
      // The clocks change on Sunday of the first week.
      const evening = tuesdaySevenPm + (day * 24 - (day > 4 ? 1 : 0)) * 3_600_000
      await setClock(new Date(evening + 5 * 60_000).toISOString())
      await ask.stepStart({ stepId: step!.stepId, anyway: true })
      await setClock(new Date(evening + 6 * 60_000).toISOString())
      await ask.stepPause({ stepId: step!.stepId })
    }
    await setClock('2026-03-27T15:00:00Z')
    return { ...desk, stepId: step!.stepId }
  }

  const attendance = async ({ ask }: TestDesk) => (await ask.yourTimes()).attendance

  test('somebody who has just come to the shop has missed nothing, and what the others met stays', async () => {
    const desk = await fourWeeks()
    const [alone] = await attendance(desk)
    expect(alone).toMatchObject({ maker: 'Me', met: 10, missed: 2 })
    await desk.ask.almanacSave({
      list: 'makers',
      item: { id: '', name: 'Wren', attendance: '90%', hours: EVENINGS },
    })
    expect(await attendance(desk)).toEqual([alone, { maker: 'Wren', met: 0, missed: 0, rate: 0.9 }])
    expect((await desk.ask.tally()).attendance).toMatchObject([{ maker: 'Me', met: 10, missed: 2 }])
  })

  test('other evenings count from the day they were given, until that is undone; another name changes nothing', async () => {
    const desk = await fourWeeks()
    const before = await attendance(desk)
    const save = (name: string, hours: typeof EVENINGS) =>
      desk.ask.almanacSave({ list: 'makers', item: { id: 'maker', name, attendance: '90%', hours } })
    const moved = await save(
      'Me',
      [5, 6, 7].map((weekday) => ({ weekday, from: '19:00', to: '21:30' })),
    )
    expect(await attendance(desk)).toEqual([{ maker: 'Me', met: 0, missed: 0, rate: 0.9 }])
    // Friday is missed; on Saturday somebody comes.
    await desk.setClock('2026-03-29T00:30:00Z')
    const resumed = await desk.ask.stepStart({ stepId: desk.stepId, anyway: true })
    expect(await attendance(desk)).toMatchObject([{ met: 1, missed: 1 }])
    await desk.ask.undo({ entryId: resumed.entryId! })
    await desk.setClock('2026-03-27T15:30:00Z')
    await desk.ask.undo({ entryId: moved.entryId! })
    expect(await attendance(desk)).toEqual(before)
    await save('Ada', EVENINGS.slice(1))
    expect(await attendance(desk)).toEqual([{ ...before[0]!, maker: 'Ada' }])
  })

  test('evenings that are given back by hand count as before, and those between by none', async () => {
    const desk = await fourWeeks()
    const before = await attendance(desk)
    const save = (hours: typeof EVENINGS) =>
      desk.ask.almanacSave({ list: 'makers', item: { id: 'maker', name: 'Me', attendance: '90%', hours } })
    await save([{ weekday: 5, from: '19:00', to: '21:30' }])
    expect(await attendance(desk)).toEqual([{ maker: 'Me', met: 0, missed: 0, rate: 0.9 }])
    // The Friday between is nobody's evening any more.
    await desk.setClock('2026-03-28T15:00:00Z')
    await save(EVENINGS.slice(1))
    expect(await attendance(desk)).toEqual(before)
  })
})

import SqliteFile from 'better-sqlite3'
import { expect, test } from 'vitest'
import { failed, ok, problem } from '../../core/problems.ts'
import { storeProblem } from '../../db/store-faults.ts'
import type { BenchStep, BenchView } from '../../desk/screens/bench.ts'
import { asPressed, isForLater, isPressedAlready, type KeptPress } from '../../renderer/devices/kept-presses.ts'

const step = (stepId: string, state: BenchStep['state'] = 'can-start', workedMinutes = 0): BenchStep => ({
  ...{ stepId, state, workedMinutes, name: stepId, note: '', handsOnMinutes: 30, whyMinutes: [], setUpMinutes: 0 },
  piece: { commissionId: 'c', number: 1, customer: 'Ada', pieceId: 'p', title: 'Shelf', count: 1, lot: null },
  ...{ sharesSetUpWith: [], startedAt: null, plannedAt: null, plannedEndAt: null, pinnedDay: null, putsOn: null },
  ...{ hindrance: null, makers: [], who: [], leftRunning: null, begunAhead: false, failsAt: null, cautions: [] },
  ...{ promise: null, heldBackBy: [] },
})

const view: BenchView = {
  ...{ session: null, onTheBench: [step('paused', 'paused', 10)], canStart: [step('first'), step('second')] },
  ...{ canStartToo: 0, comingUp: [step('later', 'not-yet')], tonight: [], lumber: [], whyFirst: [], milled: [] },
  ...{ milledToo: 0, supplies: [], carry: [], today: [], lastAction: null, doneAhead: [] },
}

const press = (name: KeptPress['name'], stepId: string, atMin: number, more = {}): KeptPress => ({
  ...{ key: `${name} ${stepId} ${atMin}`, name, input: { stepId, ...more }, atMs: atMin * 60_000 },
})

/** The desk answered at minute 100. */
const times = { countedAt: 100, pressedAt: ({ atMs }: KeptPress) => atMs / 60_000 }
const after = (...kept: readonly KeptPress[]) => asPressed(view, kept, times)
const inHand = (shown: BenchView, stepId: string) => shown.onTheBench.find((each) => each.stepId === stepId)

test('a kept Start has its step in hand, counted from when it was pressed, and nowhere else', () => {
  const shown = after(press('stepStart', 'first', 103))
  // Minutes go on from the desk's answer: at 110 it is 7.
  expect(inHand(shown, 'first')).toMatchObject({ state: 'running', workedMinutes: -3, startedAt: 103 })
  expect(shown.canStart.map(({ stepId }) => stepId)).toEqual(['second'])
  expect(after(press('stepStart', 'later', 103)).comingUp).toEqual([])
})

test('Pause, Resume and Done follow, each from its own time', () => {
  const paused = after(press('stepStart', 'first', 103), press('stepPause', 'first', 120, { minutesAgo: 5 }))
  expect(inHand(paused, 'first')).toMatchObject({ state: 'paused', workedMinutes: 12 })
  const resumed = after(press('stepStart', 'paused', 105))
  expect(inHand(resumed, 'paused')).toMatchObject({ state: 'running', workedMinutes: 5 })
  const done = after(press('stepStart', 'first', 103), press('stepDone', 'first', 130))
  expect([inHand(done, 'first'), done.canStart.length]).toEqual([undefined, 1])
})

test('what the desk knows already is not counted twice', () => {
  const told = { ...view, onTheBench: [step('first', 'running', 4)], canStart: [] }
  expect(asPressed(told, [press('stepStart', 'first', 96)], times)).toEqual(told)
})

test('what a kept Done lets go can be started; what only the desk can tell is left to it', () => {
  const cut = { stepId: 'first', name: 'Cut the boards', thenWaits: false }
  const glue = { stepId: 'second', name: 'Glue it', thenWaits: true }
  const held = (stepId: string, ...heldBackBy: BenchStep['heldBackBy']): BenchStep => ({
    ...step(stepId, 'not-yet'),
    ...{ heldBackBy, hindrance: `Waiting on: ${heldBackBy[0]!.name.toLowerCase()}.` },
  })
  const told = {
    ...view,
    whyFirst: ['It is due first.'],
    comingUp: [held('free', cut), held('both', cut, glue), held('wet', glue), step('later', 'not-yet')],
  }
  const isDone = asPressed(told, [press('stepDone', 'first', 103)], times)
  expect(isDone.canStart.map(({ stepId, state }) => [stepId, state])).toEqual([
    ['second', 'can-start'],
    ['free', 'can-start'],
  ])
  expect(isDone.canStart[1]!.hindrance).toBe('Free once the desk hears that cut the boards is done.')
  expect(isDone.comingUp.map(({ stepId, hindrance }) => [stepId, hindrance])).toEqual([
    ['both', 'Waiting on: glue it.'],
    ['wet', 'Waiting on: glue it.'],
    ['later', null],
  ])
  expect(isDone.whyFirst).toEqual([])
  const both = asPressed(told, [press('stepDone', 'first', 103), press('stepDone', 'second', 120)], times)
  for (const { hindrance } of both.comingUp.slice(0, 2))
    expect(hindrance).toBe('Glue it is done here. How long to wait, the desk says once it hears.')
  expect(asPressed(told, [press('stepStart', 'second', 103)], times).whyFirst).toEqual(['It is due first.'])
})

test('a kept failure takes back what it may have undone: nothing of the step or right after it is offered until the desk says', () => {
  const fails = {
    ...{ stepId: 'glue', name: 'Glue the shelf', mayFail: 1, againFrom: [], likely: 'glue-up' as const },
    likelyFrom: { 'glue-up': 'glue', crack: 'cut', 'tear-out': 'glue', finish: 'glue', mistake: 'glue', other: 'glue' },
  }
  const sand = { ...step('sand'), failsAt: fails }
  const told = { ...view, canStart: [sand, step('other')], whyFirst: ['It is due first.'] }
  const failed = press('stepFailed', 'glue', 103, { count: 1 })
  const shown = asPressed(told, [failed], times)
  expect(shown.canStart.map(({ stepId }) => stepId)).toEqual(['other'])
  expect(shown.comingUp[0]).toMatchObject({
    ...{ stepId: 'sand', state: 'not-yet', failsAt: null },
    hindrance: 'Glue the shelf failed here. What to make again, the desk says once it hears.',
  })
  expect(shown.whyFirst).toEqual([])
  // Itself, in hand: it is put down.
  const running = { ...step('glue', 'running', 5), failsAt: fails }
  const inWork = asPressed({ ...view, onTheBench: [running] }, [failed], times)
  expect([inWork.onTheBench, inWork.comingUp[0]!.stepId]).toEqual([[], 'glue'])
  // What is done may fail, and then another one of the lot.
  expect(isPressedAlready(failed, [press('stepDone', 'glue', 100), failed])).toBe(false)
})

test('the same press twice in a row at a step is one; Start after Pause is another', () => {
  const kept = [press('stepStart', 'first', 1), press('stepStart', 'second', 2)]
  expect(isPressedAlready(press('stepStart', 'first', 3), kept)).toBe(true)
  expect(isPressedAlready(press('stepDone', 'first', 3), kept)).toBe(false)
  expect(isPressedAlready(press('stepStart', 'first', 4), [...kept, press('stepPause', 'first', 3)])).toBe(false)
  expect(isPressedAlready(press('stepStart', 'first', 4), [...kept, press('stepDone', 'first', 3)])).toBe(true)
})

test('every refusal of the store is for later, as is a book that is shut; a refused press is not', () => {
  const codes = ['FULL', 'READONLY', 'PERM', 'CANTOPEN', 'BUSY', 'LOCKED', 'PROTOCOL', 'IOERR', 'CORRUPT', 'NOTADB']
  for (const code of codes) {
    const found = storeProblem(new SqliteFile.SqliteError('refused', `SQLITE_${code}`))
    expect([code, found !== null && isForLater(failed(found))]).toEqual([code, true])
  }
  for (const code of ['not-open', 'fault']) expect(isForLater(failed(problem(code, 'No.')))).toBe(true)
  for (const code of ['already-done', 'not-allowed', 'bad-input'])
    expect(isForLater(failed(problem(code, 'No.')))).toBe(false)
  expect(isForLater(ok(null))).toBe(false)
})

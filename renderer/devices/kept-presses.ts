import { capital } from '../../core/capital.ts'
import type { BenchStep, BenchView } from '../../desk/screens/bench.ts'
import type { Reply } from '../../desk/procedure.ts'

/** Presses that may wait on a phone or tablet: the desk can be told of them for a time ago. */
export type KeptName = 'stepStart' | 'stepPause' | 'stepDone' | 'stepFailed'

const WORDS: Readonly<Record<KeptName, string>> = {
  ...{ stepStart: 'Start', stepPause: 'Pause', stepDone: 'Done', stepFailed: 'It failed' },
}

export const mayBeKept = (name: string): name is KeptName => Object.hasOwn(WORDS, name)

/** A press as it waits on the device. */
export interface KeptPress {
  /** By which the desk knows it when it comes twice. */
  readonly key: string
  readonly name: KeptName
  readonly input: unknown
  /** Milliseconds since the Unix epoch on the device's own clock. */
  readonly atMs: number
  /** "Cut the boards, Wall shelf"; undefined: nobody named its step. */
  readonly step?: string | undefined
}

/** "Start: Cut the boards, Wall shelf". */
export const pressInWords = ({ name, step }: KeptPress): string =>
  step === undefined ? WORDS[name] : `${WORDS[name]}: ${step}`

/**
 * Replies of a desk that cannot write anything down just then: its book is shut, it has broken, or its disk refuses. The same press
 * will do later.
 */
const NOT_NOW: ReadonlySet<string> = new Set([
  'not-open',
  'fault',
  'disk-full',
  'disk-read-only',
  'file-busy',
  'disk-failed',
  'file-damaged',
])

export const isForLater = (reply: Reply<unknown>): boolean =>
  !reply.ok && reply.problems.some(({ code }) => NOT_NOW.has(code))

interface PressInput {
  readonly stepId: string
  readonly minutesAgo: number
}

function inputOf({ input }: Pick<KeptPress, 'input'>): PressInput {
  const { stepId = '', minutesAgo = 0 } = input as Partial<PressInput>
  return { stepId, minutesAgo }
}

/** Whether the same was pressed last at the same step, or it is done: two fingers, or a button that was drawn before the press was. */
export function isPressedAlready(press: Pick<KeptPress, 'name' | 'input'>, kept: readonly KeptPress[]): boolean {
  // What is done may fail, and another piece of it after the first: it was asked for in a form of its own.
  if (press.name === 'stepFailed') return false
  const last = kept.findLast((other) => isPressOf(other, inputOf(press).stepId))
  return last?.name === press.name || last?.name === 'stepDone'
}

export const isPressOf = (press: KeptPress, stepId: string): boolean => inputOf(press).stepId === stepId

/** The instants of the desk's answer and of a press, in whole minutes of the shop's clock. */
interface PressTimes {
  readonly countedAt: number
  readonly pressedAt: (press: KeptPress) => number
}

/** The Bench as it is once the desk has been told of what waits on this device. */
export function asPressed(view: BenchView, kept: readonly KeptPress[], times: PressTimes): BenchView {
  if (kept.length === 0) return view
  const pressed = kept.reduce((before, press) => afterPress(before, press, times), view)
  const done = new Set(kept.filter(({ name }) => name === 'stepDone').map((press) => inputOf(press).stepId))
  const comingUp = pressed.comingUp.map((step) => onceDone(step, done))
  const free = comingUp.filter(({ state }) => state === 'can-start')
  const canStart = [...pressed.canStart, ...free]
  return {
    ...pressed,
    canStart,
    comingUp: comingUp.filter((step) => !free.includes(step)),
    // It was said of what came first before.
    whyFirst: canStart[0]?.stepId === view.canStart[0]?.stepId ? view.whyFirst : [],
  }
}

/** What was held back by steps that are done on this device: only the desk knows what else is in its way, and for how long it waits. */
function onceDone(step: BenchStep, done: ReadonlySet<string>): BenchStep {
  const over = step.heldBackBy.filter(({ stepId }) => done.has(stepId))
  const left = step.heldBackBy.find(({ stepId }) => !done.has(stepId))
  const waits = over.find(({ thenWaits }) => thenWaits)
  if (over[0] === undefined) return step
  if (left !== undefined) return { ...step, hindrance: `Waiting on: ${left.name.toLowerCase()}.` }
  return waits === undefined
    ? { ...step, state: 'can-start', hindrance: `Free once the desk hears that ${over[0].name.toLowerCase()} is done.` }
    : { ...step, hindrance: `${capital(waits.name)} is done here. How long to wait, the desk says once it hears.` }
}

/** What is made again, and what goes on meanwhile, only the desk can tell: nothing of the failed step or right after it is offered. */
function onceFailed(view: BenchView, stepId: string): BenchView {
  const isHeld = (step: BenchStep): boolean => step.stepId === stepId || step.failsAt?.stepId === stepId
  const held = [view.onTheBench, view.canStart, view.comingUp].flat().filter(isHeld)
  const others = (steps: readonly BenchStep[]): readonly BenchStep[] => steps.filter((step) => !isHeld(step))
  return {
    ...view,
    onTheBench: others(view.onTheBench),
    canStart: others(view.canStart),
    tonight: view.tonight.filter((line) => held.every((step) => step.stepId !== line.stepId)),
    comingUp: [
      ...held.map((step): BenchStep => {
        const name = step.failsAt?.name ?? step.name
        const hindrance = `${name} failed here. What to make again, the desk says once it hears.`
        return { ...step, state: 'not-yet', hindrance, heldBackBy: [], failsAt: null }
      }),
      ...others(view.comingUp),
    ],
  }
}

function afterPress(view: BenchView, press: KeptPress, { countedAt, pressedAt }: PressTimes): BenchView {
  const { stepId, minutesAgo } = inputOf(press)
  if (press.name === 'stepFailed') return onceFailed(view, stepId)
  const step = [view.onTheBench, view.canStart, view.comingUp].flat().find((each) => each.stepId === stepId)
  if (step === undefined) return view
  const at = pressedAt(press) - minutesAgo
  const left = <Line extends { readonly stepId: string }>(lines: readonly Line[]) =>
    lines.filter((line) => line.stepId !== stepId)
  const isOnTheBench = view.onTheBench.includes(step)
  const onTheBench = (begun: BenchStep): readonly BenchStep[] =>
    isOnTheBench ? view.onTheBench.map((each) => (each === step ? begun : each)) : [...view.onTheBench, begun]
  const others = { canStart: left(view.canStart), comingUp: left(view.comingUp), tonight: left(view.tonight) }
  switch (press.name) {
    case 'stepStart':
      // What is counted goes on from the desk's answer, so a press before or after it counts from there.
      return step.state === 'running'
        ? view
        : { ...view, ...others, onTheBench: onTheBench(begunAt(step, at, step.workedMinutes + countedAt - at)) }
    case 'stepPause':
      return step.state === 'running'
        ? {
            ...view,
            onTheBench: onTheBench({
              ...step,
              state: 'paused',
              workedMinutes: Math.max(0, step.workedMinutes + at - countedAt),
              leftRunning: null,
            }),
          }
        : view
    case 'stepDone':
      return { ...view, ...others, onTheBench: left(view.onTheBench) }
  }
}

const begunAt = (step: BenchStep, at: number, workedMinutes: number): BenchStep => ({
  ...step,
  state: 'running',
  startedAt: step.startedAt ?? at,
  workedMinutes,
  hindrance: null,
  leftRunning: null,
  begunAhead: false,
})

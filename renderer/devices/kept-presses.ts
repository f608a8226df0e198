import type { BenchStep, BenchView } from '../../desk/screens/bench.ts'
import type { Reply } from '../../desk/procedure.ts'

/** Presses that may wait on a phone or tablet: the desk can be told of them for a time ago. */
export type KeptName = 'stepStart' | 'stepPause' | 'stepDone'

const WORDS: Readonly<Record<KeptName, string>> = { stepStart: 'Start', stepPause: 'Pause', stepDone: 'Done' }

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

/** Whether the same was pressed last at the same step: two fingers, or a button that was drawn before the press was. */
export const isPressedAlready = (press: Pick<KeptPress, 'name' | 'input'>, kept: readonly KeptPress[]): boolean =>
  kept.findLast((other) => inputOf(other).stepId === inputOf(press).stepId)?.name === press.name

export const isPressOf = (press: KeptPress, stepId: string): boolean => inputOf(press).stepId === stepId

/** The instants of the desk's answer and of a press, in whole minutes of the shop's clock. */
interface PressTimes {
  readonly countedAt: number
  readonly pressedAt: (press: KeptPress) => number
}

/** The Bench as it is once the desk has been told of what waits on this device. */
export const asPressed = (view: BenchView, kept: readonly KeptPress[], times: PressTimes): BenchView =>
  kept.reduce((before, press) => afterPress(before, press, times), view)

function afterPress(view: BenchView, press: KeptPress, { countedAt, pressedAt }: PressTimes): BenchView {
  const { stepId, minutesAgo } = inputOf(press)
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

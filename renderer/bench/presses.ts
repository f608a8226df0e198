import { desk } from '../client.ts'
import { said } from '../said.svelte.ts'
import { whoWorks } from './who-works.svelte.ts'
import type { BenchStep } from '../../desk/screens/bench.ts'

/** What can be pressed at a step; what comes of it is said in the frame's line, with the way back. */
export const start = (step: BenchStep, anyway = false): void =>
  void said.after(() => desk.stepStart({ stepId: step.stepId, makerId: whoWorks.makerId, anyway }))

export const pause = (step: BenchStep, minutesAgo = 0): void =>
  void said.after(() => desk.stepPause({ stepId: step.stepId, minutesAgo }))

export const done = (step: BenchStep, minutesAgo = 0): void =>
  void said.after(() => desk.stepDone({ stepId: step.stepId, minutesAgo }))

/** Begun while the clock was ahead, and worked on for so many minutes up to now. */
export const endAhead = (step: BenchStep, what: 'done' | 'paused', workedMin: number): void =>
  void said.after(() =>
    what === 'done'
      ? desk.stepDone({ stepId: step.stepId, workedMin })
      : desk.stepPause({ stepId: step.stepId, workedMin }),
  )

/** Done without a start: `workedMin` minutes up to now; null: nobody knows. */
export const alreadyDone = (step: BenchStep, workedMin: number | null): void =>
  void said.after(() => desk.stepDone({ stepId: step.stepId, makerId: whoWorks.makerId, workedMin, anyway: true }))

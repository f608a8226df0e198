import { desk } from '../client.ts'
import { said } from '../said.svelte.ts'
import { whoWorks } from './who-works.svelte.ts'
import type { BenchStep } from '../../desk/screens/bench.ts'

/** What can be pressed at a step; what comes of it is said in the frame's line, with the way back. */
export const start = (step: BenchStep, anyway = false): Promise<boolean> =>
  said.after(() => desk.stepStart({ stepId: step.stepId, makerId: whoWorks.makerId, anyway }))

export const pause = (step: BenchStep, minutesAgo = 0): Promise<boolean> =>
  said.after(() => desk.stepPause({ stepId: step.stepId, minutesAgo }))

export const done = (step: BenchStep, minutesAgo = 0): Promise<boolean> =>
  said.after(() => desk.stepDone({ stepId: step.stepId, minutesAgo }))

/** Begun while the clock was ahead, and worked on for so many minutes up to now. */
export const endAhead = (step: BenchStep, what: 'done' | 'paused', workedMin: number): Promise<boolean> =>
  said.after(() =>
    what === 'done'
      ? desk.stepDone({ stepId: step.stepId, workedMin })
      : desk.stepPause({ stepId: step.stepId, workedMin }),
  )

/** Done without a start: `workedMin` minutes up to now; null: nobody knows. */
export const alreadyDone = (step: BenchStep, workedMin: number | null): Promise<boolean> =>
  said.after(() => desk.stepDone({ stepId: step.stepId, makerId: whoWorks.makerId, workedMin, anyway: true }))

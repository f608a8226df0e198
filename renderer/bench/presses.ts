import { desk } from '../client.ts'
import { outbox } from '../devices/outbox.svelte.ts'
import { said } from '../said.svelte.ts'
import { whoWorks } from './who-works.svelte.ts'
import type { Moved } from '../../desk/moved.ts'
import type { Reply } from '../../desk/procedure.ts'

interface PressedStep {
  readonly stepId: string
  readonly name: string
  readonly piece: { readonly title: string }
}

function press(step: PressedStep, action: () => Promise<Reply<Moved>>): Promise<boolean> {
  outbox.name(step.stepId, `${step.name}, ${step.piece.title}`)
  return said.after(action)
}

/** What can be pressed at a step; what comes of it is said in the frame's line, with the way back. */
export const start = (step: PressedStep, anyway = false): Promise<boolean> =>
  press(step, () => desk.stepStart({ stepId: step.stepId, makerId: whoWorks.makerId, anyway }))

export const pause = (step: PressedStep, minutesAgo = 0): Promise<boolean> =>
  press(step, () => desk.stepPause({ stepId: step.stepId, minutesAgo }))

export const done = (step: PressedStep, minutesAgo = 0): Promise<boolean> =>
  press(step, () => desk.stepDone({ stepId: step.stepId, minutesAgo }))

/** Begun while the clock was ahead, and worked on for so many minutes up to now. */
export const endAhead = (step: PressedStep, what: 'done' | 'paused', workedMin: number): Promise<boolean> =>
  press(step, () =>
    what === 'done'
      ? desk.stepDone({ stepId: step.stepId, workedMin })
      : desk.stepPause({ stepId: step.stepId, workedMin }),
  )

/** Done without a start: `workedMin` minutes up to now; null: nobody knows. */
export const alreadyDone = (step: PressedStep, workedMin: number | null): Promise<boolean> =>
  press(step, () => desk.stepDone({ stepId: step.stepId, makerId: whoWorks.makerId, workedMin, anyway: true }))

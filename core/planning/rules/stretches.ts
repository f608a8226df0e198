import type { Compiled } from '../problem/compiled.ts'
import { endOfWork, startOfWorkBefore, type Sessions } from '../schedule/sessions.ts'

/** Minutes that a session must still have for a step to begin in it: all of them, or its smallest stretch where it may be interrupted. */
export const leastOpen = ({ interruptible, smallest }: Compiled, step: number, total: number): number =>
  interruptible[step] === 1 ? Math.min(total, Math.max(1, smallest[step]!)) : total

/** When a step ends that begins at `start`, inside `session`; NEVER when the sessions run out. It must fit, see `leastOpen`. */
export const endOfStep = (
  { interruptible, smallest }: Compiled,
  step: number,
  sessions: Sessions,
  session: number,
  start: number,
  total: number,
): number => (interruptible[step] === 1 ? endOfWork(sessions, session, start, total, smallest[step]!) : start + total)

/** No start before this lets a step end at `leastEnd` or later. */
export const startToEndBy = (
  { interruptible }: Compiled,
  step: number,
  sessions: Sessions,
  leastEnd: number,
  total: number,
): number => (interruptible[step] === 1 ? startOfWorkBefore(sessions, leastEnd, total) : leastEnd - total)

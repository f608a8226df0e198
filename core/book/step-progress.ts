import type { StepAction, StepEntry } from './book.ts'
import { LONGEST_STRETCH_MIN, minutesOver, NO_WORK, workAt, type StepWork } from './work-done.ts'

/** How far a step is, from its log. Instants and minutes as in `Book`. */
export type StepProgress = (
  | { readonly kind: 'to-do' }
  /** `workedMin` counts the stretches before the present one, which began at `since`. */
  | {
      readonly kind: 'running'
      readonly startedAt: number
      readonly since: number
      readonly workedMin: number
      readonly makerId: string | null
    }
  | { readonly kind: 'paused'; readonly startedAt: number; readonly workedMin: number; readonly makerId: string | null }
  | {
      readonly kind: 'done'
      readonly startedAt: number
      readonly endedAt: number
      readonly workedMin: number
      readonly makerId: string | null
    }
) & {
  /** Looked at and found still tacky: not before this instant. */
  readonly pushedUntil: number | null
  /** The local day on which the maker wants it. */
  readonly pinnedDay: string | null
}

export const untouched: StepProgress = { kind: 'to-do', pushedUntil: null, pinnedDay: null }

/** Progress of each step that has an entry; entries oldest first, only those that count. */
export function progressOf(entries: readonly StepEntry[]): ReadonlyMap<string, StepProgress> {
  const works = workAt(entries)
  const wishes = new Map<string, Wishes>()
  for (const { stepId, action } of entries) {
    const before = wishes.get(stepId) ?? NO_WISHES
    wishes.set(stepId, afterWish(before, action))
  }
  return new Map([...wishes].map(([stepId, kept]) => [stepId, { ...stateOf(works.get(stepId) ?? NO_WORK), ...kept }]))
}

/** Working minutes spent so far, the running stretch included; of one that nobody stopped no more than the longest there is. */
export function workedMinutes(progress: StepProgress, now: number): number {
  switch (progress.kind) {
    case 'to-do':
      return 0
    case 'running':
      return progress.workedMin + Math.min(LONGEST_STRETCH_MIN, Math.max(0, now - progress.since))
    case 'paused':
    case 'done':
      return progress.workedMin
  }
}

type Wishes = Pick<StepProgress, 'pushedUntil' | 'pinnedDay'>
const NO_WISHES: Wishes = { pushedUntil: null, pinnedDay: null }

function afterWish(before: Wishes, action: StepAction): Wishes {
  if (action.kind === 'still-tacky') return { ...before, pushedUntil: action.untilMin }
  return action.kind === 'pinned' ? { ...before, pinnedDay: action.day } : before
}

type WorkState = StepProgress extends infer Each
  ? Each extends StepProgress
    ? Omit<Each, keyof Wishes>
    : never
  : never

function stateOf(work: StepWork): WorkState {
  const { stretches, running, done } = work
  const [first] = stretches
  const last = stretches.at(-1)
  const workedMin = minutesOver(work)
  if (done !== null) {
    const makerId = last === undefined ? done.makerId : last.makerId
    return { kind: 'done', startedAt: first?.from ?? done.at, endedAt: done.at, workedMin, makerId }
  }
  if (running !== null) {
    const { since, makerId } = running
    return { kind: 'running', startedAt: first?.from ?? since, since, workedMin, makerId }
  }
  return first === undefined || last === undefined
    ? { kind: 'to-do' }
    : { kind: 'paused', startedAt: first.from, workedMin, makerId: last.makerId }
}

import type { WaitKind } from '../planning/index.ts'
import type { StepEntry } from './book.ts'
import type { Stay } from './stays.ts'
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
  /** Where the piece has been since it was done, oldest first; none: in the shop all the time. */
  readonly stays: readonly Stay[]
  /** When somebody looked and found ready what waits after it, and which waits that ends; null: nobody did. */
  readonly foundReady: { readonly at: number; readonly wait: WaitKind; readonly minMin: number } | null
  /** The boards that its parts came from are off the list. */
  readonly woodOffList: boolean
}

export const untouched: StepProgress = {
  ...{ kind: 'to-do', pushedUntil: null, pinnedDay: null },
  ...{ stays: [], foundReady: null, woodOffList: false },
}

/**
 * Progress of each step that has an entry; entries oldest first, only those that count.
 * @param now what was done or carried later than this was pressed while the clock was ahead, and reads as of now; what was still
 *   tacky then is looked at again
 */
export function progressOf(entries: readonly StepEntry[], now = Infinity): ReadonlyMap<string, StepProgress> {
  const works = workAt(entries)
  const wishes = new Map<string, Wishes>()
  for (const entry of entries) {
    wishes.set(entry.stepId, afterWish(wishes.get(entry.stepId) ?? NO_WISHES, entry, now))
    if (entry.action.kind !== 'found-ready') continue
    const { afterStep, wait, minMin } = entry.action
    const before = wishes.get(afterStep) ?? NO_WISHES
    wishes.set(afterStep, { ...before, foundReady: { at: entry.atMin, wait, minMin } })
  }
  return new Map(
    [...wishes].map(([stepId, kept]) => [stepId, noLater(now, { ...stateOf(works.get(stepId) ?? NO_WORK), ...kept })]),
  )
}

function noLater(now: number, progress: StepProgress): StepProgress {
  if (progress.kind !== 'done' || progress.endedAt <= now) return progress
  const stays = progress.stays.map((stay) => ({ ...stay, from: Math.min(stay.from, now) }))
  return { ...progress, startedAt: Math.min(progress.startedAt, now), endedAt: now, stays }
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

/** What was said of a step, and done with its piece, beside work. */
type Wishes = Pick<StepProgress, 'pushedUntil' | 'pinnedDay' | 'stays' | 'foundReady' | 'woodOffList'>
const NO_WISHES: Wishes = { pushedUntil: null, pinnedDay: null, stays: [], foundReady: null, woodOffList: false }

function afterWish(before: Wishes, { action, atMin }: StepEntry, now: number): Wishes {
  switch (action.kind) {
    case 'still-tacky':
      return { ...before, pushedUntil: atMin > now ? null : action.untilMin }
    case 'pinned':
      return { ...before, pinnedDay: action.day }
    case 'done':
      return { ...before, foundReady: null, stays: action.to === undefined ? [] : [{ from: atMin, place: action.to }] }
    case 'found-ready':
      return { ...before, pushedUntil: null }
    case 'wood-off-list':
      return { ...before, woodOffList: true }
    case 'moved':
      return { ...before, stays: [...before.stays, { from: atMin, place: action.place }] }
    default:
      return before
  }
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

import type { PlanMaker } from '../planning/index.ts'
import type { Book, BookStep } from './book.ts'
import { progressOf } from './step-progress.ts'

/**
 * Minutes of preparing the machine with which a step begins, by the planner's rule: none where its maker last ended a step with
 * a set-up of the same family, in the session in which this one starts.
 * @param makerId null: nobody said who
 */
export function setUpPaid(
  { setUp }: Pick<BookStep, 'setUp'>,
  startedAt: number,
  makerId: string | null,
  { steps, log }: Pick<Book, 'steps' | 'log'>,
  { makers }: { readonly makers: readonly PlanMaker[] },
): number {
  if (setUp === null) return 0
  const progress = progressOf(log)
  let last: { readonly family: string; readonly endedAt: number } | null = null
  for (const { id, setUp: other } of steps) {
    const done = progress.get(id)
    if (other === null || done?.kind !== 'done' || done.makerId !== makerId || done.endedAt > startedAt) continue
    if (last === null || done.endedAt > last.endedAt) last = { family: other.family, endedAt: done.endedAt }
  }
  if (last?.family !== setUp.family) return setUp.minutes
  return sameSession(
    last.endedAt,
    startedAt,
    makers.find(({ id }) => id === makerId),
  )
    ? 0
    : setUp.minutes
}

/** Hours of the almanac hold both, or, for who works at other hours, no more than a break lies between them. */
function sameSession(from: number, to: number, maker: PlanMaker | undefined): boolean {
  const session = maker?.hours.find((hours) => hours.from <= from && from <= hours.to)
  return session === undefined ? to - from <= BREAK_MIN : to <= session.to
}

const BREAK_MIN = 60

import type { Bench } from './bench.ts'
import type { Mishap } from './truth.ts'

/** When the maker is really there. */
export interface Evening {
  readonly from: number
  readonly to: number
}

/** A line of the list that is worked through: first lines first. */
export interface Listed {
  readonly step: string
  /** How long the maker believes it takes, without set-up: what does not fit any more is not begun. */
  readonly expectedMin: number
  /** Not begun before this, because something further on has a window. 0: as soon as it can be. */
  readonly notBefore: number
}

export type Happening = { readonly step: string; readonly at: number } & (
  | { readonly kind: 'started' | 'paused' | 'went-on' | 'done' | 'undone' }
  | { readonly kind: 'failed'; readonly reason: Mishap['reason'] }
)

/**
 * Works one evening through the list: at each moment the first line that can be begun, from beginning to end. Can be begun: everything
 * before it is done and its waits are over, its stations have room, no dust on tacky finish, and it fits into what is left of the
 * evening as far as the maker knows. What was interrupted at closing time is gone on with first. A step that takes longer than was
 * thought and cannot be interrupted is finished after closing time.
 * @param list may name steps that are done
 */
export function workEvening(bench: Bench, evening: Evening, list: readonly Listed[]): readonly Happening[] {
  const happened: Happening[] = []
  const open = list.filter(({ step }) => bench.endOf(step) === undefined && bench.inHand?.step !== step)
  let now = evening.from
  /** A set-up is in the machine until the evening is over. */
  let family: string | null = null

  const work = (step: string, minutes: number): void => {
    const { interruptible, setUp } = bench.step(step)
    const end = now + minutes
    if (interruptible && end > evening.to) {
      bench.inHand = { step, leftMin: end - evening.to }
      now = evening.to
      happened.push({ kind: 'paused', step, at: now })
      return
    }
    now = end
    bench.inHand = null
    bench.finish(step, now)
    happened.push({ kind: 'done', step, at: now })
    if (setUp !== null) family = setUp.family
    const mishap = bench.truth.mishap(step, bench.attempt(step))
    if (mishap === null) return
    happened.push({ kind: 'failed', reason: mishap.reason, step: mishap.step, at: now })
    for (const undone of mishap.undone) {
      bench.undo(undone)
      happened.push({ kind: 'undone', step: undone, at: now })
    }
  }

  if (bench.inHand !== null) {
    const { step, leftMin } = bench.inHand
    happened.push({ kind: 'went-on', step, at: now })
    work(step, leftMin)
  }
  while (now < evening.to) {
    let later = Infinity
    let next: { readonly step: string; readonly minutes: number } | null = null
    for (const line of open) {
      if (bench.hasStarted(line.step)) continue
      const begins = beginsAt(bench, line, now)
      if (begins > now) {
        later = Math.min(later, begins)
        continue
      }
      const before = setUpMinutes(bench, line.step, family) + bench.remedies(line.step, now).minutes
      if (!fits(bench, line, before, evening.to - now)) continue
      next = { step: line.step, minutes: before + bench.truth.minutes(line.step, bench.attempt(line.step)) }
      break
    }
    if (next === null) {
      if (later >= evening.to) break
      now = later
      continue
    }
    bench.missedWindows += bench.remedies(next.step, now).missed
    bench.start(next.step, now)
    happened.push({ kind: 'started', step: next.step, at: now })
    work(next.step, next.minutes)
  }
  return happened
}

/** When a line can be begun if nothing else is done before; Infinity: something must be. */
function beginsAt(bench: Bench, { step, notBefore }: Listed, now: number): number {
  const ready = bench.readyAt(step)
  if (ready === Infinity) return Infinity
  const dust = bench.step(step).dusty ? bench.tackyUntil(now) : 0
  return Math.max(ready, notBefore, dust, bench.roomAt(step, now))
}

function setUpMinutes(bench: Bench, step: string, family: string | null): number {
  const { setUp } = bench.step(step)
  return setUp === null || setUp.family === family ? 0 : setUp.minutes
}

function fits(bench: Bench, { step, expectedMin }: Listed, before: number, leftMin: number): boolean {
  const { interruptible, smallestStretchMin } = bench.step(step)
  const expected = before + expectedMin
  return leftMin >= (interruptible ? Math.min(expected, Math.max(1, smallestStretchMin)) : expected)
}

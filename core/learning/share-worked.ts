import { USUAL_SHARE } from './times-model.ts'
import { firstIn, lastIn, type Presses } from './presses.ts'

/** So many evenings' worth is what is usual believed. Common practice, no source. */
const USUAL_WEIGHT = 20
/** Who begins later than that into an evening had nothing to do, or was somewhere else. */
const LATEST_BEGIN = 0.5

/**
 * Which share of an evening that somebody gets to is worked, where something can be done: from how long after the hour the first step
 * is begun, and how long before closing time work that is not finished is put down.
 */
export function shareWorked(
  sessions: readonly { readonly from: number; readonly to: number }[],
  { started, paused, all }: Presses,
): number {
  const begun: number[] = []
  const closed: number[] = []
  for (const { from, to } of sessions) {
    const first = firstIn(all, from, to)
    if (first === null) continue
    const length = Math.max(1, to - from)
    if (firstIn(started, from, to) === first && first - from <= LATEST_BEGIN * length)
      begun.push((first - from) / length)
    const last = lastIn(all, from, to)
    if (last !== null && lastIn(paused, from, to) === last) closed.push((to - last) / length)
  }
  const share = 1 - mean(begun) - mean(closed)
  const known = Math.min(begun.length, closed.length)
  return (USUAL_WEIGHT * USUAL_SHARE + known * share) / (USUAL_WEIGHT + known)
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length)

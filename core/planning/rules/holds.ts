import { UNTIL_AFTER, UNTIL_END, UNTIL_START_OF, type Compiled } from '../problem/compiled.ts'
import { waitOver } from './waits.ts'

/**
 * When what a step holds comes free.
 * @param ended end of the step that holds it
 * @param times start and end of the step that closes it, where one does
 */
export function holdOver(
  { holdUntil, holdMin, holdClock, holdTarget, clocks }: Compiled,
  hold: number,
  ended: number,
  { start, end }: { readonly start: Int32Array; readonly end: Int32Array },
): number {
  switch (holdUntil[hold]) {
    case UNTIL_END:
      return ended
    case UNTIL_AFTER:
      return waitOver(clocks, holdClock[hold]!, ended, holdMin[hold]!)
    case UNTIL_START_OF:
      return start[holdTarget[hold]!]!
    default:
      return end[holdTarget[hold]!]!
  }
}

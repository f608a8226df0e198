import { NEVER } from '../problem/instants.ts'
import { UNTIL_END_OF } from '../problem/compiled.ts'
import { holdOver } from '../rules/holds.ts'
import { tackyUntil } from '../rules/waits.ts'
import type { Ledger } from './ledger.ts'
import { stretchesOfWork } from './sessions.ts'

/** When stations and air allow the step at this time, -1; otherwise the next time at which they may (NEVER: not as things stand). */
export function clash(
  ledger: Ledger,
  step: number,
  start: number,
  end: number,
  crew: number,
  total: number,
  ignoresInstants = false,
): number {
  const { holdsOf, holdStation, holdUnits, capacity, tackyMin, dusty, room, interruptible } = ledger.compiled
  for (let at = holdsOf.from[step]!; at < holdsOf.from[step + 1]!; at++) {
    const hold = holdsOf.items[at]!
    const station = holdStation[hold]!
    let units = holdUnits[hold]!
    if (units === 0) continue
    for (let other = holdsOf.from[step]!; other < at; other++) {
      if (holdStation[holdsOf.items[other]!] === station) units += holdUnits[holdsOf.items[other]!]!
    }
    const until = holdEndIf(ledger, hold, start, end)
    if (ignoresInstants && until <= start) continue
    let over = ledger.held[station]!.firstOver(start, until, capacity[station]! - units)
    if (over < 0) {
      const also = heldUntilEndOf(ledger, step, station)
      if (also > 0)
        over = ledger.held[station]!.firstOver(start, Math.min(end, until), capacity[station]! - units - also)
    }
    if (over < 0) continue
    if (over >= NEVER) ledger.obstacle = { kind: 'station', step, station }
    return over
  }
  if (tackyMin[step]! > 0) {
    const over = ledger.dust[room[step]!]!.firstOver(start, tackyUntil(ledger.compiled, step, end), 0)
    if (over >= 0) return over
  }
  if (dusty[step] === 1 && total > 0) {
    const wet = ledger.wet[room[step]!]!
    if (interruptible[step] === 0) return wet.firstOver(start, end, 0)
    const written = stretchesOfWork(
      ledger.compiled.crews[crew]!.sessions,
      start,
      total,
      ledger.compiled.smallest[step]!,
      ledger.bounds,
    )
    for (let index = 0; index < written; index += 2) {
      const over = wet.firstOver(ledger.bounds[index]!, ledger.bounds[index + 1]!, 0)
      if (over >= 0) return Math.min(over, ledger.bounds[index + 1]!)
    }
  }
  return -1
}

/** End of a hold if its step were at this place; its own end where what closes it is not placed yet. */
function holdEndIf(ledger: Ledger, hold: number, start: number, end: number): number {
  const target = ledger.compiled.holdTarget[hold]!
  if (target >= 0 && ledger.placed[target] === 0) return Math.max(end, start + 1)
  return holdOver(ledger.compiled, hold, end, ledger)
}

/** Units of a station held by others until the end of this step. */
function heldUntilEndOf(ledger: Ledger, step: number, station: number): number {
  const { holdsClosedBy, holdUntil, holdStation, holdStep, holdUnits } = ledger.compiled
  let units = 0
  for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
    const hold = holdsClosedBy.items[at]!
    if (holdUntil[hold] === UNTIL_END_OF && holdStation[hold] === station && ledger.isBooked(holdStep[hold]!))
      units += holdUnits[hold]!
  }
  return units
}

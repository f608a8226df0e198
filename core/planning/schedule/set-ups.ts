import { TO_DO } from '../problem/compiled.ts'
import { isStillSetUp } from '../rules/set-up.ts'
import type { Ledger } from './ledger.ts'
import { sessionAt } from './sessions.ts'

/** Whether one of the makers has just worked with this set-up, in the session that runs at `at`. */
export function isSetUp(ledger: Ledger, makers: readonly number[], family: number, at: number): boolean {
  const { makerSessions, family: families } = ledger.compiled
  const { lastFamily, lastFamilyEnd } = ledger.facts
  for (const maker of makers) {
    const sessions = makerSessions[maker]!
    const opened = sessions.from[sessionAt(sessions, at)]!
    const busy = ledger.busy[maker]!
    let before = busy.after(at) - 1
    while (before >= 0 && busy.to[before]! > opened && families[busy.step[before]!]! < 0) before -= 1
    const isOfToday = before >= 0 && busy.to[before]! > opened
    const last = isOfToday ? families[busy.step[before]!]! : lastFamily[maker]!
    const ended = isOfToday ? busy.to[before]! : lastFamilyEnd[maker]!
    if (isStillSetUp(family, last, ended, opened, at)) return true
  }
  return false
}

/**
 * Work of a family that ends at `end` comes right before another step of a family: when that would change whether the
 * other one needs its setup, the end of the other one; otherwise -1.
 */
export function disturbedUntil(ledger: Ledger, makers: readonly number[], family: number, end: number): number {
  for (const maker of makers) {
    const next = nextOfFamily(ledger, maker, end)
    if (next < 0) continue
    const isPaid = ledger.setUp[next]! > 0
    const needsNone = ledger.compiled.setUpMinutes[next] === 0
    if (needsNone) continue
    if ((ledger.compiled.family[next] === family) === isPaid) return ledger.end[next]!
  }
  return -1
}

/**
 * After a step was taken out: a step behind it in the same session whose set-up is not right any more, because it was
 * shared with the one taken out, or need not be paid again; -1 when there is none.
 */
export function setUpUpsetBy(ledger: Ledger, removed: number): number {
  const crew = ledger.crew[removed]!
  const { crews, family, setUpMinutes } = ledger.compiled
  if (crew < 0 || family[removed]! < 0) return -1
  for (const maker of crews[crew]!.makers) {
    const next = nextOfFamily(ledger, maker, ledger.end[removed]!)
    if (next < 0 || ledger.compiled.state[next] !== TO_DO) continue
    const isThere = isSetUp(ledger, crews[ledger.crew[next]!]!.makers, family[next]!, ledger.start[next]!)
    if (ledger.setUp[next] !== (isThere ? 0 : setUpMinutes[next])) return next
  }
  return -1
}

/** The maker's next step of a set-up family, if it begins in the session in which `end` lies; -1 otherwise. */
function nextOfFamily(ledger: Ledger, maker: number, end: number): number {
  const { makerSessions, family } = ledger.compiled
  const busy = ledger.busy[maker]!
  const sessions = makerSessions[maker]!
  const closes = sessions.to[sessionAt(sessions, end - 1)]!
  for (let next = busy.after(end); next < busy.size && busy.from[next]! < closes; next++) {
    if (family[busy.step[next]!]! >= 0) return busy.step[next]!
  }
  return -1
}

import type { Course } from './course.ts'
import { NEVER } from '../problem/instants.ts'
import { cureOver } from '../rules/cure-time.ts'
import { closesAt } from '../rules/windows.ts'
import { sessionAt } from '../schedule/sessions.ts'

/** Windows that follow each other are looked through this far. */
const WINDOWS_AHEAD = 4

/**
 * Whether what must follow a step within a window (a coat within its recoat time, the clamps while the glue is open) can, if the
 * step ends at `end`; going by the usual hours, waits and times.
 */
export function canMeetWindows(course: Course, step: number, end: number, ahead = WINDOWS_AHEAD): boolean {
  const { compiled, crewsInTurn, expected, opensWindow } = course
  const { lagsOutOf, lagTo, lagMax, lagMin, lagClock, clocks, crews, interruptible, smallest } = compiled
  for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
    const lag = lagsOutOf.items[at]!
    if (lagMax[lag] === NEVER) continue
    const next = lagTo[lag]!
    const first = crewsInTurn[next]![0]
    if (first === undefined) continue
    const clock = lagClock[lag]!
    const ready = Math.max(end, clock < 0 ? end + lagMin[lag]! : cureOver(clocks[clock]!, end, lagMin[lag]!))
    const closes = closesAt(compiled, lag, end)
    const least = interruptible[next] === 1 ? Math.min(expected[next]!, Math.max(1, smallest[next]!)) : expected[next]!
    const { sessions } = crews[first]!
    let isMet = false
    for (let session = sessionAt(sessions, ready); !isMet && session < sessions.count; session++) {
      const begin = Math.max(ready, sessions.from[session]!)
      if (begin > closes) break
      if (sessions.to[session]! - begin < least) continue
      const goesOn = ahead > 0 && opensWindow[next] === 1
      isMet = !goesOn || canMeetWindows(course, next, begin + expected[next]!, ahead - 1)
    }
    if (!isMet) return false
  }
  return true
}

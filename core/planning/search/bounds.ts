import { TO_DO, type Compiled } from '../problem/compiled.ts'
import { cureOver } from '../rules/cure-time.ts'
import { factsOf } from '../problem/facts.ts'
import { NEVER } from '../problem/instants.ts'
import { compareObjectives, tardinessOf } from '../rules/measured.ts'
import type { Objective } from '../problem/model.ts'
import { endOfWork, sessionAt, workUntil, type Sessions } from '../schedule/sessions.ts'

/**
 * What no schedule can beat: every step as early as waits, releases and hours alone allow, as if nobody else were in the
 * shop, and no end of work before all makers together have had the hours for it.
 */
export function lowerBound(compiled: Compiled): Objective {
  const { commissionCount, commission, promise, weight, now } = compiled
  const ends = earliestEnds(compiled)
  const done = new Int32Array(commissionCount).fill(-1)
  let last = Math.max(now, whenWorkIsDone(compiled))
  ends.forEach((end, step) => {
    done[commission[step]!] = Math.max(done[commission[step]!]!, end)
    last = Math.max(last, end)
  })
  let weightedTardiness = 0
  let weightedCompletion = 0
  done.forEach((at, index) => {
    const earliest = at < 0 ? now : at
    if (promise[index] === NEVER) weightedCompletion += weight[index]! * (earliest - now)
    else weightedTardiness += tardinessOf(compiled, index, earliest)
  })
  return { missedWindows: 0, weightedTardiness, weightedCompletion, makespanMin: last - now, moved: 0 }
}

/** Whether the bound proves that no plan is better. */
export const isProvablyBest = (compiled: Compiled, objective: Objective): boolean =>
  compareObjectives(objective, lowerBound(compiled)) <= 0

function earliestEnds(compiled: Compiled): Int32Array {
  const { stepCount, state, lagsInto, lagsOutOf, lagFrom, lagTo, lagMin, lagClock, clocks, earliest } = compiled
  const ends = factsOf(compiled).end.slice()
  const start = earliest.slice()
  const waiting = new Int32Array(stepCount)
  const counts = (lag: number): boolean => lagMin[lag]! >= 0 && state[lagTo[lag]!] === TO_DO
  for (let step = 0; step < stepCount; step++) {
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++)
      if (counts(lagsInto.items[at]!)) waiting[step]! += 1
  }
  const ready = [...waiting.keys()].filter((step) => waiting[step] === 0)
  for (let step = ready.pop(); step !== undefined; step = ready.pop()) {
    if (state[step] === TO_DO) ends[step] = earliestEnd(compiled, step, start[step]!)
    for (let at = lagsOutOf.from[step]!; at < lagsOutOf.from[step + 1]!; at++) {
      const lag = lagsOutOf.items[at]!
      if (!counts(lag)) continue
      const to = lagTo[lag]!
      const clock = lagClock[lag]!
      const end = ends[lagFrom[lag]!]!
      start[to] = Math.max(start[to]!, clock < 0 ? end + lagMin[lag]! : cureOver(clocks[clock]!, end, lagMin[lag]!))
      waiting[to]! -= 1
      if (waiting[to] === 0) ready.push(to)
    }
  }
  return ends
}

/** Without set-up: it may be there already. */
function earliestEnd(
  { minutes, crews, crewsOf, interruptible, smallest }: Compiled,
  step: number,
  start: number,
): number {
  const work = minutes[step]!
  if (work === 0) return start
  let earliest = NEVER
  for (const crew of crewsOf[step]!) {
    const { sessions } = crews[crew]!
    const mayStop = interruptible[step] === 1
    const least = mayStop ? Math.min(work, Math.max(1, smallest[step]!)) : work
    for (let session = sessionAt(sessions, start); session < sessions.count; session++) {
      const begin = Math.max(start, sessions.from[session]!)
      if (sessions.to[session]! - begin < least) continue
      earliest = Math.min(earliest, mayStop ? endOfWork(sessions, session, begin, work, smallest[step]!) : begin + work)
      break
    }
  }
  return earliest
}

/** The first instant by which all makers together have been in the shop for as long as the work left takes. */
function whenWorkIsDone({ problem, state, minutes, makerSessions, now }: Compiled): number {
  let work = 0
  state.forEach((code, step) => {
    if (code === TO_DO && minutes[step]! > 0) work += minutes[step]! * Math.max(1, problem.steps[step]!.hands)
  })
  if (work === 0) return now
  const had = (instant: number): number =>
    makerSessions.reduce((sum, sessions: Sessions) => sum + workUntil(sessions, instant) - workUntil(sessions, now), 0)
  let low = now
  let high = Math.max(now, ...makerSessions.map((sessions) => sessions.to[sessions.count - 1] ?? now))
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (had(middle) >= work) high = middle
    else low = middle
  }
  return high
}

import { NEVER } from '../problem/instants.ts'
import { endOfStep, leastOpen, startToEndBy } from '../rules/stretches.ts'
import type { BusyTimes } from './busy-times.ts'
import { clash } from './clash.ts'
import type { Ledger } from './ledger.ts'
import { sessionAt } from './sessions.ts'
import { disturbedUntil, isSetUp } from './set-ups.ts'

/**
 * The place in which a step ends first, from an instant on; kept as `found`.
 * @param leastEnd it must not end sooner
 */
export function findPlace(ledger: Ledger, step: number, from: number, remedy: number, leastEnd: number): boolean {
  const { minutes, crewsOf } = ledger.compiled
  const work = minutes[step]! + remedy
  ledger.openClosers(step, -1)
  let isFound = false
  let bestStart = 0
  let bestEnd = NEVER
  let bestSetUp = 0
  let bestCrew = -1
  if (work === 0) {
    isFound = findInstant(ledger, step, Math.max(from, leastEnd))
    bestStart = bestEnd = ledger.found.start
  } else {
    for (const crew of crewsOf[step]!) {
      if (!findForCrew(ledger, step, crew, from, work, bestEnd, leastEnd)) continue
      const isBetter =
        !isFound ||
        ledger.found.end < bestEnd ||
        (ledger.found.end === bestEnd &&
          (ledger.found.start > bestStart || (ledger.found.start === bestStart && ledger.found.setUp < bestSetUp)))
      if (!isBetter) continue
      isFound = true
      bestStart = ledger.found.start
      bestEnd = ledger.found.end
      bestSetUp = ledger.found.setUp
      bestCrew = crew
    }
  }
  ledger.openClosers(step, 1)
  ledger.found.start = bestStart
  ledger.found.end = bestEnd
  ledger.found.setUp = bestSetUp
  ledger.found.crew = bestCrew
  return isFound
}

/** A milestone takes no time: it happens as soon as what it holds is free. */
function findInstant(ledger: Ledger, step: number, from: number): boolean {
  let at = from
  for (;;) {
    const next = clash(ledger, step, at, at, -1, 0)
    if (next < 0) break
    if (next >= NEVER) return false
    at = next
  }
  ledger.found.start = at
  return true
}

/** @param latestEnd what ends later is of no use: another crew is quicker */
function findForCrew(
  ledger: Ledger,
  step: number,
  crew: number,
  from: number,
  work: number,
  latestEnd: number,
  leastEnd: number,
): boolean {
  const { sessions } = ledger.compiled.crews[crew]!
  let at = from
  for (;;) {
    if (!findFree(ledger, step, crew, at, work, latestEnd)) {
      ledger.obstacle = { kind: 'no-hours', step }
      return false
    }
    const start = ledger.found.start
    const end = ledger.found.end
    if (end < leastEnd) {
      const total = work + ledger.found.setUp
      at = Math.max(start + 1, startToEndBy(ledger.compiled, step, sessions, leastEnd, total))
      continue
    }
    const next = clash(ledger, step, start, end, crew, work + ledger.found.setUp)
    if (next < 0) return true
    if (next >= NEVER) return false
    at = next
  }
}

/** The first stretch of the crew's time, from `from` on, in which the work fits without changing anybody's set-up. */
function findFree(ledger: Ledger, step: number, crew: number, from: number, work: number, latestEnd: number): boolean {
  const { crews, interruptible, family, setUpMinutes } = ledger.compiled
  const { makers, sessions } = crews[crew]!
  const { count, from: opens, to: closes } = sessions
  const mayStop = interruptible[step] === 1
  // Dust on wet finish is the commonest clash: seen here, it costs no look at set-ups.
  const isDusty = ledger.compiled.dusty[step] === 1
  const dustIn = isDusty ? ledger.compiled.room[step]! : -1
  const wet = ledger.wet[ledger.compiled.room[step]!]!
  // From here to `at` nothing fits, whatever the step is beyond its length and its dust.
  let fullFrom = from
  let at = ledger.full.past(crew, dustIn, work, from)
  let session = sessionAt(sessions, at)
  for (;;) {
    if (session < count && at < opens[session]!) at = opens[session]!
    if (session >= count || at + work > latestEnd) {
      ledger.full.note(crew, dustIn, work, fullFrom, at)
      return false
    }
    let taken = NEVER
    let takenBy: BusyTimes | null = null
    let takenNext = -1
    let busyUntil = -1
    for (let index = 0; index < makers.length; index++) {
      const busy = ledger.busy[makers[index]!]!
      const next = busy.after(at)
      if (next >= busy.size) continue
      const begins = busy.from[next]!
      if (begins <= at) {
        busyUntil = busy.freeAfter(next, work)
        break
      }
      if (begins < taken) {
        taken = begins
        takenBy = busy
        takenNext = next
      }
    }
    if (busyUntil >= 0) {
      at = ledger.full.past(crew, dustIn, work, busyUntil)
      if (at >= closes[session]!) session = sessionAt(sessions, at)
      continue
    }
    if (isDusty) {
      const dry = wet.firstOver(at, at + 1, 0)
      if (dry >= 0) {
        at = ledger.full.past(crew, dustIn, work, dry)
        if (at >= closes[session]!) session = sessionAt(sessions, at)
        continue
      }
    }
    const setUp = family[step]! >= 0 && !isSetUp(ledger, makers, family[step]!, at) ? setUpMinutes[step]! : 0
    const total = work + setUp
    const open = closes[session]! - at
    if (open < leastOpen(ledger.compiled, step, total)) {
      ledger.full.note(crew, dustIn, work, fullFrom, at)
      // Later in the session the setup may be there already.
      if (setUp > 0 && takenBy !== null && takenBy.to[takenNext]! < closes[session]! && (mayStop || open >= work))
        at = takenBy.to[takenNext]!
      else at = ++session < count ? opens[session]! : NEVER
      fullFrom = at
      continue
    }
    const end = endOfStep(ledger.compiled, step, sessions, session, at, total)
    if (end === NEVER) return false
    const after =
      end > taken && takenBy !== null
        ? takenBy.freeAfter(takenNext, work)
        : family[step]! >= 0
          ? disturbedUntil(ledger, makers, family[step]!, end)
          : -1
    ledger.full.note(crew, dustIn, work, fullFrom, at)
    if (after < 0) {
      ledger.found.start = at
      ledger.found.end = end
      ledger.found.setUp = setUp
      return true
    }
    at = fullFrom = after
    if (at >= closes[session]!) session = sessionAt(sessions, at)
  }
}

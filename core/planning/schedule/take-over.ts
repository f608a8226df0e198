import { TO_DO } from '../problem/compiled.ts'
import { readyAfterLag } from '../rules/waits.ts'
import { leastOpen } from '../rules/stretches.ts'
import { closesAt, mayMiss } from '../rules/windows.ts'
import { clash } from './clash.ts'
import type { Ledger } from './ledger.ts'
import { stepsInTurn, type PlannedTimes } from './planned-times.ts'
import { endOfWork, sessionAt } from './sessions.ts'
import { disturbedUntil, isSetUp } from './set-ups.ts'

/**
 * Takes over the times of a plan for the steps that it knows. False, with nothing taken over, where the plan does not
 * hold here: a step that is not to be done any more, other hours, a constraint that it breaks.
 */
export function resumePlan(ledger: Ledger, plan: PlannedTimes): boolean {
  ledger.reset()
  const isKept =
    stepsInTurn(ledger.compiled, plan).every((step) => takeOver(ledger, step, plan)) && isConsistent(ledger)
  if (!isKept) ledger.reset()
  return isKept
}

/**
 * Puts a block where a plan has it, if that is still free and what leads to it is placed and leaves it in time. False:
 * nothing of it is placed.
 */
export function keep(ledger: Ledger, block: number, plan: PlannedTimes): boolean {
  const { lagsInto, lagFrom, lagRemedy, state } = ledger.compiled
  const steps = ledger.blocks.steps[block]!
  for (const before of ledger.blocks.before[block]!) if (!ledger.isPlaced(before)) return false
  let isKept = true
  let position = 0
  for (; isKept && position < steps.length; position++) {
    const step = steps[position]!
    if (plan.isKnown[step] === 0 || plan.remedy[step]! > 0 || !takeOver(ledger, step, plan)) break
    for (let at = lagsInto.from[step]!; at < lagsInto.from[step + 1]!; at++) {
      const lag = lagsInto.items[at]!
      const from = lagFrom[lag]!
      if (ledger.placed[from] === 0) {
        isKept = false
        continue
      }
      const isMissed = ledger.start[step]! > closesAt(ledger.compiled, lag, ledger.end[from]!)
      if (isMissed && state[from] !== TO_DO && lagRemedy[lag]! <= 0) ledger.missed[lag] = 1
      else if (isMissed || ledger.start[step]! < readyAfterLag(ledger.compiled, lag, ledger.end[from]!)) isKept = false
    }
    isKept &&= closesInTime(ledger, step)
  }
  if (isKept && position === steps.length) return true
  ledger.unbookFrom(steps, 0, steps.length - 1)
  return false
}

/** Whether everything that is held until a placed step fits as long as it is held. */
function closesInTime(ledger: Ledger, step: number): boolean {
  const { holdsClosedBy } = ledger.compiled
  for (let at = holdsClosedBy.from[step]!; at < holdsClosedBy.from[step + 1]!; at++) {
    const hold = holdsClosedBy.items[at]!
    if (ledger.placed[ledger.compiled.holdStep[hold]!] === 1 && ledger.overHeld(hold) >= 0) return false
  }
  return true
}

function takeOver(ledger: Ledger, step: number, plan: PlannedTimes): boolean {
  const { crews, minutes, smallest, family, setUpMinutes, earliest } = ledger.compiled
  const start = plan.start[step]!
  const end = plan.end[step]!
  const crew = plan.crew[step]!
  const total = minutes[step]! + plan.setUp[step]! + plan.remedy[step]!
  if (start < earliest[step]!) return false
  if (total > 0) {
    if (crew < 0) return false
    const { makers, sessions } = crews[crew]!
    const session = sessionAt(sessions, start)
    if (session >= sessions.count || sessions.from[session]! > start) return false
    const open = sessions.to[session]! - start
    if (
      open < leastOpen(ledger.compiled, step, total) ||
      endOfWork(sessions, session, start, total, smallest[step]!) !== end
    )
      return false
    if (family[step]! >= 0) {
      const setUp = isSetUp(ledger, makers, family[step]!, start) ? 0 : setUpMinutes[step]!
      if (setUp !== plan.setUp[step] || disturbedUntil(ledger, makers, family[step]!, end) >= 0) return false
    } else if (plan.setUp[step] !== 0) return false
    for (const maker of makers) {
      const busy = ledger.busy[maker]!
      const next = busy.after(start)
      if (next < busy.size && busy.from[next]! < end) return false
    }
  } else if (start !== end || crew >= 0) return false
  ledger.openClosers(step, -1)
  // A milestone waits for what it holds, but where it was planned first others need not keep clear of an instant.
  const over = clash(ledger, step, start, end, crew, total, total === 0)
  ledger.openClosers(step, 1)
  if (over >= 0) return false
  ledger.found.start = start
  ledger.found.end = end
  ledger.found.setUp = plan.setUp[step]!
  ledger.found.crew = crew
  ledger.markFound(step, plan.remedy[step]!)
  return true
}

/** Whether the lags between placed steps and the holds that placed steps close are kept; notes the windows that are missed. */
function isConsistent(ledger: Ledger): boolean {
  const { lagCount, lagFrom, lagTo, lagRemedy, state, holdTarget, holdStep, family, setUpMinutes, crews } =
    ledger.compiled
  const remedies = new Int32Array(ledger.placed.length)
  for (let lag = 0; lag < lagCount; lag++) {
    const from = lagFrom[lag]!
    const to = lagTo[lag]!
    if (ledger.placed[from] === 0 || ledger.placed[to] === 0 || state[to] !== TO_DO) continue
    if (ledger.start[to]! < readyAfterLag(ledger.compiled, lag, ledger.end[from]!)) return false
    if (ledger.start[to]! <= closesAt(ledger.compiled, lag, ledger.end[from]!)) continue
    if (!mayMiss(ledger, lag)) return false
    ledger.missed[lag] = 1
    remedies[to]! += Math.max(0, lagRemedy[lag]!)
  }
  for (let hold = 0; hold < holdTarget.length; hold++) {
    if (holdTarget[hold]! < 0 || ledger.placed[holdTarget[hold]!] === 0 || ledger.placed[holdStep[hold]!] === 0)
      continue
    if (ledger.overHeld(hold) >= 0) return false
  }
  for (let step = 0; step < ledger.placed.length; step++) {
    if (ledger.placed[step] === 0 || state[step] !== TO_DO) continue
    if (ledger.remedy[step] !== remedies[step]) return false
    const crew = ledger.crew[step]!
    if (crew < 0 || family[step]! < 0) continue
    const expected = isSetUp(ledger, crews[crew]!.makers, family[step]!, ledger.start[step]!) ? 0 : setUpMinutes[step]!
    if (ledger.setUp[step] !== expected) return false
  }
  return true
}

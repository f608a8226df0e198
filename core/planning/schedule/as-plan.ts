import { RUNNING, TO_DO } from '../problem/compiled.ts'
import { doneTimes, measured, type Timetable } from '../rules/measured.ts'
import type { Interval, MissedPin, MissedWindow, Plan, PlannedStep } from '../problem/model.ts'
import { stretchesOfWork } from './sessions.ts'
import { closesAt, isPinMissed } from '../rules/windows.ts'

/** A complete schedule as plain data. */
export function asPlan(times: Timetable, quality: Plan['quality']): Plan {
  const { compiled, start, end } = times
  const { problem } = compiled
  const steps = problem.steps.map((_, step) => plannedStep(times, step))
  const pieces = new Map<string, number>()
  problem.steps.forEach(({ pieceId }, step) => pieces.set(pieceId, Math.max(pieces.get(pieceId) ?? 0, end[step]!)))
  const done = doneTimes(times)
  return {
    steps,
    pieces: [...pieces].map(([id, doneAt]) => ({ id, doneAt })),
    commissions: problem.commissions.map(({ id, promise }, index) => ({
      id,
      doneAt: done[index]!,
      lateMin: promise === null ? 0 : Math.max(0, done[index]! - promise),
    })),
    missedWindows: missedWindows(times),
    missedPins: problem.steps.flatMap(({ id, pinned }, step): MissedPin[] =>
      isPinMissed(compiled, step, start[step]!) && pinned !== undefined
        ? [{ step: id, wanted: pinned, startedAt: start[step]! }]
        : [],
    ),
    objective: measured(times),
    quality,
  }
}

function plannedStep(times: Timetable, step: number): PlannedStep {
  const { compiled, facts } = times
  const { problem, state, crews, minutes } = compiled
  const { id, state: reality } = problem.steps[step]!
  const makerIds = (makers: readonly number[]): string[] => makers.map((maker) => problem.makers[maker]!.id)
  const timed = { id, start: times.start[step]!, end: times.end[step]! }
  if (state[step] !== TO_DO) {
    const running = state[step] === RUNNING ? facts.running.get(step) : undefined
    const doer = reality.kind === 'done' && reality.maker !== undefined ? [reality.maker] : []
    return {
      ...timed,
      stretches: running?.stretches ?? [],
      makers: running === undefined ? doer : makerIds(running.makers),
      setUpMin: 0,
      remedyMin: 0,
    }
  }
  const crew = times.crew[step]!
  const setUpMin = times.setUp[step]!
  const remedyMin = times.remedy[step]!
  if (crew < 0) return { ...timed, stretches: [], makers: [], setUpMin: 0, remedyMin: 0 }
  const bounds: number[] = []
  const total = minutes[step]! + setUpMin + remedyMin
  const written = stretchesOfWork(crews[crew]!.sessions, timed.start, total, compiled.smallest[step]!, bounds)
  const stretches: Interval[] = []
  for (let index = 0; index < written; index += 2) stretches.push({ from: bounds[index]!, to: bounds[index + 1]! })
  return { ...timed, stretches, makers: makerIds(crews[crew]!.makers), setUpMin, remedyMin }
}

function missedWindows({ compiled, missed, start, end }: Timetable): MissedWindow[] {
  const { problem, lagFrom, lagTo } = compiled
  return problem.lags.flatMap(({ from, to, name, maxMin, remedy }, lag): MissedWindow[] =>
    missed[lag] === 1 && maxMin !== null
      ? [
          {
            from,
            to,
            windowName: name,
            closedAt: closesAt(compiled, lag, end[lagFrom[lag]!]!),
            startedAt: start[lagTo[lag]!]!,
            remedy: remedy?.name ?? '',
          },
        ]
      : [],
  )
}

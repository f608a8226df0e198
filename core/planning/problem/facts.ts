import { RUNNING, TO_DO, type Compiled } from './compiled.ts'
import { NEVER } from './instants.ts'
import type { Interval } from './model.ts'
import { commonSessions, endOfWork, sessionAt, stretchesOfWork } from '../schedule/sessions.ts'

/** What has started: fixed before anything is planned. Entries of steps still to do are left at 0. */
export interface Facts {
  readonly start: Int32Array
  readonly end: Int32Array
  /** Running steps: who works on them, and when they still do. */
  readonly running: ReadonlyMap<number, { readonly makers: readonly number[]; readonly stretches: readonly Interval[] }>
  /** Per maker: the family that the last finished step left in the machine, and when; -1 when none is known. */
  readonly lastFamily: Int32Array
  readonly lastFamilyEnd: Int32Array
  /** 1: a step that leads to this one has started. History cannot be refused, so its windows may be missed. */
  readonly led: Uint8Array
}

export function factsOf(compiled: Compiled): Facts {
  const { problem, stepCount, state, family } = compiled
  const start = new Int32Array(stepCount)
  const end = new Int32Array(stepCount)
  const makerCount = problem.makers.length
  const lastFamily = new Int32Array(makerCount).fill(-1)
  const lastFamilyEnd = new Int32Array(makerCount).fill(-1)
  const makerIndex = new Map(problem.makers.map((maker, index) => [maker.id, index]))
  problem.steps.forEach((step, index) => {
    if (step.state.kind !== 'done') return
    start[index] = step.state.startedAt
    end[index] = step.state.endedAt
    const maker = makerCount === 1 ? 0 : makerIndex.get(step.state.maker ?? '')
    if (maker === undefined || family[index]! < 0 || step.state.endedAt < lastFamilyEnd[maker]!) return
    lastFamily[maker] = family[index]!
    lastFamilyEnd[maker] = step.state.endedAt
  })
  const running = runningSteps(compiled, makerIndex)
  for (const [step, work] of running) {
    const { state: inProgress } = problem.steps[step]!
    start[step] = inProgress.kind === 'running' ? inProgress.startedAt : 0
    end[step] = work.end
  }
  return { start, end, running, lastFamily, lastFamilyEnd, led: ledSteps(compiled, (step) => state[step] !== TO_DO) }
}

interface Work {
  readonly makers: readonly number[]
  readonly stretches: readonly Interval[]
  readonly end: number
}

/** A maker with several steps in progress finishes what cannot be interrupted first, then what was begun first. */
function runningSteps(compiled: Compiled, makerIndex: ReadonlyMap<string, number>): Map<number, Work> {
  const { problem, state, interruptible, makerSessions, crews, crewsOf, now } = compiled
  const begun = (step: number): number => {
    const { state: inProgress } = problem.steps[step]!
    return inProgress.kind === 'running' ? inProgress.startedAt : 0
  }
  const inOrder = [...state.keys()]
    .filter((step) => state[step] === RUNNING)
    .sort((a, b) => interruptible[a]! - interruptible[b]! || begun(a) - begun(b) || a - b)
  const freeAt = new Map<number, number>()
  const done = new Map<number, Work>()
  for (const step of inOrder) {
    if (compiled.minutes[step] === 0) {
      done.set(step, { makers: [], stretches: [], end: now })
      continue
    }
    const { state: inProgress } = problem.steps[step]!
    const named =
      inProgress.kind === 'running' && inProgress.maker !== null ? makerIndex.get(inProgress.maker) : undefined
    const able = crewsOf[step]!.map((crew) => crews[crew]!.makers)
    const candidates = named === undefined ? able : able.filter((makers) => makers.includes(named))
    if (candidates.length === 0) candidates.push(named === undefined ? [] : [named])
    let best: Work | null = null
    for (const makers of candidates) {
      const from = Math.max(now, ...makers.map((maker) => freeAt.get(maker) ?? now))
      const sessions = commonSessions(makers.map((maker) => makerSessions[maker]!))
      const work = { makers, ...workOn(sessions, from, compiled.minutes[step]!, interruptible[step] === 1) }
      if (best === null || work.end < best.end) best = work
    }
    if (best === null) continue
    for (const maker of best.makers) freeAt.set(maker, best.end)
    done.set(step, best)
  }
  return done
}

function workOn(
  sessions: ReturnType<typeof commonSessions>,
  from: number,
  minutes: number,
  interruptible: boolean,
): Omit<Work, 'makers'> {
  const session = sessionAt(sessions, from)
  const begin = session < sessions.count ? Math.max(from, sessions.from[session]!) : from
  const straight = { stretches: [{ from: begin, to: begin + minutes }], end: begin + minutes }
  if (!interruptible || session >= sessions.count) return straight
  const end = endOfWork(sessions, session, begin, minutes, 0)
  if (end === NEVER) return straight
  const bounds: number[] = []
  const written = stretchesOfWork(sessions, begin, minutes, 0, bounds)
  const stretches: Interval[] = []
  for (let index = 0; index < written; index += 2) stretches.push({ from: bounds[index]!, to: bounds[index + 1]! })
  return { stretches, end }
}

/** Steps to which a step that has started leads by way of lags. */
function ledSteps(compiled: Compiled, hasStarted: (step: number) => boolean): Uint8Array {
  const { stepCount, lagsOutOf, lagTo } = compiled
  const led = new Uint8Array(stepCount)
  const next: number[] = []
  for (let step = 0; step < stepCount; step++) if (hasStarted(step)) next.push(step)
  for (let step = next.pop(); step !== undefined; step = next.pop()) {
    for (let position = lagsOutOf.from[step]!; position < lagsOutOf.from[step + 1]!; position++) {
      const to = lagTo[lagsOutOf.items[position]!]!
      if (led[to] === 1) continue
      led[to] = 1
      next.push(to)
    }
  }
  return led
}

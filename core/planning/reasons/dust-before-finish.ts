import type { Interval, Plan, PlannedStep, PlanningProblem, PlanStep } from '../problem/model.ts'
import { occupancyOf, type Occupancy } from '../schedule/occupancy.ts'

/** Finish that is tacky for less than this holds up no session. */
const LEAST_TACKY_MIN = 60
/** Dusty work that goes first may take longer by this share, and the coat still goes on before the session is over. Common practice, no source. */
const RESERVE = 0.25

export const keepsDustDown = ({ tackyMin }: PlanStep): boolean => tackyMin >= LEAST_TACKY_MIN

export interface Session {
  /** What the plan has for it, in the order in which it is done; and what it has for later ones, soonest wanted first. */
  readonly now: readonly PlannedStep[]
  readonly later: readonly PlannedStep[]
  readonly hours: Interval
  /** Whether the order of a step has days to spare. */
  readonly hasTime: (step: string) => boolean
}

/**
 * Dusty work of later sessions goes before this session's first coat, because nothing may raise dust once that is on; and with it what the
 * plan has behind the coat. As much as leaves the coat enough of the session, and starts nothing that follows the coat later than the plan
 * has it, unless its order has days to spare. Not a step whose wait has a longest time: it would be done too soon.
 * @returns all of `now` and `later` in the order in which they are done
 */
export function dustBeforeFinish(problem: PlanningProblem, plan: Plan, session: Session): readonly PlannedStep[] {
  const { now, later, hours } = session
  const occupancy = occupancyOf(problem, plan)
  const isCoat = ({ id }: PlannedStep): boolean => keepsDustDown(occupancy.step(id))
  const at = now.findIndex(isCoat)
  const coat = now[at]
  if (coat === undefined) return [...now, ...later]
  const minutesOf = (some: readonly PlannedStep[]): number =>
    some.reduce((sum, step) => sum + minutesIn(step, hours), 0)
  const fromCoat = now.slice(at)
  const coats: PlannedStep[] = []
  for (const step of fromCoat) if (isCoat(step) || follows(occupancy, step.id, coats)) coats.push(step)
  const others = fromCoat.filter((step) => !coats.includes(step))
  const latest = Math.min(
    hours.to - minutesOf(fromCoat),
    ...coats
      .filter(isCoat)
      .map((each) => latestStart(occupancy, each, session) - (each.start - coat.start) - minutesOf(others)),
  )
  const isHere = new Map([...now.slice(0, at), ...others].map(({ id, end }) => [id, Math.min(end, coat.start)]))
  const first = new Set<PlannedStep>()
  let spareMin = latest - coat.start
  for (const planned of later) {
    const step = occupancy.step(planned.id)
    const minutes = (step.minutes + (step.setUp?.minutes ?? 0)) * (1 + RESERVE)
    if (minutes > spareMin || !mayGoFirst(step, planned, coat, occupancy.step(coat.id).room)) continue
    const opensWindow = (occupancy.lagsOutOf.get(step.id) ?? []).some(({ maxMin }) => maxMin !== null)
    if (opensWindow || readyAt(occupancy, step.id, isHere) > coat.start) continue
    first.add(planned)
    isHere.set(step.id, coat.start)
    spareMin -= minutes
  }
  if (first.size === 0) return [...now, ...later]
  return [...now.slice(0, at), ...others, ...first, ...coats, ...later.filter((step) => !first.has(step))]
}

/** Dust of the same hands in the same room, that nothing but its place in the plan keeps for later. */
function mayGoFirst(step: PlanStep, planned: PlannedStep, coat: PlannedStep, room: string): boolean {
  return (
    step.dusty &&
    step.minutes > 0 &&
    step.room === room &&
    step.holds.length === 0 &&
    step.allowed === undefined &&
    step.pinned === undefined &&
    (step.release ?? 0) <= coat.start &&
    planned.makers.every((maker) => coat.makers.includes(maker))
  )
}

const minutesIn = ({ stretches }: PlannedStep, { from, to }: Interval): number =>
  stretches.reduce((sum, each) => sum + Math.max(0, Math.min(each.to, to) - Math.max(each.from, from)), 0)

const follows = ({ lagsInto }: Occupancy, step: string, some: readonly PlannedStep[]): boolean =>
  (lagsInto.get(step) ?? []).some(({ from }) => some.some(({ id }) => id === from))

/** When all that leads to a step is over; Infinity: something is to be done first. @param here ends of steps that are done in this session */
function readyAt(occupancy: Occupancy, step: string, here: ReadonlyMap<string, number>): number {
  const ready = (occupancy.lagsInto.get(step) ?? []).map(({ from, minMin, clock }) => {
    const isDone = occupancy.step(from).state.kind === 'done'
    const end = isDone ? occupancy.at(from).end : here.get(from)
    return end === undefined ? Infinity : occupancy.after(end, minMin, clock)
  })
  return Math.max(0, ...ready)
}

/** The latest start of a coat that misses no window and delays nothing in this session nor, where its order has no time to spare, later. */
function latestStart(occupancy: Occupancy, coat: PlannedStep, { now, hasTime }: Session): number {
  const closes = (occupancy.lagsInto.get(coat.id) ?? []).map((lag) => occupancy.closesAt(lag))
  const needed = (occupancy.lagsOutOf.get(coat.id) ?? []).map(({ to, minMin, clock }) => {
    const next = occupancy.at(to)
    if (hasTime(coat.id) && !now.includes(next)) return Infinity
    return occupancy.lastBegun(next.start, minMin, clock) - (coat.end - coat.start)
  })
  return Math.min(Infinity, ...closes, ...needed)
}

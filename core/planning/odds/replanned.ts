import { blocksOf } from '../schedule/blocks.ts'
import { compile, DONE, TO_DO, type Compiled } from '../problem/compiled.ts'
import { getsThere, type Draws } from './draws.ts'
import { NEVER } from '../problem/instants.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { orderByStart } from '../search/priority.ts'
import { Schedule } from '../schedule/schedule.ts'
import { sessionsWithin, someOf, type Sessions } from '../schedule/sessions.ts'

/**
 * When commissions are done if the shop is scheduled anew in each replication, with what turns out how known, in the order
 * of the plan's starts: a list policy. Of two steps the one that the plan has first still goes first where both can be
 * done; but nobody stands about for one that cannot be, as when everybody kept to the plan's order.
 * @param count replications
 * @returns instants by commission; -1 in a replication in which a step of it finds no place
 */
export function replannedDone(
  problem: PlanningProblem,
  plan: Plan,
  asked: readonly string[],
  count: number,
  draws: Draws,
): ReadonlyMap<string, Int32Array> {
  const compiled = compile(problem)
  const blocks = blocksOf(compiled)
  const commissions = new Map(problem.commissions.map(({ id }, commission) => [id, commission]))
  const targets = asked.map((id) => commissions.get(id)!)
  const order = upTo(orderByStart(compiled, blocks, plan), (block) =>
    blocks.steps[block]!.some((step) => targets.includes(compiled.commission[step]!)),
  )
  const luck = luckOf(compiled, plan, count, draws)
  const done = new Map(asked.map((id) => [id, new Int32Array(count).fill(-1)]))
  for (let run = 0; run < count; run++) {
    const schedule = new Schedule(turnedOut(compiled, luck, draws, run), blocks)
    // Where something finds no place, those before it in the order have theirs.
    schedule.build(order)
    targets.forEach((commission, index) => (done.get(asked[index]!)![run] = doneAt(schedule, commission)))
  }
  return done
}

function upTo(order: readonly number[], isAsked: (block: number) => boolean): readonly number[] {
  return order.slice(0, order.findLastIndex(isAsked) + 1)
}

/** -1 where one of its steps found no place. */
function doneAt({ compiled, placed, end }: Schedule, commission: number): number {
  const { stepsOfCommission } = compiled
  const from = stepsOfCommission.from[commission]!
  const to = stepsOfCommission.from[commission + 1]!
  let done = from === to ? compiled.now : 0
  for (let at = from; at < to; at++) {
    const step = stepsOfCommission.items[at]!
    if (placed[step] === 0) return -1
    done = Math.max(done, end[step]!)
  }
  return done
}

/** What is uncertain, in all replications: minutes of steps, minutes of waits, by position. */
interface Luck {
  readonly minutes: ReadonlyMap<number, Int32Array>
  readonly waits: ReadonlyMap<number, Int32Array>
}

function luckOf({ problem, state, lagTo, indexOfStep }: Compiled, plan: Plan, count: number, draws: Draws): Luck {
  const minutes = new Map<number, Int32Array>()
  for (const { id, makers } of plan.steps) {
    const step = indexOfStep.get(id)
    if (step === undefined || state[step] === DONE || problem.steps[step]!.spread === undefined) continue
    const drawn = new Int32Array(count)
    draws.minutes(problem.steps[step]!, makers[0], drawn)
    minutes.set(step, drawn)
  }
  const waits = new Map<number, Int32Array>()
  problem.lags.forEach((lag, position) => {
    if (state[lagTo[position]!] !== TO_DO || lag.spread === undefined) return
    const drawn = new Int32Array(count)
    if (draws.wait(lag, drawn)) waits.set(position, drawn)
  })
  return { minutes, waits }
}

/** The problem as it turns out in one replication. A window keeps its width: it opens when the wait is over. */
function turnedOut(compiled: Compiled, luck: Luck, draws: Draws, run: number): Compiled {
  const minutes = compiled.minutes.slice()
  for (const [step, drawn] of luck.minutes) minutes[step] = drawn[run]!
  const lagMin = compiled.lagMin.slice()
  const lagMax = compiled.lagMax.slice()
  for (const [lag, drawn] of luck.waits) {
    if (lagMax[lag]! < NEVER) lagMax[lag]! += drawn[run]! - lagMin[lag]!
    lagMin[lag] = drawn[run]!
  }
  const makerSessions = compiled.makerSessions.map((sessions, maker) =>
    attended(sessions, compiled.problem.makers[maker]!.id, compiled.now, draws, run),
  )
  const crews = compiled.crews.map(({ makers, allowed }) => ({
    makers,
    allowed,
    sessions: sessionsWithin(
      makers.map((maker) => makerSessions[maker]!),
      allowed,
    ),
  }))
  return { ...compiled, minutes, lagMin, lagMax, makerSessions, crews }
}

/** To the session that runs now everybody got. */
function attended(sessions: Sessions, maker: string, now: number, draws: Draws, run: number): Sessions {
  const rate = draws.rateOf(maker)
  if (rate >= 1) return sessions
  const luck = draws.luckOfEvenings(maker)
  return someOf(sessions, (session) => {
    const opens = sessions.from[session]!
    return opens <= now || getsThere(luck, rate, opens, run)
  })
}

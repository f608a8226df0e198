import type { Odds } from '../quote/answers.ts'
import { Draws, type Attendance } from './draws.ts'
import { frozenNetwork } from './frozen-network.ts'
import { KeptOrder } from './kept-order.ts'
import type { Plan, PlanningProblem } from '../problem/model.ts'
import { replannedDone } from './replanned.ts'

export interface SimulateOptions {
  /** 1,000 put the date reached 19 times in 20 between the true 93.6 % and 96.4 % dates, with 95 % confidence. */
  readonly replications: number
  /**
   * In how many of the replications the shop is also scheduled anew, as a maker does who takes up something else while one
   * thing dries late; in the others what that gains is estimated from these. Default 0: everybody keeps
   * to the plan's order, whatever happens, which is far too careful in a full book.
   */
  readonly replanned?: number
  /** Default 1. The same seed gives every step the same luck in every plan it is in. */
  readonly seed?: number
  /** Whose dates are asked for; absent: all. */
  readonly commissions?: readonly string[]
  /** How often a maker gets to the shop at all when hours are planned, 0..1; absent: always. */
  readonly attendance?: Attendance
}

/** The dates reached with uncertain minutes, waits and evenings; in the order asked for. */
export function simulate(
  problem: PlanningProblem,
  plan: Plan,
  options: SimulateOptions,
): readonly { readonly commissionId: string; readonly odds: Odds }[] {
  const asked = options.commissions ?? problem.commissions.map(({ id }) => id)
  const count = Math.max(1, Math.floor(options.replications))
  const draws = new Draws(count, options.seed ?? 1, options.attendance ?? [])
  const steps = Map.groupBy(problem.steps.keys(), (position) => problem.steps[position]!.commissionId)
  const targets = asked.flatMap((id) => (steps.get(id) ?? []).map((position) => problem.steps[position]!.id))
  const { nodes } = frozenNetwork(problem, plan, options.commissions === undefined ? undefined : targets)
  const keptOrder = new KeptOrder(problem, plan, nodes, count, draws)
  const missed = new Map(asked.map((id) => [id, 0]))
  for (const node of nodes) {
    const misses = keptOrder.run(node)
    const known = missed.get(node.step.commissionId)
    if (known !== undefined) missed.set(node.step.commissionId, known + misses)
  }
  const replanned = Math.min(count, options.replanned ?? 0)
  const anew = replanned < 1 ? null : replannedDone(problem, plan, asked, replanned, draws)
  return asked.map((commissionId) => {
    const kept = keptOrder.doneTimes(steps.get(commissionId) ?? [])
    const promise = problem.commissions.find(({ id }) => id === commissionId)?.promise ?? null
    const done = anew === null ? kept : withReplanning(kept, anew.get(commissionId)!, problem.now)
    return { commissionId, odds: oddsOf(done, promise, missed.get(commissionId)! / count) }
  })
}

/**
 * How much of what scheduling anew gains a maker gets, who does not know ahead how each step turns out. Measured against
 * replications lived through step by step, each planned anew from what is known by then: bench/odds.ts.
 */
const SHARE_OF_GAIN = 0.5

/**
 * Done when, sooner than by keeping to the order where scheduling anew is sooner. Where it was not scheduled anew: what a
 * straight line through those where it was says of it (a regression on a control variate), and by turns how far one of
 * those lies off that line, so that the spread stays what it is.
 * @param anew of the first replications; -1 where it could not be
 */
function withReplanning(kept: Int32Array, anew: Int32Array, now: number): Int32Array {
  const gained = (run: number): number => (anew[run]! < 0 ? 0 : Math.max(0, kept[run]! - anew[run]!))
  const sooner = Float64Array.from(anew.keys(), (run) => kept[run]! - SHARE_OF_GAIN * gained(run))
  const count = sooner.length
  let meanKept = 0
  let meanSooner = 0
  for (let run = 0; run < count; run++) {
    meanKept += kept[run]! / count
    meanSooner += sooner[run]! / count
  }
  let along = 0
  let spread = 0
  for (let run = 0; run < count; run++) {
    along += (kept[run]! - meanKept) * (sooner[run]! - meanSooner)
    spread += (kept[run]! - meanKept) ** 2
  }
  const slope = spread > 0 ? along / spread : 1
  const line = (run: number): number => meanSooner + slope * (kept[run]! - meanKept)
  return kept.map((latest, run) => {
    if (run < count) return Math.round(sooner[run]!)
    const like = run % count
    return Math.min(latest, Math.max(now, Math.round(line(run) + sooner[like]! - line(like))))
  })
}

function oddsOf(done: Int32Array, promise: number | null, missedWindows: number): Odds {
  const sorted = done.toSorted()
  const reached = (share: number): number => sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!
  return {
    replications: sorted.length,
    reached50: reached(0.5),
    reached80: reached(0.8),
    reached95: reached(0.95),
    keepsPromise: promise === null ? null : sorted.filter((at) => at <= promise).length / sorted.length,
    missedWindows,
  }
}

import { parseArgs } from 'node:util'
import {
  Draws,
  getsThere,
  type Interval,
  type Lag,
  type Plan,
  plan,
  type PlannedStep,
  type PlanningProblem,
  type PlanStep,
  quote,
  simulate,
  withNewWork,
} from '../core/planning/index.ts'
import type { Result } from '../core/problems.ts'
import { generateNewWork, generateOrderBook } from './generate-order-book.ts'

// How far the odds of a date can be trusted. What they are held against knows nothing ahead of time: a maker who does what
// comes first in the plan, learns how long it took, and plans anew after every single step, in as many replications with the
// same luck. One maker, since one step is done at a time.

const MINUTES_A_DAY = 1440
const RATE = 0.9
const SEARCHED = 150
/** After each step: an answer at once, and a little of what the app looks for while nobody waits. */
const SEARCHED_AGAIN = 12

function main(): void {
  const { values } = parseArgs({
    options: {
      commissions: { type: 'string', default: '10' },
      seeds: { type: 'string', default: '1,2,3' },
      replications: { type: 'string', default: '60' },
    },
  })
  const replications = Number(values.replications)
  const table: Record<string, Record<string, string>> = {}
  for (const seed of values.seeds.split(',').map(Number)) {
    const book = ofOneMaker(generateOrderBook(Number(values.commissions), seed))
    const newWork = generateNewWork(seed + 1)
    const current = must(plan(book))
    const offer = must(quote(book, newWork, { current, schedules: SEARCHED })).offers[0]!
    const joined = withNewWork(book, newWork)
    const { id } = newWork.commission
    const attendance = joined.makers.map((maker) => ({ maker: maker.id, rate: RATE }))
    const odds = (replanned: number) =>
      simulate(joined, offer.plan, { replications, replanned, attendance, commissions: [id] })[0]!.odds
    const days = (instants: readonly number[]): string =>
      instants.map((at) => ((at - joined.now) / MINUTES_A_DAY).toFixed(1)).join(' / ')
    const three = (replanned: number): string => {
      const { reached50, reached80, reached95 } = odds(replanned)
      return days([reached50, reached80, reached95])
    }
    const promised = withPromise(joined, id, odds(replications).reached80)
    const draws = new Draws(replications, 1, attendance)
    const lived = Array.from({ length: replications }, (_, run) => live(promised, offer.plan, id, draws, run)).sort(
      (a, b) => a - b,
    )
    const reached = (share: number): number => lived[Math.ceil(share * replications) - 1]!
    table[`book ${seed}`] = {
      planned: days([offer.doneAt]),
      'planned anew after each step': days([reached(0.5), reached(0.8), reached(0.95)]),
      odds: three(replications),
      'odds from 20 schedules': three(20),
      'odds, order kept': three(0),
    }
  }
  console.log('Days until done 1 time in 2 / 4 in 5 / 19 in 20')
  console.table(table)
}

function must<T>(answer: Result<T>): T {
  if (!answer.ok) throw new Error(answer.problems[0]?.message ?? 'refused')
  return answer.value
}

const ofOneMaker = (problem: PlanningProblem): PlanningProblem => ({ ...problem, makers: problem.makers.slice(0, 1) })

const withPromise = (problem: PlanningProblem, id: string, promise: number): PlanningProblem => ({
  ...problem,
  commissions: problem.commissions.map((each) => (each.id === id ? { ...each, promise } : each)),
})

/** When the commission is done in one replication that is lived through step by step. */
function live(joined: PlanningProblem, first: Plan, id: string, draws: Draws, run: number): number {
  const maker = joined.makers[0]!
  const luck = draws.luckOfEvenings(maker.id)
  const isThere = ({ from }: Interval): boolean =>
    from <= joined.now || getsThere(luck, draws.rateOf(maker.id), from, run)
  let shop: PlanningProblem = { ...joined, announced: [] }
  let planned = first
  for (;;) {
    const mine = shop.steps.filter(({ commissionId }) => commissionId === id)
    const ends = mine.map(({ state }) => (state.kind === 'done' ? state.endedAt : Infinity))
    if (ends.every(Number.isFinite)) return Math.max(...ends)
    planned = must(plan(shop, { start: planned, schedules: SEARCHED_AGAIN }))
    const next = firstToDo(shop, planned)
    const step = shop.steps.find((each) => each.id === next.id)!
    const { hours } = shop.makers[0]!
    const session = hours.findIndex(({ from, to }) => from <= next.start && next.start < to)
    if (next.makers.length > 0 && session >= 0 && !isThere(hours[session]!)) {
      // Found out when the session opens, and not before.
      const left = hours.filter((_, index) => index !== session)
      shop = { ...shop, now: Math.max(shop.now, hours[session]!.from), makers: [{ ...maker, hours: left }] }
      continue
    }
    const minutes = drawn((into) => draws.minutes(step, next.makers[0], into), run) + next.setUpMin + next.remedyMin
    const end = next.makers.length === 0 ? next.start : endOf(step, next.start, minutes, hours, session, isThere)
    shop = {
      ...shop,
      now: Math.max(shop.now, end),
      steps: shop.steps.map((each) =>
        each.id === step.id
          ? { ...each, state: { kind: 'done', startedAt: next.start, endedAt: end, maker: maker.id } }
          : each,
      ),
      lags: shop.lags.map((lag) => (lag.from === step.id ? turnedOut(lag, draws, run) : lag)),
    }
  }
}

function firstToDo({ steps }: PlanningProblem, { steps: planned }: Plan): PlannedStep {
  const open = new Set(steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id))
  return planned
    .filter(({ id }) => open.has(id))
    .reduce((a, b) => (b.start < a.start || (b.start === a.start && b.end < a.end) ? b : a))
}

function drawn(draw: (into: Int32Array) => void, run: number): number {
  const into = new Int32Array(run + 1)
  draw(into)
  return into[run]!
}

/** Work that may not be interrupted is finished beyond closing time; the other is gone on with when the maker is next there. */
function endOf(
  { interruptible }: PlanStep,
  start: number,
  minutes: number,
  hours: readonly Interval[],
  session: number,
  isThere: (session: Interval) => boolean,
): number {
  if (!interruptible || session < 0) return start + minutes
  let left = minutes - (hours[session]!.to - start)
  if (left <= 0) return start + minutes
  for (const hour of hours.slice(session + 1)) {
    if (!isThere(hour)) continue
    if (hour.to - hour.from >= left) return hour.from + left
    left -= hour.to - hour.from
  }
  throw new Error('The hours run out.')
}

/** How long a wait takes shows once it runs. */
function turnedOut(lag: Lag, draws: Draws, run: number): Lag {
  const into = new Int32Array(run + 1)
  if (!draws.wait(lag, into)) return lag
  const { spread: _, ...certain } = lag
  return { ...certain, minMin: into[run]!, maxMin: lag.maxMin === null ? null : lag.maxMin + into[run]! - lag.minMin }
}

main()

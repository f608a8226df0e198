import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { PRIOR_MISHAPS, priorAttendance, priorTimes } from '../core/learning/index.ts'
import { improve, type Plan, plan, type PlanningProblem, quote, type QuoteOptions } from '../core/planning/index.ts'
import type { Result } from '../core/problems.ts'
import { effortIn } from '../desk/planner/search-effort.ts'
import { generateNewWork, generateOrderBook } from './generate-order-book.ts'

// How long the planner takes for each question of the desk, on invented order books of several sizes. All times are
// processor time, memory management included. Each book is measured in a process of its own, so that "cold" is cold.

/** As many as the desk asks for. */
const REPLICATIONS = 200
const WARM_UP_MS = 2500
const WARM_RUNS = 9
/** Enough for the search to get going at any size. */
const SEARCHED_STEPS = 600_000

/** Milliseconds: the first time in a new process, and the median once the machine code is there. */
interface Time {
  readonly cold: number
  readonly warm: number
}

interface Row {
  readonly commissions: number
  readonly steps: number
  readonly stepsToDo: number
  readonly firstPlan: Time
  readonly afterOneStep: Time
  readonly quote: Time
  readonly quoteWithOdds: Time
  /** The two as the desk asks for them: looking on for better dates, at rest with odds and with every promise guarded. */
  readonly askedAtOnce: Time
  readonly askedAtRest: Time
  readonly schedulesPerSecond: number
  /** Megabytes kept by the book with its plan; and the most that the process had of the machine. */
  readonly keptMb: number
  readonly mostMb: number
}

const QUESTIONS = ['firstPlan', 'afterOneStep', 'quote', 'quoteWithOdds', 'askedAtOnce', 'askedAtRest'] as const

function main(): void {
  const { values } = parseArgs({
    options: {
      commissions: { type: 'string', default: '20,60,200' },
      seed: { type: 'string', default: '1' },
      out: { type: 'string' },
      /** Measures one book in this process and prints the row. */
      alone: { type: 'boolean', default: false },
    },
  })
  const sizes = values.commissions.split(',').map(Number)
  const seed = Number(values.seed)
  if (!sizes.every((size) => Number.isInteger(size) && size > 0) || !Number.isInteger(seed)) {
    console.error('Use: bench:book -- [--commissions 20,60,200] [--seed 1] [--out file]')
    process.exitCode = 2
    return
  }
  if (values.alone) {
    console.log(JSON.stringify(measure(sizes[0]!, seed)))
    return
  }
  const rows = sizes.map((size) => measureApart(size, seed))
  const growth = Object.fromEntries(
    QUESTIONS.map((question) => [
      question,
      rows.length < 2 ? null : exponent(rows.map((row) => [row.steps, row[question].warm])),
    ]),
  )
  print(rows, growth)
  if (values.out !== undefined) writeFileSync(values.out, `${JSON.stringify({ seed, rows, growth }, null, 2)}\n`)
}

function measureApart(size: number, seed: number): Row {
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    ['--expose-gc', fileURLToPath(import.meta.url), '--alone', '--commissions', String(size), '--seed', String(seed)],
    { encoding: 'utf8' },
  )
  if (status !== 0) throw new Error(`The book of ${size} could not be measured: ${stderr}`)
  return JSON.parse(stdout) as Row
}

function measure(commissions: number, seed: number): Row {
  const before = megabytesKept()
  const book = generateOrderBook(commissions, seed)
  const newWork = generateNewWork(seed + 1)
  const firstPlan = timed(book, (problem) => planned(plan(problem)))
  const current = planned(plan(book))
  const logged = withOneStepLogged(book, current)
  const afterOneStep = timed(logged, (problem) => planned(plan(problem, { start: current })))
  const asked = (problem: PlanningProblem, options: QuoteOptions): void => {
    const answer = quote(problem, newWork, { current, ...options })
    if (!answer.ok || answer.value.offers.length === 0) throw new Error('No date was offered.')
  }
  const odds = { forecast: forecastFor(book), replications: REPLICATIONS }
  const row = {
    commissions,
    steps: book.steps.length,
    stepsToDo: book.steps.filter(({ state }) => state.kind === 'to-do').length,
    firstPlan,
    afterOneStep,
    quote: timed(book, (problem) => asked(problem, {})),
    quoteWithOdds: timed(book, (problem) => asked(problem, { odds })),
    askedAtOnce: timed(book, (problem) => asked(problem, effortIn(problem, newWork, false))),
    askedAtRest: timed(book, (problem) => asked(problem, { ...effortIn(problem, newWork, true), odds })),
    schedulesPerSecond: schedulesPerSecond(book, current, seed),
  }
  const keptMb = round(megabytesKept() - before)
  return { ...row, keptMb, mostMb: round(process.resourceUsage().maxRSS / 1024) }
}

/** Nothing logged yet, and nine evenings in ten met. */
const forecastFor = ({ makers }: PlanningProblem) => ({
  times: priorTimes(
    makers.map(({ id }) => id),
    [],
  ),
  attendance: priorAttendance(makers.map(({ id }) => ({ id, attendance: 0.9 }))),
  mishaps: PRIOR_MISHAPS,
  ordersPerWeek: 2,
  lessSure: 0,
})

function planned(answer: Result<Plan>): Plan {
  if (!answer.ok) throw new Error(answer.problems[0]?.message ?? 'refused')
  return answer.value
}

/** The book after its maker has done what the plan says comes first. */
function withOneStepLogged(book: PlanningProblem, current: Plan): PlanningProblem {
  const toDo = new Set(book.steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id))
  const next = current.steps.filter(({ id }) => toDo.has(id)).reduce((a, b) => (b.start < a.start ? b : a))
  const state = { kind: 'done', startedAt: next.start, endedAt: next.end, maker: next.makers[0]! } as const
  return {
    ...book,
    now: next.end,
    steps: book.steps.map((step) => (step.id === next.id ? { ...step, state } : step)),
  }
}

/** Each time with a copy of the problem, as the planner's thread is handed one: nothing is known of it from the last time. */
function timed(problem: PlanningProblem, work: (problem: PlanningProblem) => void): Time {
  const once = (): number => {
    const copy = structuredClone(problem)
    return millisecondsOf(() => work(copy))
  }
  const cold = once()
  for (let spent = cold; spent < WARM_UP_MS;) spent += once()
  const warm = Array.from({ length: WARM_RUNS }, once).sort((a, b) => a - b)
  return { cold: round(cold), warm: round(warm[WARM_RUNS >> 1]!) }
}

function millisecondsOf(work: () => void): number {
  const began = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(began)
  return (user + system) / 1000
}

function schedulesPerSecond(book: PlanningProblem, start: Plan, seed: number): number {
  const schedules = Math.ceil(SEARCHED_STEPS / book.steps.length)
  let made = 0
  const spent = millisecondsOf(() => {
    for (const progress of improve(book, { schedules, seed, start })) made = progress.schedules
  })
  return round((1000 * made) / spent)
}

function megabytesKept(): number {
  globalThis.gc?.()
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return (heapUsed + arrayBuffers) / 2 ** 20
}

const round = (value: number): number => Math.round(value * 10) / 10

/** The power of the number of steps with which a time grows: the slope of a least-squares line through the logarithms. */
function exponent(points: readonly (readonly [number, number])[]): number {
  const logs = points.map(([steps, time]) => [Math.log(steps), Math.log(time)] as const)
  const mean = (axis: 0 | 1): number => logs.reduce((sum, point) => sum + point[axis], 0) / logs.length
  const [x, y] = [mean(0), mean(1)]
  const slope =
    logs.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0) /
    logs.reduce((sum, point) => sum + (point[0] - x) ** 2, 0)
  return Math.round(slope * 100) / 100
}

function print(rows: readonly Row[], growth: Readonly<Record<string, number | null>>): void {
  const table: Record<string, Record<string, string | number | null>> = {}
  const line = (name: string, cell: (row: Row) => string | number): Record<string, string | number | null> =>
    (table[name] = Object.fromEntries(rows.map((row) => [`${row.commissions} commissions`, cell(row)])))
  line('steps', ({ steps }) => steps)
  line('steps to do', ({ stepsToDo }) => stepsToDo)
  const names = {
    firstPlan: 'first plan, ms',
    afterOneStep: 'after one logged step, ms',
    quote: 'quote without odds, ms',
    quoteWithOdds: `quote with odds of ${REPLICATIONS}, ms`,
    askedAtOnce: 'quote while typing, ms',
    askedAtRest: 'quote at rest, ms',
  }
  for (const question of QUESTIONS) {
    const times = line(names[question], (row) => `${row[question].warm} (cold ${row[question].cold})`)
    times['grows with steps to the power of'] = growth[question] ?? null
  }
  line('schedules per second', (row) => row.schedulesPerSecond)
  line('kept, MB', (row) => row.keptMb)
  line('most of the machine, MB', (row) => row.mostMb)
  console.table(table)
}

main()

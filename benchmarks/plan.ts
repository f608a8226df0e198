import { readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import type { Plan, PlanningProblem } from '../core/planning/index.ts'
import { jobShopAsShop, laggedProjectAsShop, oneMachineAsShop, projectAsShop, startsOf } from './as-shop.ts'
import { checkJobShop, checkLaggedProject, checkOneMachine, checkProject, type Verdict } from './check-answer.ts'
import { readJobShop, type JobShop } from './formats/job-shop.ts'
import { readProgenMax } from './formats/progen-max.ts'
import { readPsplib } from './formats/psplib.ts'
import { readWeightedTardiness } from './formats/weighted-tardiness.ts'
import { instancesIn, type Instance } from './known-values.ts'
import { planInBudget, type Budget } from './plan-in-budget.ts'
import { processorTime } from './processor-time.ts'
import { planTinyShop, tinySummary } from './tiny-shops.ts'

type Starts = readonly number[] | readonly (readonly number[])[]

interface Row {
  readonly instance: string
  readonly value: number | null
  readonly known: number | null
  readonly seconds: number
  readonly schedules: number
  readonly starts: Starts | null
  readonly status: 'optimal' | 'found' | 'refused'
  readonly knownStatus: string | null
  readonly criticalPath: number | null
}

interface BenchmarkSet {
  readonly ending: RegExp
  readonly problemOf: (text: string) => PlanningProblem
  readonly startsOf: (text: string, plan: Plan) => Starts
  readonly check: (text: string, starts: Starts) => Verdict
  readonly summary: (rows: readonly Row[]) => string
}

const SETS: Readonly<Record<string, BenchmarkSet>> = {
  rcpsp: {
    ending: /\.sm$/,
    problemOf: (text) => projectAsShop(readPsplib(text)),
    startsOf: (text, plan) => startsOf(plan, readPsplib(text).durations.length),
    check: (text, starts) => checkProject(text, starts as readonly number[]),
    summary: (rows) => `${meanGap(rows)}; ${aboveCriticalPath(rows)}; ${atKnown(rows)}; ${proved(rows)}`,
  },
  rcpspmax: {
    ending: /\.sch$/,
    problemOf: (text) => laggedProjectAsShop(readProgenMax(text)),
    startsOf: (text, plan) => startsOf(plan, readProgenMax(text).durations.length),
    check: (text, starts) => checkLaggedProject(text, starts as readonly number[]),
    summary: (rows) => {
      const feasible = rows.filter((row) => row.known !== null)
      const infeasible = rows.filter((row) => row.knownStatus === 'infeasible')
      const refused = infeasible.filter((row) => row.status === 'refused').length
      const solved = feasible.filter((row) => row.value !== null).length
      const wrong = infeasible.filter((row) => row.value !== null).length
      return `feasible solved ${solved}/${feasible.length}; infeasible refused ${refused}/${infeasible.length}; infeasible solved ${wrong}; ${meanGap(feasible)}; ${atKnown(feasible)}; ${proved(feasible)}`
    },
  },
  wt: {
    ending: /\.txt$/,
    problemOf: (text) => oneMachineAsShop(readWeightedTardiness(text)),
    startsOf: (text, plan) => startsOf(plan, readWeightedTardiness(text).durations.length),
    check: (text, starts) => checkOneMachine(text, starts as readonly number[]),
    summary: (rows) => {
      const compared = rows.filter((row) => row.value !== null && row.known !== null)
      const sum = compared.reduce((total, row) => total + row.value!, 0)
      const least = compared.reduce((total, row) => total + row.known!, 0)
      return `sum above known ${least === 0 ? '-' : percent(sum / least - 1)}; ${atKnown(rows)}`
    },
  },
  jobshop: {
    ending: /\.txt$/,
    problemOf: (text) => jobShopAsShop(readJobShop(text)),
    startsOf: (text, plan) => byJob(readJobShop(text), plan),
    check: (text, starts) => checkJobShop(text, starts as readonly (readonly number[])[]),
    summary: (rows) => `${meanGap(rows)}; ${atKnown(rows)}; ${proved(rows)}`,
  },
}

function byJob({ jobs }: JobShop, plan: Plan): number[][] {
  const starts = startsOf(plan, plan.steps.length)
  let first = 0
  return jobs.map(({ length }) => starts.slice(first, (first += length)))
}

function main(): void {
  const { values } = parseArgs({
    options: {
      set: { type: 'string' },
      dir: { type: 'string' },
      schedules: { type: 'string' },
      seconds: { type: 'string' },
      processor: { type: 'boolean', default: false },
      seed: { type: 'string', default: '1' },
      every: { type: 'string', default: '1' },
      out: { type: 'string' },
    },
  })
  const { set: name = '', dir, schedules, seconds } = values
  const set = SETS[name]
  const amounts = [schedules ?? seconds, values.every].map(Number)
  const oneBudget = (schedules === undefined) !== (seconds === undefined)
  if (
    (set === undefined && name !== TINY) ||
    dir === undefined ||
    !oneBudget ||
    !amounts.every((amount) => amount > 0)
  ) {
    const sets = [...Object.keys(SETS), TINY].join('|')
    console.error(
      `Use: bench:plan -- --set <${sets}> --dir <folder> --schedules <n> | --seconds <s> [--seed k] [--every n] [--processor] [--out result.json]`,
    )
    process.exitCode = 2
    return
  }
  const instances = instancesIn(resolve(dir), set?.ending ?? /\.json$/).filter(
    (_, index) => index % Number(values.every) === 0,
  )
  const clock = values.processor ? processorTime : () => performance.now()
  const write = (rows: readonly object[]): void => {
    if (values.out !== undefined)
      writeFileSync(values.out, `[\n${rows.map((row) => JSON.stringify(row)).join(',\n')}\n]\n`)
  }
  if (set === undefined) {
    const shops = instances.filter(({ name: file }) => !file.startsWith('example-solution'))
    const rows = shops.map((instance) => planTinyShop(instance, clock))
    write(rows)
    console.log(`${name}: ${tinySummary(rows)}`)
    return
  }
  const rows = instances.map((instance) => {
    const budget = seconds === undefined ? { schedules: Number(schedules) } : { seconds: Number(seconds) }
    return solveOne(set, instance, budget, Number(values.seed), clock)
  })
  write(rows)
  for (const [part, partRows] of subfolders(rows)) console.log(`${name} ${part}: ${line(set, partRows)}`)
  console.log(`${name}: ${line(set, rows)}`)
}

/** Has an answer to each of two aims, so its rows are of another shape. */
const TINY = 'tiny'

function solveOne(set: BenchmarkSet, instance: Instance, budget: Budget, seed: number, clock: () => number): Row {
  const started = clock()
  const text = readFileSync(instance.file, 'utf8')
  const { plan, schedules } = planInBudget(set.problemOf(text), budget, seed, clock)
  const seconds = (clock() - started) / 1000
  const starts = plan === null ? null : set.startsOf(text, plan)
  const verdict = starts === null ? null : set.check(text, starts)
  if (verdict !== null && !verdict.fine)
    throw new Error(`${instance.name}: the answer is not a schedule, ${verdict.fault}.`)
  return {
    instance: instance.name,
    value: verdict?.value ?? null,
    known: instance.known?.value ?? null,
    seconds: Math.round(seconds * 1000) / 1000,
    schedules: Math.round(schedules),
    starts,
    status: plan === null ? 'refused' : plan.quality === 'optimal' ? 'optimal' : 'found',
    knownStatus: instance.known?.status ?? null,
    criticalPath: instance.known?.criticalPath ?? null,
  }
}

function subfolders(rows: readonly Row[]): Map<string, Row[]> {
  const parts = new Map<string, Row[]>()
  for (const row of rows) {
    if (!row.instance.includes('/')) continue
    const name = row.instance.slice(0, row.instance.lastIndexOf('/'))
    parts.set(name, [...(parts.get(name) ?? []), row])
  }
  return parts
}

function line(set: BenchmarkSet, rows: readonly Row[]): string {
  const seconds = rows.reduce((sum, row) => sum + row.seconds, 0)
  const schedules = rows.reduce((sum, row) => sum + row.schedules, 0)
  return `${rows.length} instances; ${set.summary(rows)}; ${seconds.toFixed(1)} s, longest ${Math.max(0, ...rows.map((row) => row.seconds)).toFixed(2)} s; ${Math.round(schedules / Math.max(seconds, 0.001))} schedules/s`
}

const percent = (ratio: number): string => `${(100 * ratio).toFixed(3)} %`

const mean = (values: readonly number[]): string =>
  values.length === 0 ? '-' : percent(values.reduce((sum, value) => sum + value, 0) / values.length)

const meanGap = (rows: readonly Row[]): string =>
  `mean gap to known ${mean(rows.filter((row) => row.value !== null && row.known !== null && row.known > 0).map((row) => row.value! / row.known! - 1))}`

const aboveCriticalPath = (rows: readonly Row[]): string =>
  `above critical path ${mean(rows.filter((row) => row.value !== null && row.criticalPath !== null && row.criticalPath > 0).map((row) => row.value! / row.criticalPath! - 1))}`

const atKnown = (rows: readonly Row[]): string => {
  const compared = rows.filter((row) => row.known !== null)
  return `at or below known ${compared.filter((row) => row.value !== null && row.value <= row.known!).length}/${compared.length}`
}

const proved = (rows: readonly Row[]): string =>
  `proved ${rows.filter((row) => row.status === 'optimal').length}/${rows.length}`

main()

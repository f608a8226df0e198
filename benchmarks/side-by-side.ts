import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { Worker } from 'node:worker_threads'
import { projectAsShop, startsOf } from './as-shop.ts'
import { checkProject } from './check-answer.ts'
import { readPsplib, type Project } from './formats/psplib.ts'
import { instancesIn, type Instance } from './known-values.ts'
import { planInBudget } from './plan-in-budget.ts'
import { processorTime } from './processor-time.ts'

/**
 * Our search beside a reference solver (MiniZinc's own build for WebAssembly with Chuffed, lazy clause generation, free search)
 * on the same instances in the same run, one after the other. Both are held to processor time, so that what else the machine does
 * favours neither; that of the solver begins when it is loaded and gets the model.
 */
const LIMITS = [1, 5, 20]

const MODEL = `
include "cumulative.mzn";
int: n; int: m; int: horizon;
set of int: J = 1..n; set of int: R = 1..m;
array[J] of int: d; array[R, J] of int: need; array[R] of int: cap; array[J] of set of int: succ;
array[J] of var 0..horizon: s; var 0..horizon: end;
constraint forall(i in J, k in succ[i])(s[i] + d[i] <= s[k]);
constraint forall(r in R)(cumulative(s, d, [need[r, i] | i in J], cap[r]));
constraint forall(i in J)(s[i] + d[i] <= end);
solve :: int_search(s ++ [end], smallest, indomain_min) minimize end;
`

interface Reached {
  /** Best makespan after each of the limits; null when there was none yet. */
  readonly values: readonly (number | null)[]
  /** Proved best within the last limit. */
  readonly proved: boolean
}

async function main(): Promise<void> {
  const { values } = parseArgs({ options: { dir: { type: 'string' }, count: { type: 'string', default: '4' } } })
  if (values.dir === undefined) {
    console.error('Use: bench:side-by-side -- --dir <folder with rcpsp-j30, rcpsp-j60, rcpsp-j120> [--count n]')
    process.exitCode = 2
    return
  }
  console.log(
    `set | instances | ${LIMITS.map((limit) => `ours ${limit} s | Chuffed ${limit} s`).join(' | ')} | proved ours | proved Chuffed`,
  )
  for (const set of ['rcpsp-j30', 'rcpsp-j60', 'rcpsp-j120']) {
    const chosen = spread(instancesIn(resolve(values.dir, set), /\.sm$/), Number(values.count))
    const ours: Reached[] = []
    const theirs: Reached[] = []
    for (const instance of chosen) {
      const text = readFileSync(instance.file, 'utf8')
      ours.push(searchOurs(text))
      theirs.push(await searchReference(readPsplib(text)))
    }
    const cells = LIMITS.map((_, limit) => `${gap(chosen, ours, limit)} | ${gap(chosen, theirs, limit)}`)
    const proofs = [ours, theirs].map((side) => side.filter(({ proved }) => proved).length)
    console.log(`${set} | ${chosen.length} | ${cells.join(' | ')} | ${proofs.join(' | ')}`)
  }
}

function searchOurs(text: string): Reached {
  const project = readPsplib(text)
  const values: (number | null)[] = []
  let proved = false
  for (const seconds of LIMITS) {
    const { plan } = planInBudget(projectAsShop(project), { seconds }, 1, processorTime)
    if (plan === null) throw new Error('A project without windows was refused.')
    const verdict = checkProject(text, startsOf(plan, project.durations.length))
    if (!verdict.fine) throw new Error(`Not a schedule: ${verdict.fault}`)
    values.push(verdict.value)
    proved = plan.quality === 'optimal'
  }
  return { values, proved }
}

async function searchReference(project: Project): Promise<Reached> {
  const worker = new Worker(new URL('reference-solver-worker.ts', import.meta.url))
  const longest = Math.max(...LIMITS)
  const improvements: { readonly seconds: number; readonly makespan: number }[] = []
  let proved = false
  let started = Number.NaN
  let timer: NodeJS.Timeout | undefined
  await new Promise<void>((resolve, reject) => {
    const spent = (): number => (processorTime() - started) / 1000
    const stopWhenSpent = (): void => {
      if (spent() > longest) resolve()
    }
    timer = setInterval(stopWhenSpent, 50)
    worker.on('error', reject)
    worker.on('message', (message: SolverMessage) => {
      const seconds = spent()
      switch (message.type) {
        case 'ready':
          started = processorTime()
          worker.postMessage({
            jsonStream: true,
            files: { 'project.mzn': MODEL, 'project.dzn': asData(project) },
            args: ARGUMENTS,
          })
          break
        case 'solution':
          improvements.push({ seconds, makespan: message.output.json.end })
          break
        case 'status':
          proved = message.status === 'OPTIMAL_SOLUTION' && seconds <= longest
          break
        case 'error':
          reject(new Error(message.message))
          break
        case 'exit':
          resolve()
          break
        default:
      }
    })
  })
  clearInterval(timer)
  await worker.terminate()
  const values = LIMITS.map((limit) => {
    const inTime = improvements.filter(({ seconds }) => seconds <= limit)
    return inTime.length === 0 ? null : Math.min(...inTime.map(({ makespan }) => makespan))
  })
  return { values, proved }
}

const ARGUMENTS = [
  '-i',
  '--output-mode',
  'json',
  '--solver',
  'org.minizinc.chuffed',
  '-f',
  'project.mzn',
  'project.dzn',
]

type SolverMessage =
  | { readonly type: 'ready' | 'exit' | 'statistics' | 'stderr' | 'stdout' | 'checker' }
  | { readonly type: 'solution'; readonly output: { readonly json: { readonly end: number } } }
  | { readonly type: 'status'; readonly status: string }
  | { readonly type: 'error'; readonly message: string }

function asData({ durations, needs, capacities, successors }: Project): string {
  const list = (values: readonly (number | string)[]): string => `[${values.join(',')}]`
  const rows = capacities.map((_, resource) => needs.map((need) => need[resource]!).join(','))
  return [
    `n=${durations.length}; m=${capacities.length}; horizon=${durations.reduce((sum, duration) => sum + duration, 0)};`,
    `d=${list(durations)}; need=[|${rows.join('|')}|]; cap=${list(capacities)};`,
    `succ=${list(successors.map((after) => `{${after.map((activity) => activity + 1).join(',')}}`))};`,
  ].join('\n')
}

/** Mean gap to the best known value over those that have a schedule, and how many have none. */
function gap(instances: readonly Instance[], side: readonly Reached[], limit: number): string {
  const gaps = side.flatMap(({ values }, index) => {
    const known = instances[index]!.known?.value
    const value = values[limit]
    return known == null || value == null ? [] : [value / known - 1]
  })
  const without = side.length - gaps.length
  const mean =
    gaps.length === 0 ? '-' : `${((100 * gaps.reduce((sum, value) => sum + value, 0)) / gaps.length).toFixed(2)} %`
  return without === 0 ? mean : `${mean} (${without} without)`
}

/** So many, evenly spread. */
function spread<T>(all: readonly T[], count: number): T[] {
  return Array.from(
    { length: Math.min(count, all.length) },
    (_, index) => all[Math.floor(((index + 0.5) * all.length) / count)]!,
  )
}

await main()

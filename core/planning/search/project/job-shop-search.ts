import { jobShopLowerBound, type JobShop } from './job-shop.ts'
import { JobShopGraph, type MachineMove } from './job-shop-graph.ts'
import { randomStream, type RandomStream } from './seeded-random.ts'
import type { SearchBudget } from './search-budget.ts'

export interface JobShopResult {
  /** starts[job][operation] */
  readonly starts: readonly (readonly number[])[]
  readonly makespan: number
  readonly lowerBound: number
  readonly schedules: number
}

/**
 * Short makespan of a job shop by tabu search on the critical path (operations move to the ends of their critical
 * blocks, or first and last ones into them), restarted from points between good schedules (path relinking) and from good
 * schedules with a few orders turned round.
 * Ends early when the lower bound is reached.
 * @source neighbourhood: E. Balas, A. Vazacopoulos, Management Science 44 (1998) 262-275, and C. Zhang et al., Computers & OR 34
 * (2007) 3229-3242; relinking: B. Peng, Z. Lu, T. C. E. Cheng, Computers & OR 53 (2015) 154-164
 */
export function shortJobShop(shop: JobShop, budget: SearchBudget, seed: number): JobShopResult {
  const graph = new JobShopGraph(shop)
  const random = randomStream(seed)
  const lowerBound = jobShopLowerBound(shop)
  const tabu = new TabuSearch(shop, graph, random, budget, lowerBound)
  const elite: Elite[] = []
  const scratch = new Int32Array(graph.count)
  while (!tabu.ended && elite.length < ELITE) {
    graph.sequenceBy(dispatchedList(shop, random))
    const makespan = tabu.run()
    elite.push({ makespan, list: tabu.runBest.slice() })
  }
  while (!tabu.ended) {
    const first = random.below(elite.length)
    const second = (first + 1 + random.below(elite.length - 1)) % elite.length
    if (random.fraction() < RELINKED_SHARE) {
      relinkedList(graph, elite[first]!.list, elite[second]!.list, random, scratch)
      graph.sequenceBy(scratch)
    } else {
      graph.sequenceBy(elite[first]!.list)
      kick(graph, random)
    }
    const makespan = tabu.run()
    let worst = 0
    for (let index = 1; index < elite.length; index++)
      if (elite[index]!.makespan > elite[worst]!.makespan) worst = index
    const twin = elite.some((other) => other.makespan === makespan && sameSequences(graph, other.list, tabu.runBest))
    if (!twin && makespan <= elite[worst]!.makespan) elite[worst] = { makespan, list: tabu.runBest.slice() }
  }
  graph.sequenceBy(tabu.best)
  let operation = 0
  const starts = shop.jobs.map((job) => job.map(() => graph.heads[operation++]!))
  return { starts, makespan: graph.makespan, lowerBound, schedules: graph.timings }
}

interface Elite {
  readonly makespan: number
  readonly list: Int32Array
}

class TabuSearch {
  readonly best: Int32Array
  readonly runBest: Int32Array
  private bestMakespan = Number.POSITIVE_INFINITY
  private readonly graph: JobShopGraph
  private readonly random: RandomStream
  private readonly budget: SearchBudget
  private readonly lowerBound: number
  private readonly jobs: number
  private readonly tenure: number
  /** Until which step the order (machine, earlier job, later job) may not come back. */
  private readonly barredUntil: Int32Array
  private step = 0
  private stopped = false
  private readonly path: Int32Array

  constructor(shop: JobShop, graph: JobShopGraph, random: RandomStream, budget: SearchBudget, lowerBound: number) {
    this.graph = graph
    this.random = random
    this.budget = budget
    this.lowerBound = lowerBound
    this.jobs = shop.jobs.length
    this.tenure = 10 + this.jobs / shop.machines
    this.barredUntil = new Int32Array(shop.machines * this.jobs * this.jobs)
    this.best = new Int32Array(graph.count)
    this.runBest = new Int32Array(graph.count)
    this.path = new Int32Array(graph.count)
  }

  get ended(): boolean {
    return this.stopped
  }

  /** From the graph as it stands until so many steps brought nothing better. @returns the best makespan of the run, its list in `runBest` */
  run(): number {
    const { graph, budget } = this
    let runMakespan = graph.makespan
    graph.copyOrder(this.runBest)
    this.noteBest()
    this.barredUntil.fill(0)
    for (let idle = 0; idle < RUN_PATIENCE && !this.stopped; idle++) {
      const move = this.chooseMove()
      if (move === null) break
      this.bar(move)
      graph.apply(move)
      this.step += 1
      if (graph.makespan < runMakespan) {
        runMakespan = graph.makespan
        graph.copyOrder(this.runBest)
        this.noteBest()
        idle = 0
      }
      if (graph.timings >= budget.schedules || (this.step % 64 === 0 && budget.goOn?.() === false)) this.stopped = true
    }
    if (graph.timings >= budget.schedules || budget.goOn?.() === false) this.stopped = true
    return runMakespan
  }

  private noteBest(): void {
    if (this.graph.makespan >= this.bestMakespan) return
    this.bestMakespan = this.graph.makespan
    this.graph.copyOrder(this.best)
    if (this.bestMakespan <= this.lowerBound) this.stopped = true
  }

  private chooseMove(): MachineMove | null {
    const length = this.criticalPath()
    const { graph, path } = this
    let chosen: MachineMove | null = null
    let chosenValue = Number.POSITIVE_INFINITY
    let ties = 0
    let fallback: MachineMove | null = null
    let seen = 0
    const consider = (operation: number, target: number, after: boolean): void => {
      const move = { operation, target, after }
      if (!graph.safe(move)) return
      const value = graph.estimate(move)
      seen += 1
      if (this.random.below(seen) === 0) fallback = move
      if (value > chosenValue || (value >= this.bestMakespan && this.barred(move))) return
      if (value === chosenValue) {
        ties += 1
        if (this.random.below(ties) !== 0) return
      } else {
        ties = 1
      }
      chosen = move
      chosenValue = value
    }
    for (let start = 0; start < length;) {
      let end = start
      while (end + 1 < length && graph.machineOf[path[end + 1]!] === graph.machineOf[path[start]!]) end += 1
      if (end > start) {
        const first = path[start]!
        const last = path[end]!
        for (let inner = start; inner < end; inner++) consider(path[inner]!, last, true)
        if (end > start + 1) {
          for (let inner = start + 1; inner <= end; inner++) consider(path[inner]!, first, false)
          for (let inner = start + 1; inner < end; inner++) {
            consider(first, path[inner]!, true)
            consider(last, path[inner]!, false)
          }
        }
      }
      start = end + 1
    }
    return chosen ?? fallback
  }

  /** One longest path, chosen at random where it forks. */
  private criticalPath(): number {
    const { graph, path, random } = this
    let at = -1
    let choices = 0
    for (let operation = 0; operation < graph.count; operation++) {
      if (graph.heads[operation] === 0 && graph.durations[operation]! + graph.tails[operation]! === graph.makespan) {
        choices += 1
        if (random.below(choices) === 0) at = operation
      }
    }
    let length = 0
    while (at >= 0) {
      path[length++] = at
      const finish = graph.heads[at]! + graph.durations[at]!
      const inJob = graph.jobAfter[at]!
      const onMachine = graph.machineAfter[at]!
      const critical = (next: number): boolean =>
        next >= 0 &&
        graph.heads[next] === finish &&
        finish + graph.durations[next]! + graph.tails[next]! === graph.makespan
      const viaJob = critical(inJob)
      const viaMachine = critical(onMachine)
      if (viaJob && viaMachine) at = random.below(2) === 0 ? inJob : onMachine
      else at = viaJob ? inJob : viaMachine ? onMachine : -1
    }
    return length
  }

  /** Would the move bring back an order that was given up a short while ago? */
  private barred({ operation, target, after }: MachineMove): boolean {
    const { graph, barredUntil, step } = this
    const base = graph.machineOf[operation]! * this.jobs * this.jobs
    const own = graph.jobOf[operation]!
    const next = after ? graph.machineAfter : graph.machineBefore
    for (let at = next[operation]!; ; at = next[at]!) {
      const other = graph.jobOf[at]!
      if (barredUntil[base + (after ? other * this.jobs + own : own * this.jobs + other)]! > step) return true
      if (at === target) return false
    }
  }

  private bar({ operation, target, after }: MachineMove): void {
    const { graph, barredUntil } = this
    const base = graph.machineOf[operation]! * this.jobs * this.jobs
    const own = graph.jobOf[operation]!
    const until = this.step + 1 + Math.floor(this.tenure * (1 + TENURE_SPREAD * this.random.fraction()))
    const next = after ? graph.machineAfter : graph.machineBefore
    for (let at = next[operation]!; ; at = next[at]!) {
      const other = graph.jobOf[at]!
      barredUntil[base + (after ? own * this.jobs + other : other * this.jobs + own)] = until
      if (at === target) return
    }
  }
}

/** Jobs go on in a random order that favours those with most work left. */
function dispatchedList(shop: JobShop, random: RandomStream): Int32Array {
  const firstOf: number[] = []
  let count = 0
  for (const job of shop.jobs) {
    firstOf.push(count)
    count += job.length
  }
  const list = new Int32Array(count)
  const next = shop.jobs.map(() => 0)
  const left = shop.jobs.map((job) => job.reduce((sum, { duration }) => sum + duration, 0))
  for (let place = 0; place < count; place++) {
    let chosen = -1
    let highest = -1
    shop.jobs.forEach((job, index) => {
      if (next[index]! >= job.length) return
      const urgency = left[index]! * (1 + random.fraction())
      if (urgency > highest) {
        highest = urgency
        chosen = index
      }
    })
    list[place] = firstOf[chosen]! + next[chosen]!
    left[chosen]! -= shop.jobs[chosen]![next[chosen]!]!.duration
    next[chosen]! += 1
  }
  return list
}

/**
 * A list somewhere between two: positions in both are mixed with a random share, and sorted. A mixture of two orders in
 * which a precedes b has a before b again, so that every job keeps its chain.
 */
function relinkedList(
  graph: JobShopGraph,
  from: Int32Array,
  to: Int32Array,
  random: RandomStream,
  into: Int32Array,
): void {
  const share = 0.3 + 0.4 * random.fraction()
  const mixed = new Float64Array(graph.count)
  for (let place = 0; place < graph.count; place++) {
    mixed[from[place]!]! += (1 - share) * place
    mixed[to[place]!]! += share * place
  }
  into.set(Array.from(mixed.keys()).sort((a, b) => mixed[a]! - mixed[b]! || a - b))
}

function kick(graph: JobShopGraph, random: RandomStream): void {
  for (let turn = 0; turn < KICKS; turn++) {
    const operation = random.below(graph.count)
    const move = { operation, target: graph.machineAfter[operation]!, after: true }
    if (move.target >= 0 && graph.safe(move)) graph.apply(move)
  }
}

function sameSequences(graph: JobShopGraph, one: Int32Array, other: Int32Array): boolean {
  const lastOnMachine = new Map<number, number>()
  const after = new Map<number, number>()
  for (const operation of one) {
    const machine = graph.machineOf[operation]!
    after.set(operation, lastOnMachine.get(machine) ?? -1)
    lastOnMachine.set(machine, operation)
  }
  lastOnMachine.clear()
  for (const operation of other) {
    const machine = graph.machineOf[operation]!
    if (after.get(operation) !== (lastOnMachine.get(machine) ?? -1)) return false
    lastOnMachine.set(machine, operation)
  }
  return true
}

/** Half of the new beginnings lie between two good schedules, half are one of them with a few orders turned round. */
const RELINKED_SHARE = 0.5
const KICKS = 10
const ELITE = 3
const RUN_PATIENCE = 20_000
const TENURE_SPREAD = 0.5

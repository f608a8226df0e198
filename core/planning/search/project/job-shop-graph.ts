import type { JobShop } from './job-shop.ts'

/** A move on one machine: `operation` goes right after (or right before) `target`, further along (or back) in the sequence. */
export interface MachineMove {
  readonly operation: number
  readonly target: number
  readonly after: boolean
}

/**
 * The graph of a job shop whose machines have a sequence: longest ways from the beginning (heads) and to the end (tails) of
 * every operation, kept up to date under moves. Operations are numbered job by job; -1 stands for none.
 */
export class JobShopGraph {
  readonly count: number
  readonly durations: Int32Array
  readonly machineOf: Int32Array
  readonly jobOf: Int32Array
  readonly jobBefore: Int32Array
  readonly jobAfter: Int32Array
  readonly machineBefore: Int32Array
  readonly machineAfter: Int32Array
  /** Earliest starts. */
  readonly heads: Int32Array
  /** Longest way from the end of the operation to the end of all. */
  readonly tails: Int32Array
  makespan = 0
  /** Complete timings so far. */
  timings = 0
  private readonly order: Int32Array
  private readonly place: Int32Array
  private readonly mark: Uint8Array
  private readonly scratch: Int32Array
  private readonly trialHeads: Int32Array

  constructor(shop: JobShop) {
    const operations = shop.jobs.flat()
    const count = operations.length
    this.count = count
    this.durations = Int32Array.from(operations, ({ duration }) => duration)
    this.machineOf = Int32Array.from(operations, ({ machine }) => machine)
    this.jobOf = Int32Array.from(shop.jobs.flatMap((job, index) => job.map(() => index)))
    this.jobBefore = new Int32Array(count).fill(-1)
    this.jobAfter = new Int32Array(count).fill(-1)
    for (let operation = 1; operation < count; operation++) {
      if (this.jobOf[operation] !== this.jobOf[operation - 1]) continue
      this.jobBefore[operation] = operation - 1
      this.jobAfter[operation - 1] = operation
    }
    this.machineBefore = new Int32Array(count).fill(-1)
    this.machineAfter = new Int32Array(count).fill(-1)
    this.heads = new Int32Array(count)
    this.tails = new Int32Array(count)
    this.order = new Int32Array(count)
    this.place = new Int32Array(count)
    this.mark = new Uint8Array(count)
    this.scratch = new Int32Array(count)
    this.trialHeads = new Int32Array(count)
  }

  /** Takes over the machine sequences of a list in which all operations follow those before them in their job. */
  sequenceBy(list: Int32Array): void {
    const last = new Map<number, number>()
    for (let place = 0; place < this.count; place++) {
      const operation = list[place]!
      const before = last.get(this.machineOf[operation]!) ?? -1
      this.machineBefore[operation] = before
      this.machineAfter[operation] = -1
      if (before >= 0) this.machineAfter[before] = operation
      last.set(this.machineOf[operation]!, operation)
      this.order[place] = operation
      this.place[operation] = place
    }
    this.time(0, this.count - 1)
  }

  /** The operations in an order in which everything comes after what it waits for. */
  copyOrder(into: Int32Array): void {
    into.set(this.order)
  }

  /** Position of an operation in that order. */
  placeOf(operation: number): number {
    return this.place[operation]!
  }

  /** Sufficient for the move not to close a circle (E. Balas, A. Vazacopoulos, Management Science 44 (1998) 262-275). */
  safe({ operation, target, after }: MachineMove): boolean {
    if (after) {
      const next = this.jobAfter[operation]!
      return next < 0 || this.tails[target]! + this.durations[target]! >= this.tails[next]! + this.durations[next]!
    }
    const previous = this.jobBefore[operation]!
    return (
      previous < 0 || this.heads[target]! + this.durations[target]! >= this.heads[previous]! + this.durations[previous]!
    )
  }

  /** Length of the longest way through the operations concerned after the move, from their neighbours' present heads and tails. */
  estimate(move: MachineMove): number {
    return move.after
      ? this.estimateAfter(move.operation, move.target)
      : this.estimateBefore(move.operation, move.target)
  }

  /** Carries a safe move out and times the graph anew. */
  apply({ operation, target, after }: MachineMove): void {
    const { machineBefore, machineAfter } = this
    const before = machineBefore[operation]!
    const behind = machineAfter[operation]!
    if (before >= 0) machineAfter[before] = behind
    if (behind >= 0) machineBefore[behind] = before
    if (after) {
      const next = machineAfter[target]!
      machineBefore[operation] = target
      machineAfter[operation] = next
      machineAfter[target] = operation
      if (next >= 0) machineBefore[next] = operation
      this.reorderAfter(operation, target)
    } else {
      const previous = machineBefore[target]!
      machineAfter[operation] = target
      machineBefore[operation] = previous
      machineBefore[target] = operation
      if (previous >= 0) machineAfter[previous] = operation
      this.reorderBefore(operation, target)
    }
  }

  private estimateAfter(operation: number, target: number): number {
    const { heads, tails, durations, jobBefore, jobAfter, machineBefore, machineAfter, trialHeads } = this
    let previous = machineBefore[operation]!
    let clock = previous < 0 ? 0 : heads[previous]! + durations[previous]!
    for (let at = machineAfter[operation]!; ; at = machineAfter[at]!) {
      const inJob = jobBefore[at]!
      if (inJob >= 0 && heads[inJob]! + durations[inJob]! > clock) clock = heads[inJob]! + durations[inJob]!
      trialHeads[at] = clock
      clock += durations[at]!
      if (at === target) break
    }
    previous = jobBefore[operation]!
    if (previous >= 0 && heads[previous]! + durations[previous]! > clock)
      clock = heads[previous]! + durations[previous]!
    const next = machineAfter[target]!
    let tail = next < 0 ? 0 : tails[next]! + durations[next]!
    const inJob = jobAfter[operation]!
    if (inJob >= 0 && tails[inJob]! + durations[inJob]! > tail) tail = tails[inJob]! + durations[inJob]!
    let longest = clock + durations[operation]! + tail
    tail += durations[operation]!
    for (let at = target; at !== operation; at = machineBefore[at]!) {
      const after = jobAfter[at]!
      if (after >= 0 && tails[after]! + durations[after]! > tail) tail = tails[after]! + durations[after]!
      tail += durations[at]!
      if (trialHeads[at]! + tail > longest) longest = trialHeads[at]! + tail
    }
    return longest
  }

  private estimateBefore(operation: number, target: number): number {
    const { heads, tails, durations, jobBefore, jobAfter, machineBefore, machineAfter, trialHeads } = this
    const next = machineAfter[operation]!
    let tail = next < 0 ? 0 : tails[next]! + durations[next]!
    for (let at = machineBefore[operation]!; ; at = machineBefore[at]!) {
      const inJob = jobAfter[at]!
      if (inJob >= 0 && tails[inJob]! + durations[inJob]! > tail) tail = tails[inJob]! + durations[inJob]!
      tail += durations[at]!
      trialHeads[at] = tail
      if (at === target) break
    }
    const inJob = jobAfter[operation]!
    if (inJob >= 0 && tails[inJob]! + durations[inJob]! > tail) tail = tails[inJob]! + durations[inJob]!
    const previous = machineBefore[target]!
    let clock = previous < 0 ? 0 : heads[previous]! + durations[previous]!
    const before = jobBefore[operation]!
    if (before >= 0 && heads[before]! + durations[before]! > clock) clock = heads[before]! + durations[before]!
    clock += durations[operation]!
    let longest = clock + tail
    for (let at = target; at !== operation; at = machineAfter[at]!) {
      const first = jobBefore[at]!
      if (first >= 0 && heads[first]! + durations[first]! > clock) clock = heads[first]! + durations[first]!
      if (clock + trialHeads[at]! > longest) longest = clock + trialHeads[at]!
      clock += durations[at]!
    }
    return longest
  }

  /** Everything that now follows `operation` and stood before `target` in the order moves behind it. */
  private reorderAfter(operation: number, target: number): void {
    const { order, mark, scratch, jobBefore, machineBefore } = this
    const from = this.place[operation]!
    const to = this.place[target]!
    let moved = 0
    let write = from
    for (let place = from; place <= to; place++) {
      const at = order[place]!
      const late =
        at === operation ||
        (at !== target &&
          ((jobBefore[at]! >= 0 && mark[jobBefore[at]!] === 1) ||
            (machineBefore[at]! >= 0 && mark[machineBefore[at]!] === 1)))
      if (late) {
        mark[at] = 1
        scratch[moved++] = at
      } else {
        order[write++] = at
      }
    }
    for (let index = 0; index < moved; index++) {
      order[write++] = scratch[index]!
      mark[scratch[index]!] = 0
    }
    for (let place = from; place <= to; place++) this.place[order[place]!] = place
    this.time(from, to)
  }

  private reorderBefore(operation: number, target: number): void {
    const { order, mark, scratch, jobAfter, machineAfter } = this
    const from = this.place[target]!
    const to = this.place[operation]!
    let moved = 0
    let write = to
    for (let place = to; place >= from; place--) {
      const at = order[place]!
      const early =
        at === operation ||
        (at !== target &&
          ((jobAfter[at]! >= 0 && mark[jobAfter[at]!] === 1) ||
            (machineAfter[at]! >= 0 && mark[machineAfter[at]!] === 1)))
      if (early) {
        mark[at] = 1
        scratch[moved++] = at
      } else {
        order[write--] = at
      }
    }
    for (let index = 0; index < moved; index++) {
      order[write--] = scratch[index]!
      mark[scratch[index]!] = 0
    }
    for (let place = from; place <= to; place++) this.place[order[place]!] = place
    this.time(from, to)
  }

  /** Heads from position `first` on, tails from position `last` back. */
  private time(first: number, last: number): void {
    const { order, heads, tails, durations, jobBefore, jobAfter, machineBefore, machineAfter, count } = this
    for (let place = first; place < count; place++) {
      const at = order[place]!
      const inJob = jobBefore[at]!
      const onMachine = machineBefore[at]!
      let head = inJob < 0 ? 0 : heads[inJob]! + durations[inJob]!
      if (onMachine >= 0) {
        const free = heads[onMachine]! + durations[onMachine]!
        if (free > head) head = free
      }
      heads[at] = head
    }
    for (let place = last; place >= 0; place--) {
      const at = order[place]!
      const inJob = jobAfter[at]!
      const onMachine = machineAfter[at]!
      let tail = inJob < 0 ? 0 : tails[inJob]! + durations[inJob]!
      if (onMachine >= 0) {
        const rest = tails[onMachine]! + durations[onMachine]!
        if (rest > tail) tail = rest
      }
      tails[at] = tail
    }
    let makespan = 0
    for (let at = 0; at < count; at++) {
      const length = heads[at]! + durations[at]! + tails[at]!
      if (length > makespan) makespan = length
    }
    this.makespan = makespan
    this.timings += 1
  }
}

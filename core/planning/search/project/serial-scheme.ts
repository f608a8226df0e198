import { packNeeds, type PackedNeeds } from './packed-needs.ts'
import { reversedArcs, topologicalOrder, type Project } from './project.ts'

/** Time runs forward, or the project is read from its end: what was a successor is then a predecessor. */
export type Direction = 'forward' | 'backward'

/**
 * The serial schedule generation scheme on a dense profile (one entry per unit of time): activities are taken in the order
 * of a list and each goes to its earliest time that precedence and resources allow. Every list gives an active schedule.
 *
 * Read backwards, the same scheme justifies a schedule to the right; backward and then forward is the double
 * justification of V. Valls, F. Ballestin, S. Quintanilla, EJOR 165 (2005) 375-386, which never lengthens a schedule.
 *
 * The object keeps its working memory, so that generating a schedule allocates nothing.
 */
export class SerialScheme {
  readonly count: number
  /** Activities placed since the beginning: `count` of them are the work of one schedule. */
  placements = 0
  private readonly durations: Int32Array
  private readonly needs: PackedNeeds
  private readonly forwardSide: Side
  private readonly backwardSide: Side
  private readonly free: readonly Int32Array[]
  private readonly finishes: Int32Array
  private readonly bucket: Int32Array
  private readonly keys: Int32Array
  private usedUntil = 0

  constructor(project: Project) {
    this.count = project.durations.length
    this.durations = Int32Array.from(project.durations)
    this.needs = packNeeds(project.needs, project.capacities)
    const topological = topologicalOrder(project.successors)
    const predecessors = reversedArcs(project.successors)
    this.forwardSide = side(topological, predecessors)
    this.backwardSide = side(topological.toReversed(), project.successors)
    const horizon = project.durations.reduce((sum, duration) => sum + duration, 0)
    this.free = this.needs.capacity.map((capacity) => new Int32Array(horizon + 1).fill(capacity))
    this.finishes = new Int32Array(this.count)
    this.keys = new Int32Array(this.count)
    this.bucket = new Int32Array(Math.max(horizon, this.count) + 2)
  }

  /**
   * Places all activities in the order of `list` (precedence-feasible in that direction) and writes their starts, counted
   * from the end of the project when time runs backward.
   * @returns the makespan
   */
  schedule(list: Int32Array, direction: Direction, starts: Int32Array): number {
    const { offsets, arcs } = direction === 'forward' ? this.forwardSide : this.backwardSide
    const { durations, finishes, count } = this
    for (let word = 0; word < this.free.length; word++)
      this.free[word]!.fill(this.needs.capacity[word]!, 0, this.usedUntil)
    let makespan = 0
    for (let position = 0; position < count; position++) {
      const activity = list[position]!
      let ready = 0
      for (let arc = offsets[activity]!; arc < offsets[activity + 1]!; arc++) {
        const finish = finishes[arcs[arc]!]!
        if (finish > ready) ready = finish
      }
      const duration = durations[activity]!
      const start =
        this.free.length === 1 ? this.takeOneWord(activity, ready, duration) : this.takeWords(activity, ready, duration)
      starts[activity] = start
      const finish = start + duration
      finishes[activity] = finish
      if (finish > makespan) makespan = finish
    }
    this.usedUntil = makespan
    this.placements += count
    return makespan
  }

  /**
   * The list that a schedule stands for, by increasing start, for the same direction.
   */
  listByStart(starts: Int32Array, direction: Direction, list: Int32Array): void {
    this.keys.set(starts)
    this.listByKeys(this.keys, direction, list)
  }

  /** The list for the opposite direction: what finishes last comes first. */
  listByFinish(starts: Int32Array, makespan: number, direction: Direction, list: Int32Array): void {
    for (let activity = 0; activity < this.count; activity++)
      this.keys[activity] = makespan - starts[activity]! - this.durations[activity]!
    this.listByKeys(this.keys, direction === 'forward' ? 'backward' : 'forward', list)
  }

  /**
   * A precedence-feasible list by increasing key: where an activity's key is below one of its predecessors', it is raised
   * to it. Keys are whole numbers from 0 to the sum of durations (or the number of activities, if larger); they are
   * overwritten by the raised ones.
   */
  listByKeys(keys: Int32Array, direction: Direction, list: Int32Array): void {
    const { offsets, arcs, topological } = direction === 'forward' ? this.forwardSide : this.backwardSide
    const { bucket, count } = this
    let highest = 0
    for (let position = 0; position < count; position++) {
      const activity = topological[position]!
      let key = keys[activity]!
      for (let arc = offsets[activity]!; arc < offsets[activity + 1]!; arc++) {
        const before = keys[arcs[arc]!]!
        if (before > key) key = before
      }
      keys[activity] = key
      if (key > highest) highest = key
    }
    bucket.fill(0, 0, highest + 2)
    for (let activity = 0; activity < count; activity++) bucket[keys[activity]! + 1]! += 1
    for (let key = 0; key < highest; key++) bucket[key + 1]! += bucket[key]!
    for (let position = 0; position < count; position++) {
      const activity = topological[position]!
      list[bucket[keys[activity]!]!++] = activity
    }
  }

  private takeOneWord(activity: number, ready: number, duration: number): number {
    const free = this.free[0]!
    const need = this.needs.words[0]![activity]!
    if (need === 0 || duration === 0) return ready
    const guard = this.needs.guard[0]!
    let start = ready
    let end = start + duration
    let floor = start
    for (let time = end - 1; time >= floor; time--) {
      if (((free[time]! - need) & guard) !== guard) {
        floor = end
        start = time + 1
        end = start + duration
        time = end
      }
    }
    for (let time = start; time < end; time++) free[time]! -= need
    return start
  }

  private takeWords(activity: number, ready: number, duration: number): number {
    if (duration === 0) return ready
    const { words, guard } = this.needs
    let start = ready
    let end = start + duration
    let floor = start
    for (let time = end - 1; time >= floor; time--) {
      for (let word = 0; word < words.length; word++) {
        if (((this.free[word]![time]! - words[word]![activity]!) & guard[word]!) !== guard[word]!) {
          floor = end
          start = time + 1
          end = start + duration
          time = end
          break
        }
      }
    }
    for (let word = 0; word < words.length; word++) {
      const free = this.free[word]!
      const need = words[word]![activity]!
      if (need !== 0) for (let time = start; time < end; time++) free[time]! -= need
    }
    return start
  }
}

/** One direction of reading: an order in which predecessors come first, and the predecessors as offsets into one array. */
interface Side {
  readonly topological: Int32Array
  readonly offsets: Int32Array
  readonly arcs: Int32Array
}

function side(topological: readonly number[], predecessors: readonly (readonly number[])[]): Side {
  const offsets = new Int32Array(predecessors.length + 1)
  predecessors.forEach((list, activity) => {
    offsets[activity + 1] = offsets[activity]! + list.length
  })
  return { topological: Int32Array.from(topological), offsets, arcs: Int32Array.from(predecessors.flat()) }
}

import { criticalPath } from './critical-path.ts'
import type { Project } from './project.ts'
import type { RandomStream } from './seeded-random.ts'
import { SerialScheme } from './serial-scheme.ts'

/**
 * A population of schedules of one project that breeds: a child takes over from its father what starts within a window
 * of time, from its mother the rest, is shaken a little, scheduled serially and justified backward and forward. It
 * replaces the worse of its parents if it is not worse itself, which keeps the population various.
 *
 * Members compare by makespan, then by how early their activities finish (sum of squares), so that progress is
 * seen before the makespan moves.
 */
export class SchedulePopulation {
  readonly best: Int32Array
  bestMakespan = Number.POSITIVE_INFINITY
  private readonly scheme: SerialScheme
  private readonly random: RandomStream
  private readonly durations: Int32Array
  private readonly latestFinishes: Int32Array
  private readonly horizon: number
  private readonly longestShift: number
  /** Largest shift of a latest finish in the first lists. */
  private readonly startShift: number
  private members: Member[] = []
  private readonly keys: Int32Array
  private readonly list: Int32Array
  private readonly forward: Int32Array
  private readonly backward: Int32Array

  constructor(project: Project, random: RandomStream) {
    const { tails, length } = criticalPath(project)
    this.scheme = new SerialScheme(project)
    this.random = random
    this.durations = Int32Array.from(project.durations)
    this.latestFinishes = tails.map((tail) => length - tail)
    this.horizon = project.durations.reduce((sum, duration) => sum + duration, 0)
    this.longestShift = Math.round(length / 10)
    this.startShift = length * START_SHIFT
    const { count } = this.scheme
    this.best = new Int32Array(count)
    this.keys = new Int32Array(count)
    this.list = new Int32Array(count)
    this.forward = new Int32Array(count)
    this.backward = new Int32Array(count)
  }

  /** Complete start-time assignments so far, each pass of a justification included. */
  get schedules(): number {
    return Math.ceil(this.scheme.placements / Math.max(1, this.scheme.count))
  }

  get size(): number {
    return this.members.length
  }

  /** Forgets all members but not the best schedule found. */
  clear(): void {
    this.members = []
  }

  /** A new member from a list by latest finish with a random shift for every activity. */
  addSample(): void {
    for (let activity = 0; activity < this.keys.length; activity++) {
      const shift = Math.round((this.random.fraction() + this.random.fraction() - 1) * this.startShift)
      this.keys[activity] = Math.min(this.horizon, Math.max(0, this.latestFinishes[activity]! + shift))
    }
    this.members.push(this.scheduleKeys())
  }

  /** A schedule that comes from elsewhere; activities must be whole and feasible. */
  addSchedule(starts: Int32Array): void {
    this.keys.set(starts)
    this.members.push(this.scheduleKeys())
  }

  /** One child; at least two members are needed. */
  breed(): void {
    const father = this.random.below(this.members.length)
    let mother = this.random.below(this.members.length)
    if (mother === father) mother = (mother + 1) % this.members.length
    this.cross(this.members[father]!, this.members[mother]!)
    const child = this.scheduleKeys()
    if (this.members.some((member) => member.fitness === child.fitness && sameStarts(member.starts, child.starts)))
      return
    const leaving = this.members[father]!.fitness > this.members[mother]!.fitness ? father : mother
    if (child.fitness <= this.members[leaving]!.fitness) this.members[leaving] = child
  }

  private cross(father: Member, mother: Member): void {
    const { random, keys } = this
    const length = Math.max(1, Math.round(father.makespan * (WINDOW_LEAST + random.fraction() * WINDOW_SPREAD)))
    const from = random.below(Math.max(1, father.makespan - length + 1))
    const scale = father.makespan / Math.max(1, mother.makespan)
    for (let activity = 0; activity < keys.length; activity++) {
      const start = father.starts[activity]!
      if (start >= from && start < from + length) {
        keys[activity] = start
        continue
      }
      let key = Math.round(mother.starts[activity]! * scale)
      if (random.fraction() < MUTATION) key += random.below(2 * this.longestShift + 1) - this.longestShift
      keys[activity] = Math.min(this.horizon, Math.max(0, key))
    }
  }

  private scheduleKeys(): Member {
    const { scheme, list, forward, backward } = this
    scheme.listByKeys(this.keys, 'forward', list)
    let makespan = scheme.schedule(list, 'forward', forward)
    scheme.listByFinish(forward, makespan, 'forward', list)
    makespan = scheme.schedule(list, 'backward', backward)
    scheme.listByFinish(backward, makespan, 'backward', list)
    makespan = scheme.schedule(list, 'forward', forward)
    if (makespan < this.bestMakespan) {
      this.bestMakespan = makespan
      this.best.set(forward)
    }
    let squares = 0
    for (let activity = 0; activity < forward.length; activity++) {
      const finish = forward[activity]! + this.durations[activity]!
      squares += finish * finish
    }
    return {
      starts: forward.slice(),
      makespan,
      fitness: makespan + squares / (forward.length * makespan * makespan + 1),
    }
  }
}

interface Member {
  readonly starts: Int32Array
  readonly makespan: number
  readonly fitness: number
}

function sameStarts(one: Int32Array, other: Int32Array): boolean {
  for (let activity = 0; activity < one.length; activity++) if (one[activity] !== other[activity]) return false
  return true
}

/** The father's window is between a tenth and half of his makespan long. */
const WINDOW_LEAST = 0.1
const WINDOW_SPREAD = 0.4
/** Shifts in the first lists, as a share of the critical path. */
const START_SHIFT = 0.6
const MUTATION = 0.05

import type { AssumedStart } from './clause-learning.ts'
import type { Project } from './project.ts'
import type { RandomStream } from './seeded-random.ts'
import { SerialScheme } from './serial-scheme.ts'

/**
 * Windows of time in which a schedule may be closed up by one unit: everything that ends before the window stays as early
 * as it is, everything that can wait until after it is as late as a schedule shorter by one allows; only the activities between
 * are free to find a place. If they do, the whole schedule is shorter by one.
 */
export class TimeWindows {
  private readonly durations: readonly number[]
  private readonly scheme: SerialScheme
  private readonly random: RandomStream
  private readonly list: Int32Array
  private readonly fromTheEnd: Int32Array

  constructor(project: Project, random: RandomStream) {
    this.durations = project.durations
    this.scheme = new SerialScheme(project)
    this.random = random
    this.list = new Int32Array(this.scheme.count)
    this.fromTheEnd = new Int32Array(this.scheme.count)
  }

  /**
   * What is fixed outside of a window at a random place.
   * @param starts a schedule, justified to the left
   */
  outsideOfOne(starts: Int32Array, makespan: number): readonly AssumedStart[] {
    this.scheme.listByFinish(starts, makespan, 'forward', this.list)
    this.scheme.schedule(this.list, 'backward', this.fromTheEnd)
    const length = Math.round(makespan * (LENGTH_LEAST + LENGTH_SPREAD * this.random.fraction()))
    const from = this.random.below(Math.max(1, makespan)) - Math.round(length / 2)
    return this.durations.flatMap((duration, activity) => {
      const start = starts[activity]!
      if (start + duration <= from) return [{ activity, start }]
      const latest = makespan - this.fromTheEnd[activity]! - duration
      return latest >= from + length ? [{ activity, start: latest - 1 }] : []
    })
  }
}

const LENGTH_LEAST = 0.25
const LENGTH_SPREAD = 0.4

/**
 * Start times known only by their bounds, with the history of every change.
 *
 * Each activity has two rising bounds: number 2a is its earliest start, number 2a + 1 its latest start with the sign
 * turned. A *literal* (bound, value) says "this bound is at least value"; its opposite is (bound ^ 1, 1 - value). Whatever
 * is deduced raises a bound, so that a literal once true stays true until the search goes back.
 */
export class BoundTrail {
  readonly bounds: Int32Array
  /** Bounds that hold whatever is decided. */
  readonly root: Int32Array
  length = 0
  boundAt = new Int32Array(1024)
  oldValueAt = new Int32Array(1024)
  reasonAt: Reason[] = []
  /** Where each decision's changes begin; index 0 is the state before any decision. */
  readonly levelStarts: number[] = [0]
  private previousAt = new Int32Array(1024)
  private readonly lastChange: Int32Array

  constructor(earliest: Int32Array, latest: Int32Array) {
    this.bounds = new Int32Array(2 * earliest.length)
    for (let activity = 0; activity < earliest.length; activity++) {
      this.bounds[2 * activity] = earliest[activity]!
      this.bounds[2 * activity + 1] = -latest[activity]!
    }
    this.root = this.bounds.slice()
    this.lastChange = new Int32Array(this.bounds.length).fill(-1)
  }

  get level(): number {
    return this.levelStarts.length - 1
  }

  openLevel(): void {
    this.levelStarts.push(this.length)
  }

  raise(bound: number, value: number, reason: Reason): void {
    const at = this.length
    if (at === this.boundAt.length) this.grow()
    this.boundAt[at] = bound
    this.oldValueAt[at] = this.bounds[bound]!
    this.previousAt[at] = this.lastChange[bound]!
    this.reasonAt[at] = reason
    this.lastChange[bound] = at
    this.bounds[bound] = value
    this.length = at + 1
  }

  /** Takes the last change back; the caller closes levels that became empty. */
  undoLast(): void {
    const at = --this.length
    const bound = this.boundAt[at]!
    this.bounds[bound] = this.oldValueAt[at]!
    this.lastChange[bound] = this.previousAt[at]!
  }

  /** Position of the change that made a true literal true; -1 if it held from the beginning. */
  changeOf(bound: number, value: number): number {
    let at = this.lastChange[bound]!
    while (at >= 0 && this.oldValueAt[at]! >= value) at = this.previousAt[at]!
    return this.root[bound]! >= value ? -1 : at
  }

  /** The bound as it was before the change at this position. */
  valueBefore(position: number, bound: number): number {
    let value = this.bounds[bound]!
    for (let at = this.lastChange[bound]!; at >= position; at = this.previousAt[at]!) value = this.oldValueAt[at]!
    return value
  }

  /** Level at which the change at this position happened. */
  levelOf(position: number): number {
    let low = 0
    let high = this.levelStarts.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (this.levelStarts[middle]! <= position) low = middle
      else high = middle - 1
    }
    return low
  }

  /** At level 0: forgets the history, what holds now holds for good. */
  settle(): void {
    this.root.set(this.bounds)
    this.length = 0
    this.lastChange.fill(-1)
  }

  private grow(): void {
    const larger = (old: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> => {
      const next = new Int32Array(2 * old.length)
      next.set(old)
      return next
    }
    this.boundAt = larger(this.boundAt)
    this.oldValueAt = larger(this.oldValueAt)
    this.previousAt = larger(this.previousAt)
  }
}

/** Why a bound was raised; enough to say afterwards which literals forced it. */
export type Reason =
  | { readonly kind: 'decision' }
  /** `source` bound plus lag. */
  | { readonly kind: 'lag'; readonly source: number; readonly lag: number }
  /** The activity does not fit at this time beside those that certainly run then. */
  | { readonly kind: 'crowded'; readonly time: number }
  /** The two exclude each other, and `after` cannot be finished before the other starts. */
  | { readonly kind: 'follows'; readonly before: number; readonly after: number }
  | LearnedClause

/** At least one of its literals holds. Literal i is (literals[2i], literals[2i + 1]); the first two are watched. */
export interface LearnedClause {
  readonly kind: 'clause'
  readonly literals: Int32Array
  activity: number
  /** Number of levels its literals came from when learned: few means useful. */
  readonly spread: number
  deleted: boolean
}

import { AtomActivity } from './atom-activity.ts'
import { BoundTrail, type LearnedClause, type Reason } from './bound-trail.ts'
import { CompulsoryProfile } from './compulsory-profile.ts'
import { lagMatrix } from './lag-matrix.ts'
import type { LaggedProject } from './lagged-project.ts'
import { packNeeds } from './packed-needs.ts'

/** 'refuted': there is no schedule with what was assumed. 'exhausted': there is none at all. */
export type SearchEnd = 'found' | 'refuted' | 'exhausted' | 'stopped'

/** The start of an activity, taken for granted for the length of one search. */
export interface AssumedStart {
  readonly activity: number
  readonly start: number
}

/**
 * Complete search for start times by learning from conflicts. Bounds are propagated through lags, through time-tables of
 * what certainly runs, and through pairs that exclude each other; every deduction can name the literals that forced it, so
 * that a dead end yields a clause (first unique implication point) that is never run into again.
 *
 * An extra activity numbered `count` stands for the end of the project.
 * @source A. Schutt, T. Feydy, P. J. Stuckey, M. G. Wallace, Solving RCPSP/max by lazy clause generation, J. Scheduling 16 (2013) 273-289
 */
export class ClauseLearning {
  /** Dead ends so far. */
  conflicts = 0
  /** Nothing was left to search at the very beginning. */
  readonly contradictory: boolean
  private readonly count: number
  private readonly durations: Int32Array
  private readonly project: LaggedProject
  private readonly trail: BoundTrail
  private readonly profile: CompulsoryProfile
  private readonly needy: Int32Array
  private readonly lagsFrom: readonly (readonly LagReason[])[]
  private readonly rivals: readonly (readonly Rival[])[]
  private readonly crowdedAt: readonly Reason[]
  private readonly watching: LearnedClause[][]
  private readonly watchedFrom: number[][]
  private readonly atoms = new AtomActivity()
  private readonly takenAtoms: number[][] = [[]]
  private learned: LearnedClause[] = []
  private clauseStep = 1
  private handled = 0
  private conflict: Conflict | null = null
  private readonly required: Int32Array
  private readonly levelValue: Int32Array
  private readonly touched: number[] = []
  private openHere = 0
  private preferred: Int32Array | null = null

  /** @param latestEnd the project must be finished by then */
  constructor(project: LaggedProject, latestEnd: number) {
    const count = project.durations.length
    this.count = count
    const matrix = lagMatrix(project)
    this.project = project
    this.durations = Int32Array.from([...project.durations, 0])
    const earliest = new Int32Array(count + 1)
    const latest = new Int32Array(count + 1)
    const lagsFrom: LagReason[][] = Array.from({ length: 2 * count + 2 }, () => [])
    const addLag = (from: number, to: number, lag: number): void => {
      lagsFrom[2 * from]!.push({ kind: 'lag', source: 2 * from, target: 2 * to, lag })
      lagsFrom[2 * to + 1]!.push({ kind: 'lag', source: 2 * to + 1, target: 2 * from + 1, lag })
    }
    for (const { from, to, lag } of [...project.lags, ...(matrix?.added ?? [])]) if (from !== to) addLag(from, to, lag)
    project.durations.forEach((duration, activity) => addLag(activity, count, duration))
    let impossible =
      matrix === null ||
      project.capacities.some((capacity, resource) =>
        project.needs.some((need, activity) => project.durations[activity]! > 0 && need[resource]! > capacity),
      )
    if (matrix !== null) {
      for (let activity = 0; activity < count; activity++) {
        let head = 0
        let tail = 0
        for (let other = 0; other < count; other++) {
          head = Math.max(head, matrix.distances[other * count + activity]!)
          tail = Math.max(tail, matrix.distances[activity * count + other]! + project.durations[other]!)
        }
        earliest[activity] = head
        latest[activity] = latestEnd - tail
        earliest[count] = Math.max(earliest[count]!, head + tail)
        if (head > latestEnd - tail) impossible = true
      }
    }
    latest[count] = latestEnd
    this.lagsFrom = lagsFrom
    this.trail = new BoundTrail(earliest, latest)
    const shown = impossible ? project.needs.map((need) => need.map(() => 0)) : project.needs
    this.profile = new CompulsoryProfile(
      packNeeds([...shown, project.capacities.map(() => 0)], project.capacities),
      Math.max(0, latestEnd),
    )
    this.needy = Int32Array.from(project.durations.keys()).filter(
      (activity) => project.durations[activity]! > 0 && !this.profile.needsNothing(activity),
    )
    this.crowdedAt = Array.from({ length: Math.max(0, latestEnd) + 1 }, (_, time) => ({
      kind: 'crowded' as const,
      time,
    }))
    const rivals: Rival[][] = Array.from({ length: count + 1 }, () => [])
    for (const [a, b] of matrix?.exclusivePairs ?? []) {
      const aFirst: Reason = { kind: 'follows', before: a, after: b }
      const bFirst: Reason = { kind: 'follows', before: b, after: a }
      rivals[a]!.push({ other: b, before: aFirst, after: bFirst })
      rivals[b]!.push({ other: a, before: bFirst, after: aFirst })
    }
    this.rivals = rivals
    this.watching = Array.from({ length: 2 * count + 2 }, () => [])
    this.watchedFrom = Array.from({ length: 2 * count + 2 }, () => [])
    this.required = new Int32Array(2 * count + 2).fill(UNREQUIRED)
    this.levelValue = new Int32Array(2 * count + 2)
    this.contradictory = impossible || !this.occupyRootParts() || !this.propagateAll()
    if (!this.contradictory) this.trail.settle()
    this.handled = 0
  }

  /** No schedule can end before this. */
  get leastEnd(): number {
    return this.trail.root[2 * this.count]!
  }

  /** From now on only schedules that end by then are wanted. @returns false when there are none */
  demandEndBy(latestEnd: number): boolean {
    this.backTo(0)
    return this.assertAtRoot(2 * this.count + 1, -latestEnd)
  }

  /** Branching follows these starts where it can, so that the search stays near a good schedule. */
  prefer(starts: Int32Array): void {
    this.preferred = starts.slice()
  }

  /** The schedule found. */
  starts(): Int32Array {
    return Int32Array.from({ length: this.count }, (_, activity) => this.trail.bounds[2 * activity]!)
  }

  /**
   * Searches on until a schedule is found, none can exist, so many conflicts have been met, or `goOn` says no.
   * Learned clauses stay for the next call.
   * @param assumed starts that are fixed during this search only; what is learned holds without them
   */
  search(conflictLimit: number, goOn: () => boolean, assumed: readonly AssumedStart[] = []): SearchEnd {
    if (this.contradictory) return 'exhausted'
    const stopAt = this.conflicts + conflictLimit
    this.backTo(0)
    for (;;) {
      if (!this.propagateAll()) {
        this.conflicts += 1
        if (this.trail.level === 0) return 'exhausted'
        if (!this.learn()) return 'exhausted'
        if (this.conflicts >= stopAt || (this.conflicts % 32 === 0 && !goOn())) {
          this.backTo(0)
          return this.propagateAll() ? 'stopped' : 'exhausted'
        }
        continue
      }
      if (this.trail.level === 0) {
        this.trail.settle()
        this.handled = 0
        if (this.learned.length > KEPT_CLAUSES + this.conflicts / 8) this.forgetHalf()
      }
      const next = this.decide(assumed)
      if (next !== 'open') {
        if (next === 'refuted') this.backTo(0)
        return next
      }
    }
  }

  private decide(assumed: readonly AssumedStart[]): 'open' | 'found' | 'refuted' {
    const { bounds } = this.trail
    if (this.trail.level <= 2 * assumed.length) {
      for (const { activity, start } of assumed) {
        if (bounds[2 * activity]! > start || -bounds[2 * activity + 1]! < start) return 'refuted'
        if (-bounds[2 * activity + 1]! > start) {
          this.open(2 * activity + 1, -start)
          return 'open'
        }
        if (bounds[2 * activity]! < start) {
          this.open(2 * activity, start)
          return 'open'
        }
      }
    }
    for (;;) {
      const atom = this.atoms.take()
      if (atom < 0) break
      this.takenAtoms[this.trail.level]!.push(atom)
      const activity = this.atoms.activityIn(atom)
      const latest = this.atoms.latestIn(atom)
      if (bounds[2 * activity]! > latest || -bounds[2 * activity + 1]! <= latest) continue
      const early = this.preferred === null || activity === this.count || this.preferred[activity]! <= latest
      if (early) this.open(2 * activity + 1, -latest)
      else this.open(2 * activity, latest + 1)
      return 'open'
    }
    let chosen = -1
    for (let activity = 0; activity <= this.count; activity++) {
      const earliest = bounds[2 * activity]!
      const latest = -bounds[2 * activity + 1]!
      if (earliest === latest) continue
      if (
        chosen < 0 ||
        earliest < bounds[2 * chosen]! ||
        (earliest === bounds[2 * chosen]! && latest < -bounds[2 * chosen + 1]!)
      )
        chosen = activity
    }
    if (chosen < 0) return 'found'
    this.open(2 * chosen + 1, -bounds[2 * chosen]!)
    return 'open'
  }

  private open(bound: number, value: number): void {
    this.trail.openLevel()
    this.takenAtoms.push([])
    this.raise(bound, value, DECISION)
  }

  private assertAtRoot(bound: number, value: number): boolean {
    if (!this.raise(bound, value, DECISION) || !this.propagateAll()) return false
    this.trail.settle()
    this.handled = 0
    return true
  }

  private occupyRootParts(): boolean {
    const { bounds } = this.trail
    for (const activity of this.needy) {
      const from = -bounds[2 * activity + 1]!
      const to = bounds[2 * activity]! + this.durations[activity]!
      if (from < to && this.profile.occupy(activity, from, to) >= 0) return false
    }
    return true
  }

  /** @returns false on a conflict, which is then noted */
  private raise(bound: number, value: number, reason: Reason): boolean {
    const { trail } = this
    const old = trail.bounds[bound]!
    if (value <= old) return true
    const opposite = trail.bounds[bound ^ 1]!
    if (value + opposite > 0) {
      this.conflict = { kind: 'empty', bound, value: 1 - opposite, reason }
      return false
    }
    trail.raise(bound, value, reason)
    const activity = bound >> 1
    const duration = this.durations[activity]!
    let from: number
    let to: number
    if ((bound & 1) === 0) {
      from = Math.max(-opposite, old + duration)
      to = value + duration
    } else {
      from = -value
      to = Math.min(-old, opposite + duration)
    }
    if (from < to) {
      const crowded = this.profile.occupy(activity, from, to)
      if (crowded >= 0) {
        this.conflict = { kind: 'overload', time: crowded }
        return false
      }
    }
    return true
  }

  private undoLast(): void {
    const { trail } = this
    const at = trail.length - 1
    const bound = trail.boundAt[at]!
    const old = trail.oldValueAt[at]!
    const value = trail.bounds[bound]!
    const opposite = trail.bounds[bound ^ 1]!
    const activity = bound >> 1
    const duration = this.durations[activity]!
    const from = (bound & 1) === 0 ? Math.max(-opposite, old + duration) : -value
    const to = (bound & 1) === 0 ? value + duration : Math.min(-old, opposite + duration)
    if (from < to) this.profile.release(activity, from, to)
    trail.undoLast()
  }

  private backTo(level: number): void {
    const { trail } = this
    while (trail.level > level) {
      const start = trail.levelStarts.pop()!
      while (trail.length > start) this.undoLast()
      for (const atom of this.takenAtoms.pop()!) this.atoms.insert(atom)
    }
    if (this.handled > trail.length) this.handled = trail.length
    if (level === 0) {
      for (const atom of this.takenAtoms[0]!) this.atoms.insert(atom)
      this.takenAtoms[0]!.length = 0
    }
  }

  private propagateAll(): boolean {
    const { trail } = this
    do {
      while (this.handled < trail.length) {
        const at = this.handled++
        if (!this.followChange(trail.boundAt[at]!, trail.oldValueAt[at]!)) return false
      }
      if (!this.propagateTimeTable()) return false
    } while (this.handled < trail.length)
    return true
  }

  private followChange(bound: number, old: number): boolean {
    const { bounds } = this.trail
    for (const reason of this.lagsFrom[bound]!) {
      const value = bounds[bound]! + reason.lag
      if (value > bounds[reason.target]! && !this.raise(reason.target, value, reason)) return false
    }
    const activity = bound >> 1
    for (const rival of this.rivals[activity]!) {
      if (!this.orderPair(activity, rival.other, rival.before)) return false
      if (!this.orderPair(rival.other, activity, rival.after)) return false
    }
    return this.visitWatches(bound, old)
  }

  /** If `after` cannot come first, `before` does. */
  private orderPair(before: number, after: number, reason: Reason): boolean {
    const { bounds } = this.trail
    if (bounds[2 * after]! + this.durations[after]! <= -bounds[2 * before + 1]!) return true
    const duration = this.durations[before]!
    return (
      this.raise(2 * after, bounds[2 * before]! + duration, reason) &&
      this.raise(2 * before + 1, bounds[2 * after + 1]! + duration, reason)
    )
  }

  private propagateTimeTable(): boolean {
    const { bounds } = this.trail
    for (const activity of this.needy) {
      const duration = this.durations[activity]!
      let earliest = bounds[2 * activity]!
      let latest = -bounds[2 * activity + 1]!
      if (earliest === latest) continue
      for (;;) {
        const crowded = this.profile.lastCrowded(activity, earliest, Math.min(latest, earliest + duration))
        if (crowded < 0) break
        if (!this.raise(2 * activity, crowded + 1, this.crowdedAt[crowded]!)) return false
        earliest = bounds[2 * activity]!
      }
      for (;;) {
        const crowded = this.profile.firstCrowded(activity, Math.max(latest, earliest + duration), latest + duration)
        if (crowded < 0) break
        if (!this.raise(2 * activity + 1, duration - crowded, this.crowdedAt[crowded]!)) return false
        latest = -bounds[2 * activity + 1]!
      }
    }
    return true
  }

  private visitWatches(bound: number, old: number): boolean {
    const { bounds } = this.trail
    const clauses = this.watching[bound]!
    const thresholds = this.watchedFrom[bound]!
    const now = bounds[bound]!
    let kept = 0
    let fine = true
    for (let index = 0; index < clauses.length; index++) {
      const clause = clauses[index]!
      const threshold = thresholds[index]!
      if (fine && threshold <= now && threshold > old && !clause.deleted) {
        const { literals } = clause
        if (literals[0]! === (bound ^ 1) && literals[1]! === 1 - threshold) {
          literals[0] = literals[2]!
          literals[1] = literals[3]!
          literals[2] = bound ^ 1
          literals[3] = 1 - threshold
        }
        if (bounds[literals[0]!]! < literals[1]!) {
          let other = 4
          while (other < literals.length && bounds[literals[other]! ^ 1]! >= 1 - literals[other + 1]!) other += 2
          if (other < literals.length) {
            const watched = literals[other]!
            const value = literals[other + 1]!
            literals[other] = literals[2]!
            literals[other + 1] = literals[3]!
            literals[2] = watched
            literals[3] = value
            this.watching[watched ^ 1]!.push(clause)
            this.watchedFrom[watched ^ 1]!.push(1 - value)
            continue
          }
          fine = this.raise(literals[0]!, literals[1]!, clause)
        }
      }
      if (clause.deleted) continue
      clauses[kept] = clause
      thresholds[kept] = threshold
      kept += 1
    }
    clauses.length = kept
    thresholds.length = kept
    return fine
  }

  /** Turns the conflict into a clause, goes back and asserts it. @returns false when nothing is left to search */
  private learn(): boolean {
    const { trail, required } = this
    this.openHere = 0
    this.touched.length = 0
    const conflict = this.conflict!
    this.noteLevelStart()
    if (conflict.kind === 'empty') {
      this.require(conflict.bound ^ 1, 1 - conflict.value)
      this.explain(conflict.reason, conflict.bound, conflict.value)
    } else {
      this.explainCrowd(conflict.time, -1)
    }
    while (this.openHere === 0) {
      if (trail.level <= 1) {
        this.clearRequired()
        return false
      }
      this.backTo(trail.level - 1)
      this.noteLevelStart()
      for (const bound of this.touched) if (required[bound]! > this.valueAtLevelStart(bound)) this.openHere += 1
    }
    let asserted = -1
    while (asserted < 0) {
      const at = trail.length - 1
      const bound = trail.boundAt[at]!
      const reason = trail.reasonAt[at]!
      const involved = required[bound]! > trail.oldValueAt[at]!
      this.undoLast()
      if (!involved) continue
      if (this.openHere === 1) {
        asserted = bound
        break
      }
      const value = required[bound]!
      required[bound] = UNREQUIRED
      this.openHere -= 1
      this.explain(reason, bound, value)
    }
    this.assertLearned(asserted)
    return true
  }

  private assertLearned(asserted: number): void {
    const { trail, required } = this
    const literals: number[] = [asserted ^ 1, 1 - required[asserted]!]
    const levels = new Set<number>()
    let backLevel = 0
    let second = -1
    for (const bound of new Set(this.touched)) {
      if (bound === asserted || required[bound] === UNREQUIRED) continue
      if (this.impliedByOthers(bound)) {
        required[bound] = UNREQUIRED
        continue
      }
      const level = trail.levelOf(trail.changeOf(bound, required[bound]!))
      levels.add(level)
      if (level > backLevel) {
        backLevel = level
        second = literals.length
      }
      literals.push(bound ^ 1, 1 - required[bound]!)
    }
    for (let index = 0; index < literals.length; index += 2) this.atoms.bump(literals[index]!, literals[index + 1]!)
    this.atoms.decay()
    this.clearRequired()
    this.backTo(backLevel)
    if (literals.length === 2) {
      this.raise(literals[0]!, literals[1]!, DECISION)
      return
    }
    if (second > 2) {
      ;[literals[2], literals[second]] = [literals[second]!, literals[2]!]
      ;[literals[3], literals[second + 1]] = [literals[second + 1]!, literals[3]!]
    }
    this.clauseStep /= 0.999
    const clause: LearnedClause = {
      kind: 'clause',
      literals: Int32Array.from(literals),
      activity: this.clauseStep,
      spread: levels.size + 1,
      deleted: false,
    }
    this.learned.push(clause)
    for (const index of [0, 2]) {
      this.watching[literals[index]! ^ 1]!.push(clause)
      this.watchedFrom[literals[index]! ^ 1]!.push(1 - literals[index + 1]!)
    }
    this.raise(literals[0]!, literals[1]!, clause)
  }

  /** A requirement that follows from the others by the lag or clause that brought it about adds nothing to the clause. */
  private impliedByOthers(bound: number): boolean {
    const { trail, required } = this
    const value = required[bound]!
    const reason = trail.reasonAt[trail.changeOf(bound, value)]!
    const holds = (other: number, least: number): boolean =>
      least <= trail.root[other]! || (other !== bound && least <= required[other]!)
    if (reason.kind === 'lag') return holds(reason.source, value - reason.lag)
    if (reason.kind !== 'clause') return false
    const { literals } = reason
    for (let index = 0; index < literals.length; index += 2) {
      if (literals[index] !== bound && !holds(literals[index]! ^ 1, 1 - literals[index + 1]!)) return false
    }
    return true
  }

  private clearRequired(): void {
    for (const bound of this.touched) this.required[bound] = UNREQUIRED
    this.touched.length = 0
  }

  private levelStart = 0

  private noteLevelStart(): void {
    this.levelStart = this.trail.levelStarts[this.trail.level]!
  }

  private valueAtLevelStart(bound: number): number {
    return this.trail.valueBefore(this.levelStart, bound)
  }

  private require(bound: number, value: number): void {
    const before = this.required[bound]!
    if (value <= before || value <= this.trail.root[bound]!) return
    if (before === UNREQUIRED) this.touched.push(bound)
    this.required[bound] = value
    const start = this.valueAtLevelStart(bound)
    if (value > start && before <= start) this.openHere += 1
  }

  /** Requires what forced (bound, value); all bounds are as they were just before. */
  private explain(reason: Reason, bound: number, value: number): void {
    switch (reason.kind) {
      case 'decision':
        return
      case 'lag':
        this.require(reason.source, value - reason.lag)
        return
      case 'clause': {
        const { literals } = reason
        reason.activity += this.clauseStep
        for (let index = 0; index < literals.length; index += 2) {
          if (literals[index] !== bound) this.require(literals[index]! ^ 1, 1 - literals[index + 1]!)
        }
        return
      }
      case 'crowded': {
        const activity = bound >> 1
        if ((bound & 1) === 0) this.require(bound, reason.time + 1 - this.durations[activity]!)
        else this.require(bound, -reason.time)
        this.explainCrowd(reason.time, activity)
        return
      }
      case 'follows': {
        const { before, after } = reason
        const { bounds, root } = this.trail
        const length = this.durations[after]!
        const atMost = bounds[2 * after]! + length - 1
        const split = Math.min(atMost, Math.max(-bounds[2 * before + 1]!, root[2 * after]! + length - 1))
        this.require(2 * before + 1, -split)
        this.require(2 * after, split + 1 - length)
        const duration = this.durations[before]!
        if ((bound & 1) === 0) this.require(2 * before, value - duration)
        else this.require(2 * after + 1, value - duration)
      }
    }
  }

  /** Requires compulsory parts that at this time leave too little for the activity, or overload a resource when it is -1. */
  private explainCrowd(time: number, activity: number): void {
    const { bounds, root } = this.trail
    const running: number[] = []
    for (const other of this.needy) {
      if (other !== activity && -bounds[2 * other + 1]! <= time && bounds[2 * other]! + this.durations[other]! > time)
        running.push(other)
    }
    for (let resource = 0; resource < this.project.capacities.length; resource++) {
      const need = (other: number): number => this.project.needs[other]![resource]!
      const allowed = this.project.capacities[resource]! - (activity < 0 ? 0 : need(activity))
      let sum = 0
      for (const other of running) sum += need(other)
      if (sum <= allowed) continue
      const known = (bound: number, value: number): boolean => value <= root[bound]! || value <= this.required[bound]!
      const price = (other: number): number =>
        (known(2 * other, time + 1 - this.durations[other]!) ? 0 : 1) + (known(2 * other + 1, -time) ? 0 : 1)
      const ranked = running.filter((other) => need(other) > 0).map((other) => ({ other, price: price(other) }))
      ranked.sort((a, b) => a.price - b.price || need(b.other) - need(a.other))
      let covered = 0
      let used = 0
      while (covered <= allowed) covered += need(ranked[used++]!.other)
      for (let index = used - 1; index >= 0; index--) {
        const { other } = ranked[index]!
        if (covered - need(other) > allowed) {
          covered -= need(other)
          continue
        }
        this.require(2 * other, time + 1 - this.durations[other]!)
        this.require(2 * other + 1, -time)
      }
      return
    }
  }

  private forgetHalf(): void {
    const ranked = this.learned.toSorted((a, b) => b.activity - a.activity)
    ranked.forEach((clause, index) => {
      if (index > ranked.length / 2 && clause.spread > 2) clause.deleted = true
    })
    this.learned = ranked.filter((clause) => !clause.deleted)
  }
}

interface LagReason {
  readonly kind: 'lag'
  readonly source: number
  readonly target: number
  readonly lag: number
}

interface Rival {
  readonly other: number
  /** This one before the other, and after it. */
  readonly before: Reason
  readonly after: Reason
}

type Conflict =
  /** The literal is forced and impossible. */
  | { readonly kind: 'empty'; readonly bound: number; readonly value: number; readonly reason: Reason }
  | { readonly kind: 'overload'; readonly time: number }

const DECISION: Reason = { kind: 'decision' }
const UNREQUIRED = -0x40000000
const KEPT_CLAUSES = 4000

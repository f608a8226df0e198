import type {
  Hold,
  Interval,
  Lag,
  Plan,
  PlannedStep,
  PlanningProblem,
  PlanStep,
} from '../../../core/planning/problem/model.ts'

/**
 * Everything that is wrong with a plan, as sentences; empty when it keeps every constraint of the model. Written from
 * the model's words alone: it shares no code with the planner and prefers the plain way to the quick one.
 */
export function faultsOf(problem: PlanningProblem, plan: Plan): string[] {
  return new Validator(problem, plan).faults()
}

class Validator {
  readonly problem: PlanningProblem
  readonly plan: Plan
  readonly found: string[] = []
  readonly step = new Map<string, PlanStep>()
  readonly placed = new Map<string, PlannedStep>()

  constructor(problem: PlanningProblem, plan: Plan) {
    this.problem = problem
    this.plan = plan
    for (const step of problem.steps) this.step.set(step.id, step)
    for (const step of plan.steps) this.placed.set(step.id, step)
  }

  faults(): string[] {
    this.everyStepOnce()
    if (this.found.length > 0) return this.found
    for (const step of this.problem.steps) this.timesOf(step)
    this.makersDoOneThingAtATime()
    for (const step of this.problem.steps) this.setUpOf(step)
    for (const lag of this.problem.lags) this.lagKept(lag)
    for (const step of this.problem.steps) this.remedyOf(step)
    for (const station of this.problem.stations) this.capacityOf(station.id, station.capacity)
    this.cleanAir()
    this.sums()
    return this.found
  }

  fault(text: string): void {
    this.found.push(text)
  }

  at(id: string): PlannedStep {
    return this.placed.get(id)!
  }

  isToDo(id: string): boolean {
    return this.step.get(id)!.state.kind === 'to-do'
  }

  everyStepOnce(): void {
    if (this.plan.steps.length !== this.problem.steps.length)
      this.fault('the plan has another number of steps than the problem')
    for (const { id } of this.problem.steps) if (!this.placed.has(id)) this.fault(`${id} is not in the plan`)
    for (const { id, start, end } of this.plan.steps) {
      if (!Number.isInteger(start) || !Number.isInteger(end) || end < start)
        this.fault(`${id} has no proper times: ${start}-${end}`)
    }
  }

  timesOf(step: PlanStep): void {
    const planned = this.at(step.id)
    const { start, end, stretches, makers } = planned
    const say = (text: string): void => this.fault(`${step.id}: ${text}`)
    if (step.state.kind === 'done') {
      if (start !== step.state.startedAt || end !== step.state.endedAt)
        say('is done, and the plan says other times than the log')
      return
    }
    const worked = stretches.reduce((sum, { from, to }) => sum + to - from, 0)
    stretches.forEach(({ from, to }, index) => {
      if (from >= to) say('has an empty stretch')
      if (index > 0 && from <= stretches[index - 1]!.to) say('has stretches that overlap or touch')
    })
    if (stretches.length > 0 && stretches[stretches.length - 1]!.to !== end) say('does not end with its last stretch')
    if (new Set(makers).size !== makers.length) say('has a maker twice')
    if (step.state.kind === 'running') {
      if (start !== step.state.startedAt) say('is running, and the plan says another start than the log')
      if (worked !== step.minutes) say(`has ${worked} minutes planned of the ${step.minutes} that are left`)
      if (stretches.length > 0 && stretches[0]!.from < this.problem.now) say('goes on in the past')
      if (step.state.maker !== null && step.minutes > 0 && !makers.includes(step.state.maker))
        say('is taken from the maker who has it')
      if (!step.interruptible && stretches.length > 1) say('is interrupted')
      return
    }
    if (start < this.problem.now) say('starts in the past')
    if (step.release !== undefined && start < step.release) say('starts before its release')
    const pinned = this.livePin(step)
    if (pinned !== undefined && start < pinned.from) say('starts before the day it is pinned to')

    const total = step.minutes + planned.setUpMin + planned.remedyMin
    if (worked !== total) say(`is worked on for ${worked} minutes instead of ${total}`)
    if (total === 0) {
      if (start !== end) say('is a milestone and takes time')
      return
    }
    if (stretches[0]!.from !== start) say('does not start with its first stretch')
    if (makers.length !== Math.max(1, step.hands)) say(`has ${makers.length} makers instead of ${step.hands}`)
    for (const maker of makers)
      if (step.makers !== undefined && !step.makers.includes(maker)) say(`is done by ${maker}, who may not`)
    const open = this.openTogether(makers).flatMap((session) =>
      step.allowed === undefined
        ? [session]
        : step.allowed
            .map(({ from, to }) => ({ from: Math.max(session.from, from), to: Math.min(session.to, to) }))
            .filter(({ from, to }) => from < to),
    )
    for (const { from, to } of stretches) {
      if (!open.some((session) => session.from <= from && to <= session.to))
        say(`is worked on outside hours, ${from}-${to}`)
    }
    if (!step.interruptible) {
      if (stretches.length > 1) say('is interrupted')
      return
    }
    let left = total
    for (const session of open) {
      const from = Math.max(session.from, start)
      const to = Math.min(session.to, end)
      if (from >= to) continue
      const worth = Math.min(step.smallestStretchMin, left)
      const stretch = stretches.find((each) => each.from === from && each.to === to)
      if (stretch === undefined) {
        if (Math.min(session.to - from, left) >= worth) say(`pauses from ${from} while its makers are there`)
      } else {
        if (to - from < worth) say(`has a stretch of ${to - from} minutes that is not worth starting`)
        left -= to - from
      }
    }
  }

  livePin(step: PlanStep): Interval | undefined {
    return step.pinned !== undefined && step.pinned.to > this.problem.now ? step.pinned : undefined
  }

  /** Sessions of each maker, with those that touch made one, then common to all of them. */
  openTogether(makers: readonly string[]): Interval[] {
    let common: Interval[] | null = null
    for (const id of makers) {
      const own = this.sessionsOf(id)
      common =
        common === null
          ? own
          : common
              .flatMap((a) => own.map((b) => ({ from: Math.max(a.from, b.from), to: Math.min(a.to, b.to) })))
              .filter(({ from, to }) => from < to)
    }
    return common ?? []
  }

  sessionsOf(maker: string): Interval[] {
    const merged: { from: number; to: number }[] = []
    for (const { from, to } of this.problem.makers.find(({ id }) => id === maker)?.hours ?? []) {
      const last = merged[merged.length - 1]
      if (last?.to === from) last.to = to
      else merged.push({ from, to })
    }
    return merged
  }

  /** Interval in which a step that is not done keeps its makers from anything else. */
  occupies({ id }: PlanStep): Interval | null {
    const first = this.at(id).stretches[0]
    return first === undefined ? null : { from: first.from, to: this.at(id).end }
  }

  makersDoOneThingAtATime(): void {
    for (const maker of this.problem.makers) {
      const busy = this.problem.steps
        .filter((step) => step.state.kind !== 'done' && this.at(step.id).makers.includes(maker.id))
        .flatMap((step) => {
          const interval = this.occupies(step)
          return interval === null ? [] : [{ ...interval, id: step.id }]
        })
        .sort((a, b) => a.from - b.from)
      for (let index = 1; index < busy.length; index++) {
        const before = busy[index - 1]!
        if (busy[index]!.from < before.to)
          this.fault(`${maker.id} does ${before.id} and ${busy[index]!.id} at the same time`)
      }
    }
  }

  setUpOf(step: PlanStep): void {
    if (!this.isToDo(step.id)) return
    const planned = this.at(step.id)
    const setUp = step.minutes === 0 ? undefined : step.setUp
    const isThere =
      setUp !== undefined && planned.makers.some((maker) => this.familyInMachine(maker, planned.start) === setUp.family)
    const expected = setUp === undefined || isThere ? 0 : setUp.minutes
    if (planned.setUpMin !== expected)
      this.fault(`${step.id}: setup of ${planned.setUpMin} minutes instead of ${expected}`)
  }

  /** Family of the last step with one that the maker ended in the session that runs at `start`. */
  familyInMachine(maker: string, start: number): string | null {
    const session = this.sessionsOf(maker).find(({ from, to }) => from <= start && start < to)
    if (session === undefined) return null
    const ended = this.problem.steps
      .filter((step) => step.setUp !== undefined && (step.minutes > 0 || step.state.kind === 'done'))
      .filter((step) => this.didIt(step, maker) && this.at(step.id).end <= start && this.at(step.id).end > session.from)
      .sort(
        (a, b) =>
          this.at(b.id).end - this.at(a.id).end || Number(a.state.kind === 'done') - Number(b.state.kind === 'done'),
      )
    return ended[0]?.setUp?.family ?? null
  }

  didIt(step: PlanStep, maker: string): boolean {
    if (step.state.kind !== 'done') return this.at(step.id).makers.includes(maker)
    return this.problem.makers.length === 1 || step.state.maker === maker
  }

  /** First whole minute at which the progress of the clock since `start` reaches `minutes`, one minute after the other. */
  over(start: number, minutes: number, clockId: string | undefined): number {
    if (clockId === undefined || minutes <= 0) return start + minutes
    const { segments } = this.problem.clocks.find(({ id }) => id === clockId)!
    let progress = 0
    let at = start
    let segment = 0
    while (progress < minutes - 1e-6) {
      while (segment + 1 < segments.length && segments[segment + 1]!.from <= at) segment += 1
      const { rate } = segments[segment]!
      if (rate === 0 && segment === segments.length - 1) return Infinity
      progress += rate
      at += 1
    }
    return at
  }

  missedWindow(lag: Lag) {
    return this.plan.missedWindows.find(
      ({ from, to, windowName }) => from === lag.from && to === lag.to && windowName === lag.name,
    )
  }

  lagKept(lag: Lag): void {
    const name = `${lag.from} -> ${lag.to}`
    const missed = this.missedWindow(lag)
    if (!this.isToDo(lag.to)) {
      if (missed !== undefined) this.fault(`${name}: a window is missed by a step that has started`)
      return
    }
    const { end } = this.at(lag.from)
    const { start } = this.at(lag.to)
    if (start < this.over(end, lag.minMin, lag.clock))
      this.fault(`${name}: starts ${start - end} after, minimum ${lag.minMin}`)
    const opens = lag.clock === undefined ? end : this.over(end, lag.minMin, lag.clock) - lag.minMin
    const closedAt = opens + (lag.maxMin ?? Infinity)
    const isMissed = start > closedAt
    if (isMissed !== (missed !== undefined))
      this.fault(`${name}: window ${isMissed ? 'missed and not said' : 'kept and said to be missed'}`)
    if (!isMissed) return
    if (lag.remedy === undefined && !this.isLed(lag.to))
      this.fault(`${name}: a hard window is missed by ${start - closedAt}`)
    if (missed?.closedAt !== closedAt || missed.startedAt !== start || missed.remedy !== (lag.remedy?.name ?? '')) {
      this.fault(`${name}: the missed window is reported wrongly`)
    }
  }

  isLed(id: string, seen = new Set<string>()): boolean {
    if (seen.has(id)) return false
    seen.add(id)
    return this.problem.lags.some(({ from, to }) => to === id && (!this.isToDo(from) || this.isLed(from, seen)))
  }

  remedyOf(step: PlanStep): void {
    if (!this.isToDo(step.id)) return
    const minutes = this.problem.lags
      .filter((lag) => lag.to === step.id && this.missedWindow(lag) !== undefined)
      .reduce((sum, lag) => sum + (lag.remedy?.minutes ?? 0), 0)
    if (this.at(step.id).remedyMin !== minutes)
      this.fault(`${step.id}: remedies take ${minutes} minutes, planned are ${this.at(step.id).remedyMin}`)
  }

  heldBy(step: PlanStep, hold: Hold): Interval {
    const { start, end } = this.at(step.id)
    switch (hold.until.kind) {
      case 'end':
        return { from: start, to: end }
      case 'after':
        return { from: start, to: this.over(end, hold.until.minutes, hold.until.clock) }
      case 'start-of':
        return { from: start, to: this.at(hold.until.step).start }
      case 'end-of':
        return { from: start, to: this.at(hold.until.step).end }
    }
  }

  capacityOf(station: string, capacity: number): void {
    const held = this.problem.steps.flatMap((step) =>
      step.holds
        .filter((hold) => hold.station === station)
        .map((hold) => ({ ...this.heldBy(step, hold), units: hold.units, id: step.id, planned: this.isToDo(step.id) })),
    )
    for (const { from } of held) {
      const instant = Math.max(from, this.problem.now)
      const then = held.filter((each) => each.from <= instant && instant < each.to)
      const units = then.reduce((sum, each) => sum + each.units, 0)
      if (units > capacity && then.some((each) => each.planned && each.units > 0)) {
        this.fault(`${station}: ${units} of ${capacity} taken at ${instant} by ${then.map(({ id }) => id).join(', ')}`)
      }
    }
  }

  cleanAir(): void {
    for (const coat of this.problem.steps) {
      if (coat.tackyMin === 0) continue
      const { start, end } = this.at(coat.id)
      const dry = this.over(end, coat.tackyMin, coat.tackyClock)
      for (const dusty of this.problem.steps) {
        if (!dusty.dusty || dusty.room !== coat.room || (!this.isToDo(coat.id) && !this.isToDo(dusty.id))) continue
        for (const { from, to } of this.at(dusty.id).stretches) {
          if (from < dry && start < to)
            this.fault(`${dusty.id} raises dust at ${from}-${to} while ${coat.id} is wet, ${start}-${dry}`)
        }
      }
    }
  }

  sums(): void {
    const { now, patienceMin = Infinity } = this.problem
    let tardiness = 0
    let completion = 0
    for (const { id, promise, aim, weight } of this.problem.commissions) {
      const ends = this.problem.steps
        .filter(({ commissionId }) => commissionId === id)
        .map((step) => this.at(step.id).end)
      const doneAt = ends.length === 0 ? now : Math.max(...ends)
      const late = promise === null ? 0 : Math.max(0, doneAt - promise)
      const said = this.plan.commissions.find((each) => each.id === id)
      if (said?.doneAt !== doneAt || said.lateMin !== late)
        this.fault(`commission ${id}: done ${doneAt}, late ${late}, said ${JSON.stringify(said)}`)
      const past = promise === null ? 0 : Math.max(0, doneAt - (aim ?? promise))
      tardiness += weight * (past + Math.max(0, past - patienceMin) ** 2 / 1440)
      if (promise === null) completion += weight * (doneAt - now)
    }
    for (const piece of new Set(this.problem.steps.map(({ pieceId }) => pieceId))) {
      const doneAt = Math.max(
        ...this.problem.steps.filter(({ pieceId }) => pieceId === piece).map((step) => this.at(step.id).end),
      )
      if (this.plan.pieces.find(({ id }) => id === piece)?.doneAt !== doneAt)
        this.fault(`piece ${piece} is done at ${doneAt}, which is not said`)
    }
    const late = this.problem.steps.filter(
      (step) => this.isToDo(step.id) && this.at(step.id).start >= (this.livePin(step)?.to ?? Infinity),
    )
    const said = this.plan.missedPins.map(({ step }) => step)
    if (
      late
        .map(({ id }) => id)
        .sort()
        .join() !== [...said].sort().join()
    )
      this.fault('the missed pins are reported wrongly')
    const moved = this.problem.announced.filter(
      ({ step, start }) => this.step.get(step)?.state.kind === 'to-do' && this.at(step).start !== start,
    )
    const { objective } = this.plan
    const close = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a))
    if (objective.missedWindows !== this.plan.missedWindows.length + late.length)
      this.fault('the number of missed windows is wrong')
    if (!close(tardiness, objective.weightedTardiness))
      this.fault(`weighted tardiness is ${tardiness}, said ${objective.weightedTardiness}`)
    if (!close(completion, objective.weightedCompletion))
      this.fault(`weighted completion is ${completion}, said ${objective.weightedCompletion}`)
    const last = Math.max(now, ...this.plan.steps.map(({ end }) => end))
    if (objective.makespanMin !== last - now) this.fault(`makespan is ${last - now}, said ${objective.makespanMin}`)
    if (objective.moved !== moved.length) this.fault(`${moved.length} announced starts moved, said ${objective.moved}`)
  }
}

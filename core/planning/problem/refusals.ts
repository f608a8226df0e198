import { problem, type Problem } from '../../problems.ts'
import { circleProblems, holdProblems } from './circle-refusals.ts'
import { fitProblems } from './fit-refusals.ts'
import { LATEST } from './instants.ts'
import type { PlanMaker, PlanningProblem } from './model.ts'
import { positionsOf } from './positions.ts'
import { findLagShapeProblems, findStepShapeProblems, idsOf } from './shape-refusals.ts'
import { isInstant, isMinutes } from './sound-numbers.ts'

/** More than this and only the first ones are named. */
const MOST_PROBLEMS = 50
/** Crews are counted in combinations; beyond this many makers the planner does not go. */
const MOST_MAKERS = 30

/**
 * What makes a problem senseless or impossible, before anything is planned; empty when nothing does. `field` is
 * `steps.<id>`, `stations.<id>`, `makers.<id>`, `clocks.<id>` or `commissions.<id>`. A lag is named at the step that it leads to.
 */
export function refusals(input: PlanningProblem): readonly Problem[] {
  const shop = [
    ...instantProblems(input),
    ...makerProblems(input),
    ...stationProblems(input),
    ...clockProblems(input),
    ...commissionProblems(input),
  ]
  const found = [...shop, ...twinIds(input)]
  const ids = idsOf(input)
  for (const step of input.steps) findStepShapeProblems(found, ids, step, input.now)
  for (const lag of input.lags) findLagShapeProblems(found, input, ids, lag)
  // Whether a step fits can only be asked of numbers that make sense.
  if (found.length === 0) found.push(...fitProblems(input), ...circleProblems(input), ...holdProblems(input))
  return found.slice(0, MOST_PROBLEMS)
}

function instantProblems({ now }: PlanningProblem): Problem[] {
  return isInstant(now)
    ? []
    : [
        problem(
          'bad-instant',
          'The present must be a whole minute of this age: check the clock of the computer.',
          'now',
        ),
      ]
}

function makerProblems({ makers }: PlanningProblem): Problem[] {
  const found: Problem[] = []
  if (makers.length > MOST_MAKERS) {
    found.push(
      problem(
        'too-many-makers',
        `The shop has ${makers.length} makers; the planner knows at most ${MOST_MAKERS}.`,
        'makers',
      ),
    )
  }
  for (const maker of makers) {
    const field = `makers.${maker.id}`
    if (!maker.hours.every(({ from, to }) => isInstant(from) && isInstant(to) && from < to)) {
      found.push(
        problem(
          'bad-hours',
          `Hours of ${maker.name} do not begin before they end: correct them in the almanac.`,
          field,
        ),
      )
    } else if (!areInOrder(maker)) {
      found.push(
        problem(
          'hours-out-of-order',
          `Hours of ${maker.name} overlap or are out of order: list each session once, earliest first.`,
          field,
        ),
      )
    }
  }
  return found
}

const areInOrder = ({ hours }: PlanMaker): boolean =>
  hours.every(({ from }, index) => index === 0 || hours[index - 1]!.to <= from)

function stationProblems({ stations }: PlanningProblem): Problem[] {
  return stations.flatMap(({ id, name, capacity }) =>
    isMinutes(capacity)
      ? []
      : [problem('bad-capacity', `${name} must be a whole number, 0 or more, not ${capacity}.`, `stations.${id}`)],
  )
}

/** No product cures a thousand times as fast as at its reference; beyond that sums of rates lose their minutes. */
const FASTEST = 1000

function clockProblems({ clocks, now }: PlanningProblem): Problem[] {
  return clocks.flatMap(({ id, segments }) => {
    const isSound =
      segments.length > 0 &&
      segments[0]!.from <= now &&
      segments.every(
        ({ from, rate }, index) =>
          Math.abs(from) <= LATEST && rate >= 0 && rate <= FASTEST && (index === 0 || segments[index - 1]!.from < from),
      )
    return isSound
      ? []
      : [
          problem(
            'bad-clock',
            `The cure clock ${id} must begin by now, go forward, and run at rates from 0 to ${FASTEST}.`,
            `clocks.${id}`,
          ),
        ]
  })
}

function commissionProblems({ commissions }: PlanningProblem): Problem[] {
  return commissions.flatMap(({ id, name, promise, weight }) => {
    const field = `commissions.${id}`
    const found: Problem[] = []
    if (!(weight > 0 && weight < 1e6))
      found.push(problem('bad-weight', `The weight of ${name} must be above 0, not ${weight}.`, field))
    if (promise !== null && !isInstant(promise))
      found.push(problem('bad-promise', `The promise of ${name} is not a date: enter it again.`, field))
    return found
  })
}

function twinIds(input: PlanningProblem): Problem[] {
  const groups: readonly (readonly [string, readonly { readonly id: string; readonly name?: string }[]])[] = [
    ['steps', input.steps],
    ['makers', input.makers],
    ['stations', input.stations],
    ['clocks', input.clocks],
    ['commissions', input.commissions],
  ]
  return groups.flatMap(([group, items]) => {
    if (positionsOf(items).size === items.length) return []
    const seen = new Set<string>()
    return items.flatMap(({ id, name }) => {
      if (!seen.has(id)) {
        seen.add(id)
        return []
      }
      return [problem('twin-id', `${name ?? id} is listed twice: each must have an id of its own.`, `${group}.${id}`)]
    })
  })
}
<<<<<<< HEAD

/** Windows are shared by many steps, and looked over once. */
const soundWindows = new WeakSet<readonly Interval[]>()

function areSoundWindows(windows: readonly Interval[]): boolean {
  if (soundWindows.has(windows)) return true
  const isSound = windows.every(
    ({ from, to }, index) =>
      isInstant(from) && isInstant(to) && from < to && (windows[index - 1]?.to ?? EARLIEST) <= from,
  )
  if (isSound) soundWindows.add(windows)
  return isSound
}

function findStepShapeProblems(found: Problem[], ids: KnownIds, step: PlanStep, now: number): void {
  const add = (code: string, what: string): void =>
    void found.push(problem(code, `${stepWords(step)} ${what}`, `steps.${step.id}`))
  const { state, pinned } = step

  const isTimed =
    isMinutes(step.minutes) &&
    isMinutes(step.tackyMin) &&
    isMinutes(step.smallestStretchMin) &&
    isMinutes(step.setUp?.minutes ?? 0)
  if (!isTimed) add('bad-minutes', 'needs its minutes as whole numbers, 0 or more.')
  if (!isWhole(step.hands, step.minutes > 0 ? 1 : 0, 1000)) add('no-hands', 'needs at least one maker: say how many.')
  if (!ids.commissions.has(step.commissionId)) add('unknown-commission', 'belongs to a commission that is not there.')
  if (step.makers?.some((id) => !ids.makers.has(id)) === true)
    add('unknown-maker', 'names a maker who is not in the almanac: choose somebody else.')
  if (step.release !== undefined && !isInstant(step.release))
    add('bad-release', 'waits for something that is not a date.')
  if (pinned !== undefined && !(isInstant(pinned.from) && isInstant(pinned.to) && pinned.from < pinned.to)) {
    add('bad-pin', 'is pinned to a day that ends before it begins.')
  }
  if (step.allowed !== undefined && !areSoundWindows(step.allowed))
    add('bad-windows', 'may be done only within times that overlap or are out of order.')
  if (step.dusty && step.tackyMin > 0) add('dust-on-wet', 'raises dust and leaves wet finish: make two steps of it.')
  if (step.tackyClock !== undefined && !ids.clocks.has(step.tackyClock))
    add('unknown-clock', 'dries on a clock that is not there.')
  if (state.kind !== 'to-do' && !isInstant(state.startedAt)) add('bad-log', 'was started at a time that is not a date.')
  if (state.kind === 'running' && state.startedAt > now)
    add('bad-log', 'was started at a time that is still to come: set the clock right, or take the start back.')
  if (state.kind === 'done' && !(isInstant(state.endedAt) && state.startedAt <= state.endedAt)) {
    add('bad-log', 'was finished before it was started: correct the log.')
  }
  if (state.kind === 'running' && state.maker !== null && !ids.makers.has(state.maker)) {
    add('unknown-maker', 'is on the bench of a maker who is not in the almanac.')
  }
  for (const hold of step.holds) findHoldShapeProblems(add, ids, hold)
}

const isSpread = (
  { optimistic, pessimistic }: { readonly optimistic: number; readonly pessimistic: number },
  typical: number,
): boolean =>
  Number.isFinite(optimistic) &&
  Number.isFinite(pessimistic) &&
  optimistic <= typical &&
  typical <= pessimistic &&
  pessimistic <= LATEST

function findHoldShapeProblems(
  add: (code: string, what: string) => void,
  ids: KnownIds,
  { station, units, until }: Hold,
): void {
  if (!ids.stations.has(station))
    add('unknown-station', 'needs a station that is not in the almanac: add it, or choose another.')
  if (!isMinutes(units)) add('bad-units', `must take a whole number of units, not ${units}.`)
  if (until.kind === 'after' && !isMinutes(until.minutes))
    add('bad-minutes', 'holds on for a time that is not a whole number of minutes.')
  if (until.kind === 'after' && until.clock !== undefined && !ids.clocks.has(until.clock))
    add('unknown-clock', 'holds on by a clock that is not there.')
  if ('step' in until && !ids.steps.has(until.step)) add('unknown-step', 'holds on until a step that is not there.')
}

function findLagShapeProblems(found: Problem[], input: PlanningProblem, ids: KnownIds, lag: Lag): void {
  const { name, minMin, maxMin, clock, remedy, spread } = lag
  const add = (code: string, message: string): void => void found.push(problem(code, message, `steps.${lag.to}`))
  const from = ids.steps.get(lag.from)
  const to = ids.steps.get(lag.to)
  if (from === undefined || to === undefined) {
    add('unknown-step', `The wait “${name}” leads from or to a step that is not there.`)
    return
  }
  const before = (what: string): string => `${what} “${name}” before ${stepWords(input.steps[to]!)}`
  if (!isWhole(minMin, -LATEST)) add('bad-minutes', `${before('The wait')} must be a whole number of minutes.`)
  if (maxMin !== null && !isWhole(maxMin, -LATEST))
    add('bad-minutes', `${before('The window')} must be a whole number of minutes.`)
  if (maxMin !== null && maxMin < minMin) {
    const [first, second] = [stepWords(input.steps[from]!), stepWords(input.steps[to]!)]
    add(
      'empty-window',
      `${second} may start ${hoursWords(minMin)} after ${first} at the earliest and ${hoursWords(maxMin)} at the latest: nothing lies between. Correct the window “${name}”.`,
    )
  }
  if (clock !== undefined && minMin < 0)
    add('negative-cure', `${before('The wait')} runs on a cure clock and cannot be negative.`)
  if (clock !== undefined && !ids.clocks.has(clock))
    add('unknown-clock', `${before('The wait')} runs on a clock that is not there.`)
  if (remedy !== undefined && !isMinutes(remedy.minutes))
    add('bad-minutes', `“${remedy.name}” before ${stepWords(input.steps[to]!)} must take a whole number of minutes.`)
  if (spread !== undefined && !isSpread(spread, minMin))
    add('bad-spread', `${before('The wait')} must lie between its shortest and its longest.`)
}

function fitProblems(input: PlanningProblem): Problem[] {
  const crews = new CrewSessions(input)
  const found: Problem[] = []
  // A milestone takes nobody's time but may have to be made good for.
  const remedied = new Set(input.lags.filter(({ remedy }) => (remedy?.minutes ?? 0) > 0).map(({ to }) => to))
  for (const step of input.steps) {
    if (step.state.kind !== 'to-do') continue
    const able = step.makers === undefined ? input.makers.length : new Set(step.makers).size
    if ((step.minutes > 0 || remedied.has(step.id)) && Math.max(1, step.hands) > able) {
      const who = step.makers === undefined ? 'the shop has' : 'may be done by'
      found.push(
        problem(
          'too-many-hands',
          `${stepWords(step)} needs ${step.hands} makers at once, ${who} ${able}: ask for help, or find a way with fewer hands.`,
          `steps.${step.id}`,
        ),
      )
    } else if (step.minutes > 0) {
      found.push(...sessionProblems(step, crews.longestFor(step)))
    }
    if (step.holds.length > 0) found.push(...needProblems(input, step))
  }
  return found
}

function needProblems({ stations }: PlanningProblem, step: PlanStep): Problem[] {
  const found: Problem[] = []
  step.holds.forEach(({ station: id }, index) => {
    if (step.holds.findIndex(({ station }) => station === id) < index) return
    const { name, capacity } = stations[positionsOf(stations).get(id)!]!
    const units = step.holds.reduce((sum, hold) => sum + (hold.station === id ? hold.units : 0), 0)
    if (units <= capacity) return
    found.push(
      problem(
        'need-above-capacity',
        `${stepWords(step)} needs ${units} of ${name}, the almanac has ${capacity}: split the step, or get more.`,
        `steps.${step.id}`,
      ),
    )
  })
  return found
}

function sessionProblems(step: PlanStep, longest: number): Problem[] {
  const setUp = step.setUp?.minutes ?? 0
  const inOneGo = step.interruptible ? Math.min(step.smallestStretchMin, step.minutes) : step.minutes + setUp
  if (inOneGo <= longest && longest > 0) return []
  const words = stepWords(step)
  const field = `steps.${step.id}`
  if (step.allowed !== undefined && !step.interruptible)
    return [
      problem(
        'air-too-short',
        `${words} takes ${hoursWords(inOneGo)} in one go, and the air never allows it that long while somebody is there: warm the shop for longer, dry it in a warmer place, or take another glue or finish.`,
        field,
      ),
    ]
  if (longest === 0)
    return [
      problem(
        'no-hours',
        `${words} cannot be planned: nobody who may do it has hours in the shop. Enter hours in the almanac.`,
        field,
      ),
    ]
  if (!step.interruptible) {
    return [
      problem(
        'longer-than-any-session',
        `${words} takes ${hoursWords(inOneGo)} in one go, and the longest session is ${hoursWords(longest)}: make it shorter, let it be interrupted, or add a longer session.`,
        field,
      ),
    ]
  }
  return [
    problem(
      'stretch-longer-than-any-session',
      `${words} is only worth starting for ${hoursWords(inOneGo)}, and the longest session is ${hoursWords(longest)}: allow a shorter stretch, or add a longer session.`,
      field,
    ),
  ]
}

/** When each crew that may do a step is in the shop; found once for all steps that ask for the same crews. */
class CrewSessions {
  readonly #input: PlanningProblem
  readonly #ofAnyone = new Map<number, readonly Sessions[]>()
  readonly #ofWindows = new Map<readonly Interval[], Map<string, readonly Sessions[]>>()
  readonly #ofSome = new Map<string, readonly Sessions[]>()

  constructor(input: PlanningProblem) {
    this.#input = input
  }

  /** The longest session of any crew that may do the step, from when it may start. */
  longestFor({ makers, hands, release, pinned, allowed }: PlanStep): number {
    const { now } = this.#input
    const from = Math.max(now, release ?? now, pinned !== undefined && pinned.to > now ? pinned.from : now)
    let longest = 0
    for (const sessions of this.#crews(Math.max(1, hands), makers, allowed))
      longest = Math.max(longest, longestSessionAfter(sessions, from))
    return longest
  }

  #crews(
    hands: number,
    makers: readonly string[] | undefined,
    allowed: readonly Interval[] | undefined,
  ): readonly Sessions[] {
    if (allowed !== undefined) {
      const ofWindows = remembered(this.#ofWindows, allowed, () => new Map<string, readonly Sessions[]>())
      return remembered(ofWindows, `${hands}:${makers?.join('\n') ?? '*'}`, () =>
        this.#find(hands, makers).map((sessions) => sessionsWithin([sessions], sessionsOf(allowed))),
      )
    }
    if (makers === undefined) return remembered(this.#ofAnyone, hands, () => this.#find(hands, makers))
    return remembered(this.#ofSome, `${hands}:${makers.join('\n')}`, () => this.#find(hands, makers))
  }

  #find(hands: number, makers: readonly string[] | undefined): readonly Sessions[] {
    const able = this.#input.makers.filter(({ id }) => makers === undefined || makers.includes(id))
    const crews = crewsOf(
      able.map(({ hours }) => hours),
      hands,
    )
    return crews.map((crew) => commonSessions(crew.map(sessionsOf)))
  }
}

function remembered<Key, Value>(known: Map<Key, Value>, key: Key, find: () => Value): Value {
  const before = known.get(key)
  if (before !== undefined) return before
  const value = find()
  known.set(key, value)
  return value
}

const MOST_CREWS = 64

function crewsOf(all: readonly (readonly Interval[])[], hands: number): (readonly Interval[])[][] {
  let crews: { readonly members: (readonly Interval[])[]; readonly next: number }[] = [{ members: [], next: 0 }]
  for (let chosen = 0; chosen < hands; chosen++) {
    crews = crews
      .flatMap(({ members, next }) =>
        all.slice(next).map((hours, index) => ({ members: [...members, hours], next: next + index + 1 })),
      )
      .slice(0, MOST_CREWS * hands)
  }
  return crews.slice(0, MOST_CREWS).map(({ members }) => members)
}

function circleProblems(input: PlanningProblem): Problem[] {
  const circle = circleOf(arcsOf(input, ({ minMin }) => minMin >= 0))
  if (circle === null) return []
  const steps = circle.map((position) => input.steps[position]!)
  const chain = [...steps, steps[0]!].map(({ name }) => `“${name}”`).join(' before ')
  return [
    problem(
      'circle',
      `These steps wait for each other in a circle: ${chain}. Take one of the waits out.`,
      `steps.${steps[0]!.id}`,
    ),
  ]
}

/** The steps to which lags lead from each step. */
function arcsOf({ steps, lags }: PlanningProblem, counts: (lag: Lag) => boolean): Grouped {
  const positions = positionsOf(steps)
  const tails = new Int32Array(lags.length)
  const heads = new Int32Array(lags.length)
  lags.forEach((lag, index) => {
    tails[index] = counts(lag) ? positions.get(lag.from)! : -1
    heads[index] = positions.get(lag.to)!
  })
  const { from, items } = groupedBy(tails, steps.length)
  return { from, items: items.map((lag) => heads[lag]!) }
}

function holdProblems(input: PlanningProblem): Problem[] {
  const { steps, stations } = input
  const positions = positionsOf(steps)
  const ways = new Ways(arcsOf(input, () => true))
  const found: Problem[] = []
  steps.forEach((step, position) => {
    for (const { until, station } of step.holds) {
      if (!('step' in until)) continue
      const target = positions.get(until.step)!
      if (steps[target]!.state.kind !== 'to-do' || ways.lead(position, target)) continue
      const { name } = stations[positionsOf(stations).get(station)!]!
      found.push(
        problem(
          'hold-never-ends',
          `${stepWords(step)} takes ${name} until ${stepWords(steps[target]!)}, which does not come after it: let a wait lead from the one to the other, or free ${name} at another step.`,
          `steps.${step.id}`,
        ),
      )
    }
  })
  return found
}

class Ways {
  readonly #arcs: Grouped
  /** Number of the question in which each step was last come by. */
  readonly #seen: Int32Array
  #question = 0

  constructor(arcs: Grouped) {
    this.#arcs = arcs
    this.#seen = new Int32Array(arcs.from.length - 1)
  }

  /** Whether arcs lead from the one step to the other; near ones are found first. */
  lead(from: number, to: number): boolean {
    const { from: first, items } = this.#arcs
    const question = ++this.#question
    const queue = [from]
    for (let position = 0; position < queue.length; position++) {
      const step = queue[position]!
      for (let at = first[step]!; at < first[step + 1]!; at++) {
        const after = items[at]!
        if (after === to) return true
        if (this.#seen[after] === question) continue
        this.#seen[after] = question
        queue.push(after)
      }
    }
    return false
  }
}
=======
>>>>>>> d71eae0 (Split what the planner refuses by what is wrong, give crews a file, and write down what the search reaches now)

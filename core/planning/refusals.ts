import { problem, type Problem } from '../problems.ts'
import { circleOf } from './circles.ts'
import { EARLIEST, LATEST } from './instants.ts'
import type { Hold, Interval, Lag, PlanMaker, PlanningProblem, PlanStep } from './model.ts'
import { commonSessions, longestSessionAfter, sessionsOf } from './sessions.ts'
import { hoursWords, stepWords } from './step-words.ts'

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
  const twins = twinIds(input)
  const ids = idsOf(input)
  const shapes = [...input.steps.flatMap((step) => stepShapeProblems(ids, step)), ...lagShapeProblems(input, ids)]
  const found = [...shop, ...twins, ...shapes]
  // Whether a step fits can only be asked of numbers that make sense.
  if (found.length === 0) found.push(...fitProblems(input), ...circleProblems(input))
  return found.slice(0, MOST_PROBLEMS)
}

/** The ids that steps and lags may name. */
interface Ids {
  readonly steps: ReadonlySet<string>
  readonly makers: ReadonlySet<string>
  readonly stations: ReadonlySet<string>
  readonly clocks: ReadonlySet<string>
  readonly commissions: ReadonlySet<string>
}

function idsOf({ steps, makers, stations, clocks, commissions }: PlanningProblem): Ids {
  const of = (items: readonly { readonly id: string }[]): ReadonlySet<string> => new Set(items.map(({ id }) => id))
  return {
    steps: of(steps),
    makers: of(makers),
    stations: of(stations),
    clocks: of(clocks),
    commissions: of(commissions),
  }
}

const isWhole = (value: number, least: number, most: number = LATEST): boolean =>
  Number.isInteger(value) && value >= least && value <= most

const isInstant = (value: number): boolean => isWhole(value, EARLIEST)

const isMinutes = (value: number): boolean => isWhole(value, 0)

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

function clockProblems({ clocks, now }: PlanningProblem): Problem[] {
  return clocks.flatMap(({ id, segments }) => {
    const isSound =
      segments.length > 0 &&
      segments[0]!.from <= now &&
      segments.every(
        ({ from, rate }, index) =>
          Math.abs(from) <= LATEST &&
          Number.isFinite(rate) &&
          rate >= 0 &&
          (index === 0 || segments[index - 1]!.from < from),
      )
    return isSound
      ? []
      : [
          problem(
            'bad-clock',
            `The cure clock ${id} must begin by now, go forward, and never run at a rate below 0.`,
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

function stepShapeProblems(ids: Ids, step: PlanStep): Problem[] {
  const words = stepWords(step)
  const field = `steps.${step.id}`
  const found: Problem[] = []
  const add = (code: string, message: string): void => void found.push(problem(code, message, field))
  const { state, pinned, spread } = step

  const durations = [step.minutes, step.tackyMin, step.smallestStretchMin, step.setUp?.minutes ?? 0]
  if (!durations.every(isMinutes)) add('bad-minutes', `${words} needs its minutes as whole numbers, 0 or more.`)
  if (spread !== undefined && !isSpread(spread, step.minutes)) {
    add(
      'bad-spread',
      `${words} takes ${step.minutes} minutes, which must lie between its optimistic and its pessimistic minutes.`,
    )
  }
  if (!isWhole(step.hands, step.minutes > 0 ? 1 : 0, 1000))
    add('no-hands', `${words} needs at least one maker: say how many.`)
  if (!ids.commissions.has(step.commissionId))
    add('unknown-commission', `${words} belongs to a commission that is not there.`)
  if (step.makers?.some((id) => !ids.makers.has(id)) === true)
    add('unknown-maker', `${words} names a maker who is not in the almanac: choose somebody else.`)
  if (step.release !== undefined && !isInstant(step.release))
    add('bad-release', `${words} waits for something that is not a date.`)
  if (pinned !== undefined && !(isInstant(pinned.from) && isInstant(pinned.to) && pinned.from < pinned.to)) {
    add('bad-pin', `${words} is pinned to a day that ends before it begins.`)
  }
  if (step.dusty && step.tackyMin > 0)
    add('dust-on-wet', `${words} raises dust and leaves wet finish: make two steps of it.`)
  if (step.tackyClock !== undefined && !ids.clocks.has(step.tackyClock))
    add('unknown-clock', `${words} dries on a clock that is not there.`)
  if (state.kind !== 'to-do' && !isInstant(state.startedAt))
    add('bad-log', `${words} was started at a time that is not a date.`)
  if (state.kind === 'done' && !(isInstant(state.endedAt) && state.startedAt <= state.endedAt)) {
    add('bad-log', `${words} was finished before it was started: correct the log.`)
  }
  if (state.kind === 'running' && state.maker !== null && !ids.makers.has(state.maker)) {
    add('unknown-maker', `${words} is on the bench of a maker who is not in the almanac.`)
  }
  for (const hold of step.holds) found.push(...holdShapeProblems(ids, step, hold))
  return found
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

function holdShapeProblems(ids: Ids, step: PlanStep, { station, units, until }: Hold): Problem[] {
  const words = stepWords(step)
  const field = `steps.${step.id}`
  const found: Problem[] = []
  if (!ids.stations.has(station))
    found.push(
      problem(
        'unknown-station',
        `${words} needs a station that is not in the almanac: add it, or choose another.`,
        field,
      ),
    )
  if (!isMinutes(units))
    found.push(problem('bad-units', `${words} must take a whole number of units, not ${units}.`, field))
  if (until.kind === 'after' && !isMinutes(until.minutes))
    found.push(problem('bad-minutes', `${words} holds on for a time that is not a whole number of minutes.`, field))
  if (until.kind === 'after' && until.clock !== undefined && !ids.clocks.has(until.clock)) {
    found.push(problem('unknown-clock', `${words} holds on by a clock that is not there.`, field))
  }
  if ('step' in until && !ids.steps.has(until.step))
    found.push(problem('unknown-step', `${words} holds on until a step that is not there.`, field))
  return found
}

function lagShapeProblems(input: PlanningProblem, ids: Ids): Problem[] {
  const steps = new Map(input.steps.map((step) => [step.id, step]))
  return input.lags.flatMap((lag) => {
    const to = steps.get(lag.to)
    const from = steps.get(lag.from)
    const field = `steps.${lag.to}`
    if (to === undefined || from === undefined) {
      return [problem('unknown-step', `The wait “${lag.name}” leads from or to a step that is not there.`, field)]
    }
    return lagProblems(ids, lag, stepWords(from), stepWords(to)).map((found) => ({ ...found, field }))
  })
}

function lagProblems(ids: Ids, lag: Lag, from: string, to: string): Problem[] {
  const { name, minMin, maxMin, clock, remedy, spread } = lag
  const found: Problem[] = []
  if (!isWhole(minMin, -LATEST))
    found.push(problem('bad-minutes', `The wait “${name}” before ${to} must be a whole number of minutes.`))
  if (maxMin !== null && !isWhole(maxMin, -LATEST))
    found.push(problem('bad-minutes', `The window “${name}” before ${to} must be a whole number of minutes.`))
  if (maxMin !== null && maxMin < minMin) {
    found.push(
      problem(
        'empty-window',
        `${to} may start ${hoursWords(minMin)} after ${from} at the earliest and ${hoursWords(maxMin)} at the latest: nothing lies between. Correct the window “${name}”.`,
      ),
    )
  }
  if (clock !== undefined && minMin < 0)
    found.push(problem('negative-cure', `The wait “${name}” before ${to} runs on a cure clock and cannot be negative.`))
  if (clock !== undefined && !ids.clocks.has(clock))
    found.push(problem('unknown-clock', `The wait “${name}” before ${to} runs on a clock that is not there.`))
  if (remedy !== undefined && !isMinutes(remedy.minutes))
    found.push(problem('bad-minutes', `“${remedy.name}” before ${to} must take a whole number of minutes.`))
  if (spread !== undefined && !isSpread(spread, minMin)) {
    found.push(problem('bad-spread', `The wait “${name}” before ${to} must lie between its shortest and its longest.`))
  }
  return found
}

function fitProblems(input: PlanningProblem): Problem[] {
  const stations = new Map(input.stations.map((station) => [station.id, station]))
  const longest = new LongestSessions(input)
  return input.steps.flatMap((step) => {
    if (step.state.kind !== 'to-do') return []
    const words = stepWords(step)
    const field = `steps.${step.id}`
    const found: Problem[] = []
    const able = step.makers === undefined ? input.makers.length : new Set(step.makers).size
    if (step.minutes > 0 && step.hands > able) {
      const who = step.makers === undefined ? 'the shop has' : 'may be done by'
      found.push(
        problem(
          'too-many-hands',
          `${words} needs ${step.hands} makers at once, ${who} ${able}: ask for help, or find a way with fewer hands.`,
          field,
        ),
      )
    } else if (step.minutes > 0) {
      found.push(...sessionProblems(step, longest.of(step)))
    }
    const needs = new Map<string, number>()
    for (const { station, units } of step.holds) needs.set(station, (needs.get(station) ?? 0) + units)
    for (const [id, units] of needs) {
      const station = stations.get(id)!
      if (units > station.capacity) {
        found.push(
          problem(
            'need-above-capacity',
            `${words} needs ${units} of ${station.name}, the almanac has ${station.capacity}: split the step, or get more.`,
            field,
          ),
        )
      }
    }
    return found
  })
}

function sessionProblems(step: PlanStep, longest: number): Problem[] {
  const words = stepWords(step)
  const field = `steps.${step.id}`
  const setUp = step.setUp?.minutes ?? 0
  if (longest === 0)
    return [
      problem(
        'no-hours',
        `${words} cannot be planned: nobody who may do it has hours in the shop. Enter hours in the almanac.`,
        field,
      ),
    ]
  if (!step.interruptible && step.minutes + setUp > longest) {
    return [
      problem(
        'longer-than-any-session',
        `${words} takes ${hoursWords(step.minutes + setUp)} in one go, and the longest session is ${hoursWords(longest)}: make it shorter, let it be interrupted, or add a longer session.`,
        field,
      ),
    ]
  }
  const stretch = Math.min(step.smallestStretchMin, step.minutes)
  if (step.interruptible && stretch > longest) {
    return [
      problem(
        'stretch-longer-than-any-session',
        `${words} is only worth starting for ${hoursWords(stretch)}, and the longest session is ${hoursWords(longest)}: allow a shorter stretch, or add a longer session.`,
        field,
      ),
    ]
  }
  return []
}

/** The longest session of any crew that may do a step, from when it may start; looked up once for all steps that ask for the same. */
class LongestSessions {
  readonly #input: PlanningProblem
  readonly #known = new Map<string, number>()

  constructor(input: PlanningProblem) {
    this.#input = input
  }

  of({ makers, hands, release, pinned }: PlanStep): number {
    const { now } = this.#input
    const from = Math.max(now, release ?? now, pinned !== undefined && pinned.to > now ? pinned.from : now)
    const key = `${hands}:${from}:${makers?.join('\n') ?? '*'}`
    const known = this.#known.get(key)
    if (known !== undefined) return known
    const able = this.#input.makers.filter(({ id }) => makers === undefined || makers.includes(id))
    const longest = Math.max(
      0,
      ...crewsOf(
        able.map(({ hours }) => hours),
        Math.max(1, hands),
      ).map((crew) => longestSessionAfter(commonSessions(crew.map(sessionsOf)), from)),
    )
    this.#known.set(key, longest)
    return longest
  }
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
  const index = new Map(input.steps.map(({ id }, position) => [id, position]))
  const next: number[][] = input.steps.map(() => [])
  const leads: number[][] = input.steps.map(() => [])
  for (const { from, to, minMin } of input.lags) {
    leads[index.get(from)!]!.push(index.get(to)!)
    if (minMin >= 0) next[index.get(from)!]!.push(index.get(to)!)
  }
  const circle = circleOf(next)
  if (circle !== null) {
    const steps = circle.map((position) => input.steps[position]!)
    const chain = [...steps, steps[0]!].map(({ name }) => `“${name}”`).join(' before ')
    const first = steps[0]!
    return [
      problem(
        'circle',
        `These steps wait for each other in a circle: ${chain}. Take one of the waits out.`,
        `steps.${first.id}`,
      ),
    ]
  }
  return input.steps.flatMap((step) => {
    if (step.state.kind === 'done' && step.holds.length === 0) return []
    return step.holds.flatMap(({ until, station }) => {
      if (!('step' in until)) return []
      const target = input.steps[index.get(until.step)!]!
      if (target.state.kind !== 'to-do' || isReachable(leads, index.get(step.id)!, index.get(until.step)!)) return []
      const name = input.stations.find(({ id }) => id === station)!.name
      return [
        problem(
          'hold-never-ends',
          `${stepWords(step)} takes ${name} until ${stepWords(target)}, which does not come after it: let a wait lead from the one to the other, or free ${name} at another step.`,
          `steps.${step.id}`,
        ),
      ]
    })
  })
}

function isReachable(next: readonly (readonly number[])[], from: number, to: number): boolean {
  const seen = new Set<number>()
  const open = [from]
  for (let step = open.pop(); step !== undefined; step = open.pop()) {
    for (const after of next[step]!) {
      if (after === to) return true
      if (seen.has(after)) continue
      seen.add(after)
      open.push(after)
    }
  }
  return false
}

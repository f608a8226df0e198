import type { Problem } from '../../problems.ts'
import type { Interval, PlanningProblem, PlanStep } from './model.ts'
import { positionsOf } from './positions.ts'
import { commonSessions, longestSessionAfter, sessionsOf, sessionsWithin, type Sessions } from '../schedule/sessions.ts'
import { stepProblem } from './step-problem.ts'
import { durationWords } from '../../time/duration.ts'
import { stepWords } from '../reasons/step-words.ts'

/** Steps that fit no session, no crew and no station, however empty the shop is. */
export function fitProblems(input: PlanningProblem): Problem[] {
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
        stepProblem(
          step,
          'too-many-hands',
          `${stepWords(step)} needs ${step.hands} makers at once, ${who} ${able}: ask for help, or find a way with fewer hands.`,
        ),
      )
    } else if (step.minutes > 0) {
      found.push(...sessionProblems(step, crews.longestFor(step, step.allowed), crews.longestFor(step)))
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
      stepProblem(
        step,
        'need-above-capacity',
        `${stepWords(step)} needs ${units} of ${name}, the almanac has ${capacity}: split the step, or get more.`,
      ),
    )
  })
  return found
}

/** @param longest session of a crew that may do it, as far as the air allows it; `inAnyAir` whatever the air */
function sessionProblems(step: PlanStep, longest: number, inAnyAir: number): Problem[] {
  const setUp = step.setUp?.minutes ?? 0
  const inOneGo = step.interruptible ? Math.min(step.smallestStretchMin, step.minutes) : step.minutes + setUp
  if (inOneGo <= longest && longest > 0) return []
  const words = stepWords(step)
  if (inOneGo <= inAnyAir && inAnyAir > 0)
    return [
      stepProblem(
        step,
        'air-too-short',
        `${words} takes ${durationWords(inOneGo)} in one go. The air never allows it that long while somebody is there. ${step.allowedHelp ?? 'Change the air, dry it in another place, or take another glue or finish.'}`,
      ),
    ]
  if (inAnyAir === 0)
    return [
      stepProblem(
        step,
        'no-hours',
        `${words} cannot be planned: nobody who may do it has hours in the shop. Enter hours in the almanac.`,
      ),
    ]
  if (!step.interruptible) {
    return [
      stepProblem(
        step,
        'longer-than-any-session',
        `${words} takes ${durationWords(inOneGo)} in one go, and the longest session is ${durationWords(inAnyAir)}: make it shorter, let it be interrupted, or add a longer session.`,
      ),
    ]
  }
  return [
    stepProblem(
      step,
      'stretch-longer-than-any-session',
      `${words} is only worth starting for ${durationWords(inOneGo)}, and the longest session is ${durationWords(inAnyAir)}: allow a shorter stretch, or add a longer session.`,
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

  /** The longest session of any crew that may do the step, from when it may start, within `allowed` where it is given. */
  longestFor({ makers, hands, release, pinned }: PlanStep, allowed?: readonly Interval[]): number {
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

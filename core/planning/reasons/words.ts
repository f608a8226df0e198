import { capital } from '../../capital.ts'
import type { Help } from './help.ts'
import { forMaker, makerIs } from '../problem/maker-words.ts'
import type { BindingChain, Cause, PlanMaker, PlanningProblem, PlanStep } from '../problem/model.ts'
import { durationWords } from '../../time/duration.ts'
import { stepWords } from './step-words.ts'

/** How instants are written: the caller knows the time zone and the maker's habits. */
export interface InstantWords {
  /** "Thursday 18:00", "Thu 5 March 18:00". */
  readonly at: (instant: number) => string
}

export interface ChainSentence {
  readonly step: string
  /** “Flatten the panel” of Harbour checkerboard. */
  readonly name: string
  /** What it waits for: "clamps taken by “First glue-up” of Harbour checkerboard until Friday evening". */
  readonly cause: string
}

/** The binding chain in words, one a link, first link first. */
export function chainWords(
  problem: PlanningProblem,
  chain: BindingChain,
  write: InstantWords,
): readonly ChainSentence[] {
  const name = namer(problem)
  return chain.links.map(({ step, start, cause }) => ({
    step,
    name: name(step),
    cause: causeWords(problem, cause, start, write, name),
  }))
}

/** The one change that would help most: "4 more of clamps: done Thursday 18:00, 3 days sooner." */
export const helpWords = ({ addition, doneAt, soonerMin }: Help, write: InstantWords): string =>
  `${capital(addition.name)}: done ${write.at(doneAt)}, ${soonerMin >= 2880 ? `${Math.floor(soonerMin / 1440)} days` : durationWords(Math.floor(soonerMin / 60) * 60)} sooner.`

/** What a step that starts at `start` waits for: "glue in clamps until Thursday night". An end at its start goes without saying. */
function causeWords(
  problem: PlanningProblem,
  cause: Cause,
  start: number,
  write: InstantWords,
  name: (id: string) => string,
): string {
  const until = (instant: number): string => (instant === start ? 'until then' : `until ${write.at(instant)}`)
  switch (cause.kind) {
    case 'now':
      return 'can start now'
    case 'release':
      return cause.why ?? `on hold ${until(cause.until)}`
    case 'pinned':
      return `you asked for the day that begins ${write.at(cause.from)}`
    case 'wait':
      return cause.lag.minMin > 0 ? `${cause.lag.name} ${until(cause.over)}` : `after ${name(cause.lag.from)}`
    case 'closed':
      return `no shop time${forMaker(makerOf(problem, cause.maker), problem.makers)} ${until(cause.to)}`
    case 'air':
      return `the air isn’t right for glue or finish ${until(cause.to)}`
    case 'hands':
      return `${makerIs(makerOf(problem, cause.maker))} on ${name(cause.step)} ${until(cause.until)}`
    case 'station': {
      const station = problem.stations.find(({ id }) => id === cause.station)?.name ?? cause.station
      return `${station} taken by ${listed(cause.heldBy.map(name))} ${until(cause.until)}`
    }
    case 'clean-air':
      return `no dust near wet finish, ${name(cause.step)} comes first`
    case 'window':
      return `later on purpose, to leave time for ${name(cause.lag.to)}`
  }
}

const namer = (problem: PlanningProblem): ((id: string) => string) => {
  const steps = new Map<string, PlanStep>(problem.steps.map((step) => [step.id, step]))
  return (id) => {
    const step = steps.get(id)
    return step === undefined ? id : stepWords(step)
  }
}

const makerOf = ({ makers }: PlanningProblem, id: string): Pick<PlanMaker, 'name'> =>
  makers.find((maker) => maker.id === id) ?? { name: id }

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`

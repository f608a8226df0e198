import type { StandardTime } from '../constructions/shop-facts.ts'
import type { NetworkStep } from '../constructions/step-network.ts'

/** What the maker decided about times. Instants are whole minutes since the Unix epoch. */
export interface TimeChoices {
  /** Whether what the log says is planned with by itself; null: not chosen yet, so only what was accepted is. */
  readonly follow: FollowTimes | null
  readonly decisions: readonly TimeDecision[]
  /** Steps whose entries count, or don't, because the maker said so. */
  readonly entries: readonly { readonly stepId: string; readonly choice: 'count' | 'leave-out' }[]
  /** How long something takes, as the maker said before anything was logged. */
  readonly asked: readonly AskedTime[]
}

export type FollowTimes = 'by-themselves' | 'when-accepted'

/** The shop's own time in place of the book's, or the book's although the log says otherwise. */
export interface TimeDecision {
  readonly operation: string
  readonly use: { readonly kind: 'mine'; readonly perUnitMin: number } | { readonly kind: 'book' }
  readonly decidedAtMin: number
}

export interface AskedTime {
  readonly operation: string
  /** For so many units, setup apart. */
  readonly minutes: number
  readonly units: number
  readonly askedAtMin: number
}

export const NO_CHOICES: TimeChoices = { follow: null, decisions: [], entries: [], asked: [] }

/** The time that new work is planned with: the book's, unless the maker took on the shop's own. */
export function timeInUse(time: StandardTime, { decisions }: TimeChoices): StandardTime {
  const use = decisions.find(({ operation }) => operation === time.operation)?.use
  if (use?.kind !== 'mine') return time
  const pace = use.perUnitMin / time.perUnitMin
  return {
    ...time,
    perUnitMin: use.perUnitMin,
    setUpMin: time.family === null ? time.setUpMin * pace : time.setUpMin,
    source: 'your own times, from the log',
  }
}

type TimedStep = Pick<NetworkStep, 'minutes' | 'units'>

/** Minutes of a step by a time, setup that is shared apart; as drawn up where its units were not kept. */
export function minutesBy(step: TimedStep, time: StandardTime | undefined): number {
  if (step.units === null || time === undefined) return step.minutes
  return (time.family === null ? time.setUpMin : 0) + step.units.count * time.perUnitMin
}

/** What a step of an order is planned with: as drawn up, until the maker decides about times of its kind. */
export function minutesPlanned(step: TimedStep, time: StandardTime | undefined, choices: TimeChoices): number {
  if (time === undefined || !choices.decisions.some(({ operation }) => operation === time.operation))
    return step.minutes
  return Math.max(1, Math.round(minutesBy(step, timeInUse(time, choices))))
}

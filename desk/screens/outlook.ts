import type { Commission } from '../../core/book/book.ts'
import { hasFallen, markOf, type PromiseMark } from '../../core/book/chance.ts'
import { isAfterNeed, standingPromise, type OddsDays } from '../../core/book/promise.ts'
import { chanceBy } from '../../core/planning/index.ts'
import { dayNumber, localDay } from '../../core/time/local-day.ts'
import type { Moment } from '../moment.ts'
import { onceAnOrder } from '../once-a-moment.ts'
import { oddsDays } from '../planner/odds-view.ts'

/** How a promise stands, by its chance; 'none' without a promise, 'unknown' while no chance is worked out. */
export type Danger = PromiseMark | 'unknown'

/** How sure an order's day is. Days are local, chances 0..1; null: not worked out, or nothing to work out. */
export interface Outlook {
  /** Days by whose end it is done 1 in 2, 4 in 5 and 19 in 20 times. */
  readonly days: OddsDays | null
  /** Chance of the promised day. */
  readonly chance: number | null
  /** The chance that was stated when the day was given. */
  readonly stated: number | null
  /** It has fallen by two tenths or more since. */
  readonly hasFallen: boolean
  readonly danger: Danger
  /** False: of the plan before, while newer ones are worked out. */
  readonly fresh: boolean
  /** What was promised, or when it was finished, is later than the customer needs it; the promise may be kept all the same. */
  readonly missesNeed: boolean
  /** Days since the promised one, where that is over and not all of it is finished: late as a fact, whatever the chance. */
  readonly daysLate: number
  /** The day on which all of it was finished. */
  readonly finishedOn: string | null
}

/** Of what is neither promised nor planned. */
export const nothingToSay: Outlook = {
  ...{
    days: null,
    chance: null,
    stated: null,
    hasFallen: false,
    danger: 'none',
    fresh: true,
    missesNeed: false,
    daysLate: 0,
    finishedOn: null,
  },
}

/** How sure an order's day is: by its odds alone, never by the plan's date. What is finished is a fact. */
export const outlookOf = onceAnOrder(workOut)

function workOut(commission: Commission, moment: Moment): Outlook {
  if (commission.standing !== 'agreed') return nothingToSay
  const { promisedFor, neededBy } = commission
  const missesNeed = isAfterNeed(promisedFor, neededBy)
  const due = promisedFor === null ? null : moment.setting.endOfDay(promisedFor)
  const stated = standingPromise(commission, moment.book.promises)?.chance ?? null
  const finishedAt = finishedAtOf(commission, moment)
  if (finishedAt !== null) {
    const danger = due !== null && finishedAt > due ? 'late' : 'none'
    const finishedOn = localDay(finishedAt, moment.almanac.shop.timeZone)
    return { ...nothingToSay, stated, danger, missesNeed: isAfterNeed(finishedOn, neededBy), finishedOn }
  }
  const daysLate = promisedFor === null ? 0 : Math.max(0, dayNumber(moment.today) - dayNumber(promisedFor))
  // Odds of a part are not those of the whole: of what has no date nothing is worked out.
  const hasDate = dateOf(commission, moment).doneAt !== null
  const shown = hasDate ? moment.odds(commission.id) : null
  if (shown === null)
    return { ...nothingToSay, stated, danger: dangerOf(due, daysLate, null), fresh: !hasDate, missesNeed, daysLate }
  const chance = due === null ? null : chanceBy(shown.odds, due)
  return {
    days: oddsDays(shown.odds, moment.almanac.shop.timeZone),
    chance,
    stated,
    hasFallen: chance !== null && hasFallen(stated, chance),
    danger: dangerOf(due, daysLate, chance),
    fresh: shown.fresh,
    missesNeed,
    daysLate,
    finishedOn: null,
  }
}

function dangerOf(due: number | null, daysLate: number, chance: number | null): Danger {
  if (due === null) return 'none'
  if (daysLate > 0) return 'late'
  return chance === null ? 'unknown' : markOf(chance)
}

/** The instant at which the last of its steps was done; null while any is not. */
function finishedAtOf(commission: Commission, moment: Moment): number | null {
  let last: number | null = null
  for (const { id, lost } of moment.stepsOf(commission.id)) {
    if (lost === true) continue
    const progress = moment.progress(id)
    if (progress.kind !== 'done') return null
    last = Math.max(last ?? 0, progress.endedAt)
  }
  return last
}

/** When all of it is done by the plan, and how late that would be. Null while any step has no date. */
export function dateOf(commission: Commission, moment: Moment): { doneAt: number | null; lateMinutes: number } {
  const ends = moment
    .stepsOf(commission.id)
    .filter(({ lost }) => lost !== true)
    .map((step) => endOf(step.id, moment))
  const known = ends.filter((end) => end !== null)
  const doneAt = known.length < ends.length || known.length === 0 ? null : Math.max(...known)
  const due = commission.promisedFor === null ? null : moment.setting.endOfDay(commission.promisedFor)
  return { doneAt, lateMinutes: due === null ? 0 : Math.max(0, (doneAt ?? moment.now) - due) }
}

const endOf = (stepId: string, moment: Moment): number | null => {
  const progress = moment.progress(stepId)
  return progress.kind === 'done' ? progress.endedAt : (moment.planned(stepId)?.end ?? null)
}

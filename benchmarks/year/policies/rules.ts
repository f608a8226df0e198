import { dayOf, dayOfYear, DAY_MIN, endOfDay } from '../calendar.ts'
import type { Policy, Promised } from '../lived.ts'
import { LEVELS } from '../measures/judged.ts'
import { byEarliestDueDate } from './earliest-due-date.ts'
import { featuresOf, type Features } from './features.ts'

/**
 * A rule of the literature on due-date assignment: flow time is a linear function of what is known when a day is quoted.
 * @source Conway (1965) for CON and TWK, Kanet & Hayya (1982) for PPW, Eilon & Chowdhury (1976) for JIQ, Ragatz & Mabert (1984) for WIQ
 * and the comparison; names and forms from memory
 */
export interface Rule {
  readonly name: string
  readonly terms: (features: Features) => readonly number[]
}

export const RULES: readonly Rule[] = [
  { name: 'CON', terms: () => [1] },
  { name: 'TWK', terms: ({ own }) => [own] },
  { name: 'PPW', terms: ({ own, steps }) => [own, steps] },
  { name: 'JIQ', terms: ({ own, orders }) => [1, own, orders] },
  { name: 'WIQ', terms: ({ own, ahead }) => [1, own, ahead] },
  {
    name: 'regression',
    terms: ({ own, ahead, waits, steps, orders }) => [1, own, ahead, waits, steps, orders],
  },
]

/** What a rule learned in a shop. */
export interface FittedRule {
  readonly rule: Rule
  /** Minutes of flow time for each term. */
  readonly weights: readonly number[]
  /** Minutes that are added to every flow time, so that a promise is kept 4 times in 5. */
  readonly safety: number
  /** Quantiles of what was lived beyond the flow time without safety: 1 in 2, 4 in 5, 19 in 20; null: not known. */
  readonly errors: readonly [number, number, number] | null
}

export const flowTime = ({ weights }: Pick<FittedRule, 'weights'>, terms: readonly number[]): number =>
  terms.reduce((sum, term, index) => sum + term * weights[index]!, 0)

/** The end of the day that holds an instant, from tomorrow on. */
const promisedDay = (now: number, flow: number): number => endOfDay(Math.max(dayOf(now) + 1, dayOf(now + flow)))

/** @param shift minutes on top, given when the day is quoted */
export function rulePolicy(fitted: FittedRule, shift: (now: number) => number = () => 0): Policy {
  return {
    name: fitted.rule.name,
    quote(view, asked): Promised {
      const flow = flowTime(fitted, fitted.rule.terms(featuresOf(view, asked)))
      const { errors } = fitted
      const day = (beyond: number): number => promisedDay(view.now, flow + beyond)
      return {
        at: view.now,
        dueAt: day(fitted.safety + shift(view.now)),
        stated: errors === null ? null : 0.8,
        alone: null,
        days: errors === null ? null : [day(errors[0]), day(errors[1]), day(errors[2])],
        daysStated: errors === null ? null : LEVELS,
        plannedAt: null,
        pushed: null,
      }
    },
    taken: () => undefined,
    list: byEarliestDueDate,
  }
}

const FOUR_WEEKS = 28 * DAY_MIN
const SIX_WEEKS = 42 * DAY_MIN
/** 15 October. */
const BUSY_FROM_DAY = 287

/** What many makers say: four weeks, six from the middle of October on. Common practice, no source. */
export const habit: Policy = {
  name: 'habit',
  quote: ({ now }) => ({
    at: now,
    dueAt: promisedDay(now, dayOfYear(dayOf(now)) >= BUSY_FROM_DAY ? SIX_WEEKS : FOUR_WEEKS),
    ...{ stated: null, alone: null, days: null, daysStated: null, plannedAt: null, pushed: null },
  }),
  taken: () => undefined,
  list: byEarliestDueDate,
}

import { PRIOR_MISHAPS, priorAttendance, priorTimes } from '../../../core/learning/index.ts'
import { DAY_MIN, dayOf, FIRST_JUDGED_DAY } from '../calendar.ts'
import type { Policy } from '../lived.ts'
import type { Watch } from '../measures/chances-by-cause.ts'
import type { Shop } from '../shop.ts'
import { learnedTimes } from './learned-times.ts'
import { ours, type Effort, type OursOptions, type TimesTold } from './ours.ts'
import { habit, rulePolicy, RULES, type FittedRule } from './rules.ts'

/** What a policy is made from in one shop. */
export interface PolicyMaking {
  readonly shop: Shop
  readonly effort: Efforts
  /** The rule of that name, fitted on the history of the shop. */
  readonly fitted: (rule: string) => FittedRule
}

interface PolicyKind {
  readonly name: string
  /** Without `--all` and `--policies`. */
  readonly isUsual: boolean
  readonly make: (making: PolicyMaking) => Policy
}

/** How much ours looks for in the years of history and in the judged one. */
export interface Efforts {
  readonly history: Effort
  readonly judged: Effort
}

const MORE: Effort = { replications: 100, schedules: 60, evening: 200 }

/**
 * Effort of a quote and of an evening: a look, with less of it in the years of history; or a good part of what the app does while a maker
 * reads, in all years alike, as a shop's own record is of promises that were made in the same way.
 */
export const EFFORTS: Readonly<Record<'look' | 'more', Efforts>> = {
  look: {
    history: { replications: 20, schedules: 6, evening: 6 },
    judged: { replications: 60, schedules: 15, evening: 6 },
  },
  more: { history: MORE, judged: MORE },
}
const effortIn =
  ({ history, judged }: Efforts) =>
  (now: number): Effort =>
    now >= FIRST_JUDGED_DAY * DAY_MIN ? judged : history

/** What the app believes of a shop that has logged nothing. */
export const believed = ({ almanac }: Shop): TimesTold['forecast'] => ({
  times: priorTimes(
    ['maker'],
    almanac.standardTimes.map((time) => ({ ...time, id: time.operation })),
  ),
  attendance: priorAttendance([{ id: 'maker', attendance: almanac.makers[0]!.attendance }]),
  mishaps: PRIOR_MISHAPS,
})

const asInAlmanac = (shop: Shop) => (): TimesTold => ({ factor: () => 1, forecast: believed(shop) })

/** As many evenings' worth of belief as leave no doubt. */
const SURE = 10_000

/** Factors, rates and spreads as the world has them; what is drawn for a single step or evening nobody knows. */
const asTheyAre = (shop: Shop) => (): TimesTold => {
  const { world, makerBias, operationBias, attendance } = shop
  const rate = (share: number) => ({ alpha: SURE * share, beta: SURE * (1 - share) })
  const { orderSpread, stepSpread } = world.minutes
  return {
    factor: (operation) => Math.exp(makerBias + operationBias(operation)),
    forecast: {
      times: {
        ...priorTimes([], []),
        unknownMaker: { mean: 0, sd: 0 },
        unknownOperation: { mean: 0, sd: 0, noiseScale: stepSpread / Math.SQRT2 },
        orderSd: orderSpread,
      },
      attendance: {
        makers: [{ id: 'maker', met: 0, missed: 0, rate: rate(attendance), share: shareWorked(shop) }],
        ...{ unknownMaker: rate(attendance), lostWeek: rate(world.evenings.lostWeek) },
      },
      mishaps: { glueUp: rate(world.mishaps.glueUp), crack: rate(world.mishaps.crack) },
    },
  }
}

/** Which part of the evenings that are met is worked, in the years of history. */
function shareWorked({ hours, evening }: Shop): number {
  let [worked, open] = [0, 0]
  for (const session of hours) {
    const met = session.from < FIRST_JUDGED_DAY * DAY_MIN ? evening(dayOf(session.from)) : null
    if (met === null) continue
    worked += met.to - met.from
    open += session.to - session.from
  }
  return worked / open
}

/** Ours as it is, with somebody who is told how the shop stands after everything that happens. */
export const oursWatched = (shop: Shop, watch: Watch): Policy =>
  ours({ name: 'ours', shop, effort: effortIn(EFFORTS.look), times: learnedTimes(shop), dispatch: 'plan', watch })

const named = (name: string, isUsual: boolean, make: (making: PolicyMaking) => Policy): PolicyKind => ({
  ...{ name, isUsual, make },
})

const ourPlan = (
  name: string,
  isUsual: boolean,
  times: (shop: Shop) => OursOptions['times'],
  dispatch: OursOptions['dispatch'] = 'plan',
): PolicyKind =>
  named(name, isUsual, ({ shop, effort }) =>
    ours({ name, shop, effort: effortIn(effort), times: times(shop), dispatch }),
  )

export const POLICIES: readonly PolicyKind[] = [
  ourPlan('ours', true, learnedTimes),
  ourPlan('ours without learning', true, asInAlmanac),
  ourPlan('ours, earliest due date', false, learnedTimes, 'earliest-due-date'),
  named('WIQ, our plan', false, ({ shop, fitted, effort }) =>
    ours({
      ...{ name: 'WIQ, our plan', shop, effort: effortIn(effort), times: learnedTimes(shop), dispatch: 'plan' },
      quoting: rulePolicy(fitted('WIQ')),
    }),
  ),
  ourPlan('knows the truth', false, asTheyAre),
  named('habit', true, () => habit),
  ...RULES.map(({ name }) => named(name, true, ({ fitted }) => rulePolicy(fitted(name)))),
]

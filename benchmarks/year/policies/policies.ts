import { PRIOR_MISHAPS, priorAttendance, priorTimes } from '../../../core/learning/index.ts'
import type { Forecast } from '../../../core/planning/index.ts'
import { DAY_MIN, FIRST_JUDGED_DAY } from '../calendar.ts'
import type { Policy } from '../lived.ts'
import type { Shop } from '../shop.ts'
import { ours, type Effort, type TimesKnown } from './ours.ts'
import { habit, rulePolicy, RULES, type FittedRule } from './rules.ts'

/** What a policy is made from in one shop. */
export interface PolicyMaking {
  readonly shop: Shop
  /** The rule of that name, fitted on the history of the shop. */
  readonly fitted: (rule: string) => FittedRule
}

interface PolicyKind {
  readonly name: string
  /** Without `--all` and `--policies`. */
  readonly isUsual: boolean
  readonly make: (making: PolicyMaking) => Policy
}

/** Effort of a quote and of an evening in the judged year, and in the years of history. */
const JUDGED: Effort = { replications: 150, schedules: 15, evening: 6 }
const HISTORY: Effort = { replications: 30, schedules: 15, evening: 6 }
const effort = (now: number): Effort => (now >= FIRST_JUDGED_DAY * DAY_MIN ? JUDGED : HISTORY)

/** What the app believes of a shop that has logged nothing. */
export const believed = ({ almanac }: Shop): Forecast => ({
  times: priorTimes(
    ['maker'],
    almanac.standardTimes.map((time) => ({ ...time, id: time.operation })),
  ),
  attendance: priorAttendance([{ id: 'maker', attendance: almanac.makers[0]!.attendance }]),
  mishaps: PRIOR_MISHAPS,
})

const asInAlmanac = (shop: Shop) => (): TimesKnown => ({ factor: () => 1, forecast: believed(shop) })

/** As many evenings' worth of belief as leave no doubt. */
const SURE = 10_000

/** Factors, rates and spreads as the world has them; what is drawn for a single step or evening nobody knows. */
const asTheyAre =
  ({ world, makerBias, operationBias, attendance }: Shop) =>
  (): TimesKnown => {
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
        attendance: { makers: [], unknownMaker: rate(attendance), lostWeek: rate(world.evenings.lostWeek) },
        mishaps: { glueUp: rate(world.mishaps.glueUp), crack: rate(world.mishaps.crack) },
      },
    }
  }

const named = (name: string, isUsual: boolean, make: (making: PolicyMaking) => Policy): PolicyKind => ({
  ...{ name, isUsual, make },
})

export const POLICIES: readonly PolicyKind[] = [
  named('ours', true, ({ shop }) => ours({ name: 'ours', shop, effort, times: asInAlmanac(shop), dispatch: 'plan' })),
  named('ours, earliest due date', false, ({ shop }) =>
    ours({ name: 'ours, earliest due date', shop, effort, times: asInAlmanac(shop), dispatch: 'earliest-due-date' }),
  ),
  named('WIQ, our plan', false, ({ shop, fitted }) =>
    ours({
      ...{ name: 'WIQ, our plan', shop, effort, times: asInAlmanac(shop), dispatch: 'plan' },
      quoting: rulePolicy(fitted('WIQ')),
    }),
  ),
  named('knows the truth', false, ({ shop }) =>
    ours({ name: 'knows the truth', shop, effort, times: asTheyAre(shop), dispatch: 'plan' }),
  ),
  named('habit', true, () => habit),
  ...RULES.map(({ name }) => named(name, true, ({ fitted }) => rulePolicy(fitted(name)))),
]

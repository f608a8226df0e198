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
const JUDGED: Effort = { replications: 150, replanned: 20, schedules: 15, evening: 6 }
const HISTORY: Effort = { replications: 30, replanned: 5, schedules: 15, evening: 6 }
const effort = (now: number): Effort => (now >= FIRST_JUDGED_DAY * DAY_MIN ? JUDGED : HISTORY)

const asInAlmanac =
  ({ almanac }: Shop) =>
  (): TimesKnown => ({ factor: () => 1, attendance: almanac.makers[0]!.attendance })

const asTheyAre =
  ({ world, makerBias, operationBias, attendance }: Shop) =>
  (): TimesKnown => ({
    factor: (operation) => Math.exp(makerBias + operationBias(operation)),
    attendance: attendance * (1 - world.evenings.lostWeek),
  })

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

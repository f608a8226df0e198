import { DAY_MIN, FIRST_JUDGED_DAY } from './calendar.ts'
import { customersOf, type Customer } from './customers.ts'
import { liveYears } from './live-years.ts'
import type { Outcome, Policy } from './lived.ts'
import { mean, wasKept, won } from './measures/judged.ts'
import { measuresOf, type Measures } from './measures/measures.ts'
import { fitRule } from './policies/fit-rule.ts'
import type { Efforts, POLICIES } from './policies/policies.ts'
import { rulePolicy, RULES, type FittedRule } from './policies/rules.ts'
import type { Shop } from './shop.ts'

/** A shop with the customers that come to it. */
export class Town {
  readonly shop: Shop
  readonly customers: readonly Customer[]
  readonly openDoor: boolean
  readonly #fitted = new Map<string, FittedRule>()

  constructor(shop: Shop, openDoor: boolean) {
    this.shop = shop
    this.openDoor = openDoor
    this.customers = customersOf(shop, openDoor)
  }

  fitted(name: string): FittedRule {
    const known = this.#fitted.get(name)
    if (known !== undefined) return known
    const rule = RULES.find((each) => each.name === name)!
    const fitted = fitRule(rule, this.shop, this.customers, this.openDoor)
    this.#fitted.set(name, fitted)
    return fitted
  }

  live(policy: Policy): readonly Outcome[] {
    return liveYears({ shop: this.shop, customers: this.customers, policy, openDoor: this.openDoor })
  }
}

/** What came of one policy in all towns. */
export interface Ran {
  readonly policy: string
  readonly outcomes: readonly (readonly Outcome[])[]
  readonly measures: Measures
}

export function runPolicy(kind: (typeof POLICIES)[number], towns: readonly Town[], effort: Efforts): Ran {
  const outcomes = towns.map((town) =>
    town.live(kind.make({ shop: town.shop, effort, fitted: (rule) => town.fitted(rule) })),
  )
  const measures = measuresOf(outcomes)
  // A rule was fitted on the very orders that a new shop begins with.
  const isRule = RULES.some(({ name }) => name === kind.name)
  return { policy: kind.name, outcomes, measures: isRule ? { ...measures, firstTen: null } : measures }
}

const keptOf = (outcomes: readonly (readonly Outcome[])[]): number =>
  mean(outcomes.flatMap(won).map((outcome) => (wasKept(outcome) ? 1 : 0)))

const HALVINGS = 8
const FARTHEST = 40 * DAY_MIN

/**
 * The rule with every day of the judged year moved by the same time, so that it keeps the same share as somebody else did: generous
 * to the rule, which could not know. Where no move keeps exactly that, the nearest.
 */
export function atEqualShare(rule: string, kept: number, towns: readonly Town[]): Ran & { readonly shiftDays: number } {
  const from = FIRST_JUDGED_DAY * DAY_MIN
  const moved = (shift: number): readonly (readonly Outcome[])[] =>
    towns.map((town) => town.live(rulePolicy(town.fitted(rule), (now) => (now >= from ? shift : 0))))
  let [low, high] = [-FARTHEST, FARTHEST]
  let best = { shift: 0, outcomes: moved(0) }
  const off = (outcomes: readonly (readonly Outcome[])[]): number => Math.abs(keptOf(outcomes) - kept)
  for (let halving = 0; halving < HALVINGS; halving++) {
    const shift = (low + high) / 2
    const outcomes = moved(shift)
    if (off(outcomes) < off(best.outcomes)) best = { shift, outcomes }
    if (keptOf(outcomes) >= kept) high = shift
    else low = shift
  }
  return {
    policy: rule,
    outcomes: best.outcomes,
    measures: measuresOf(best.outcomes),
    shiftDays: best.shift / DAY_MIN,
  }
}

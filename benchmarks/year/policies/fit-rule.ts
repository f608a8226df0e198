import { DAY_MIN, FIRST_JUDGED_DAY } from '../calendar.ts'
import type { Customer } from '../customers.ts'
import { liveYears } from '../live-years.ts'
import type { Outcome, Policy } from '../lived.ts'
import type { Shop } from '../shop.ts'
import { featuresOf } from './features.ts'
import { leastSquares } from './least-squares.ts'
import { flowTime, rulePolicy, type FittedRule, type Rule } from './rules.ts'

const ROUNDS = 5
const LEVEL = 0.8
const HALVINGS = 7
/** Promises are at most that much safer than the mean. */
const MOST_SAFETY = 60 * DAY_MIN
const FIRST_FLOW = 28 * DAY_MIN
/** Orders of the first weeks met an empty shop. */
const WARM_UP_DAYS = 60

/**
 * Fits a rule on the two years before the judged one, in the same shop, under its own days and with earliest due date on the bench:
 * least squares on lived flow times, five times, as days change what is lived; then the safety with which 4 in 5 are kept.
 */
export function fitRule(rule: Rule, shop: Shop, customers: readonly Customer[], openDoor: boolean): FittedRule {
  const history = (fitted: FittedRule): Lesson[] => lessons(fitted, shop, customers, openDoor)
  let fitted = firstGuess(rule, history)
  for (let round = 0; round < ROUNDS; round++) {
    const { weights } = fitted
    const lived = learnt(history(fitted))
    if (lived === null) break
    fitted = { ...fitted, weights: weights.map((weight, term) => (weight + lived[term]!) / 2) }
  }
  return withSafety(fitted, history)
}

/** One order of the history: its terms, how long it took (Infinity: not done), whether its promise was kept. */
interface Lesson {
  readonly terms: readonly number[]
  readonly flow: number
  readonly wasKept: boolean
}

type History = (fitted: FittedRule) => Lesson[]

function firstGuess(rule: Rule, history: History): FittedRule {
  const weights = rule
    .terms({ own: 0, steps: 0, waits: 0, ahead: 0, orders: 0 })
    .map((constant) => constant * FIRST_FLOW)
  const start: FittedRule = {
    rule,
    weights,
    safety: weights.some((weight) => weight > 0) ? 0 : FIRST_FLOW,
    errors: null,
  }
  const lived = learnt(history(start))
  return { ...start, safety: 0, weights: lived ?? weights }
}

function learnt(lived: readonly Lesson[]): number[] | null {
  const done = lived.filter(({ flow }) => flow < Infinity)
  if (done.length < 10) return null
  return leastSquares(
    done.map(({ terms }) => terms),
    done.map(({ flow }) => flow),
  )
}

function lessons(fitted: FittedRule, shop: Shop, customers: readonly Customer[], openDoor: boolean): Lesson[] {
  const terms = new Map<string, readonly number[]>()
  const plain = rulePolicy(fitted)
  const policy: Policy = {
    ...plain,
    quote(view, asked) {
      terms.set(asked.customer.id, fitted.rule.terms(featuresOf(view, asked)))
      return plain.quote(view, asked)
    },
  }
  const before = customers.filter(({ day }) => day < FIRST_JUDGED_DAY)
  const outcomes = liveYears({ shop, customers: before, policy, openDoor, lastDay: FIRST_JUDGED_DAY - 1 })
  return outcomes.filter(counts(shop)).map(({ id, promised, doneAt }) => ({
    terms: terms.get(id)!,
    flow: doneAt === null ? Infinity : doneAt - promised.at,
    wasKept: doneAt !== null && doneAt <= promised.dueAt,
  }))
}

/** Taken, after the first weeks, and promised for a day that the history has. */
const counts =
  ({ firstDay }: Shop) =>
  ({ stayed, askedAt, promised }: Outcome): boolean =>
    stayed && askedAt >= (firstDay + WARM_UP_DAYS) * DAY_MIN && promised.dueAt <= FIRST_JUDGED_DAY * DAY_MIN

const keptShare = (lived: readonly Lesson[]): number =>
  lived.length === 0 ? 0 : lived.filter(({ wasKept }) => wasKept).length / lived.length

function withSafety(fitted: FittedRule, history: History): FittedRule {
  const tried: { readonly safety: number; readonly lived: Lesson[] }[] = []
  const share = (safety: number): number => {
    const lived = history({ ...fitted, safety })
    tried.push({ safety, lived })
    return keptShare(lived)
  }
  let [low, high] = [-FIRST_FLOW / 2, MOST_SAFETY]
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2
    if (share(middle) >= LEVEL) high = middle
    else low = middle
  }
  // The share does not always grow with the safety; of those that keep enough, the one with most orders, then the nearest days.
  const enough = tried.filter(({ lived }) => keptShare(lived) >= LEVEL)
  const best = enough.reduce<(typeof tried)[number] | null>(
    (chosen, each) =>
      chosen === null ||
      each.lived.length > chosen.lived.length ||
      (each.lived.length === chosen.lived.length && each.safety < chosen.safety)
        ? each
        : chosen,
    null,
  ) ?? { safety: MOST_SAFETY, lived: history({ ...fitted, safety: MOST_SAFETY }) }
  return { ...fitted, safety: best.safety, errors: errorQuantiles(fitted, best.lived) }
}

function errorQuantiles(fitted: FittedRule, lived: readonly Lesson[]): FittedRule['errors'] {
  if (lived.length === 0) return null
  const beyond = lived.map(({ terms, flow }) => flow - flowTime(fitted, terms)).sort((a, b) => a - b)
  const at = (share: number): number => Math.min(MOST_SAFETY, beyond[Math.ceil(share * beyond.length) - 1]!)
  return [at(0.5), at(0.8), at(0.95)]
}

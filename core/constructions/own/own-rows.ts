import { isOperation } from '../../almanac/operations.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../../problems.ts'
import { writeDuration } from '../../time/duration.ts'
import type { ListedRow, RowProduct } from '../free-list/free-list-steps.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { readFormula } from './formula.ts'
import { STANDARD_TIMES } from './own-form.ts'
import type { OwnStep } from './own-construction.ts'
import { formulaNames, type OwnSpec } from './own-values.ts'

/**
 * The steps with their formulas reckoned out. A step whose `when` is 0 is left out: what came after it comes after what it came
 * after.
 */
export function ownRows(spec: OwnSpec, numbers: ReadonlyMap<string, number>, facts: ShopFacts): Result<ListedRow[]> {
  const { own } = spec
  const names = formulaNames(own.fields)
  const problems: Problem[] = []
  const reckon = (text: string, field: string): number => {
    const formula = readFormula(text, names)
    const value = formula.ok ? formula.value.evaluate(numbers) : formula
    if (value.ok) return value.value
    problems.push(...value.problems.map((one) => within(field, one)))
    return NaN
  }
  const there = own.steps.map((step, index) => step.when === '' || reckon(step.when, `steps.${index}.when`) !== 0)
  const position = own.steps.map((_, index) => there.slice(0, index).filter(Boolean).length)
  const rows = own.steps.flatMap((step, index) => {
    if (there[index] !== true) return []
    const field = `steps.${index}`
    const { standardTime } = step
    const amount = reckon(step.minutes, `${field}.minutes`)
    const minutes = standardTime === undefined ? Math.round(amount) : amount
    const units = Math.ceil(reckon(step.units, `${field}.units`) - 1e-9)
    if (standardTime !== undefined && !STANDARD_TIMES.some(({ value }) => value === standardTime))
      problems.push(
        problem(
          'standard-time-unknown',
          `${step.name}: the almanac has no standard time “${standardTime}”: choose another.`,
          `${field}.standardTime`,
        ),
      )
    if (standardTime === undefined ? minutes < 1 : minutes <= 0)
      problems.push(
        problem(
          'step-minutes',
          `${step.name}: with these sizes it takes no time. Give its formula a least time: max(1, ...).`,
          `${field}.minutes`,
        ),
      )
    if (units < 0)
      problems.push(
        problem(
          'step-units',
          `${step.name}: with these sizes it takes less than no clamps or places.`,
          `${field}.units`,
        ),
      )
    const setUpMin = step.setUp === null ? 0 : Math.round(reckon(step.setUp.minutes, `${field}.setUp`))
    if (setUpMin < 0)
      problems.push(
        problem(
          'step-set-up',
          `${step.name}: with these sizes its setup takes less than no time. Change its formula.`,
          `${field}.setUp`,
        ),
      )
    const spread = spreadOf(step, minutes, field, reckon, problems)
    const after = before(own.steps, there, index).map((one) => position[one] ?? 0)
    return [rowOf(step, { minutes, units, setUpMin, after, spread }, spec, facts, field, problems)]
  })
  return problems.length > 0 ? failed(...problems) : ok(rows)
}

type Spread = NonNullable<ListedRow['spread']>

/** Null where the step says nothing of it. */
function spreadOf(
  { name, least, most }: OwnStep,
  minutes: number,
  field: string,
  reckon: (text: string, field: string) => number,
  problems: Problem[],
): Spread | null {
  if (least === undefined && most === undefined) return null
  const leastMin = least === undefined ? minutes : Math.round(reckon(least, `${field}.least`))
  const mostMin = most === undefined ? minutes : Math.round(reckon(most, `${field}.most`))
  if (leastMin > minutes || mostMin < minutes)
    problems.push(
      problem(
        'step-spread',
        `${name}: ${minutes} min must lie between its least (${leastMin}) and its most (${mostMin}). Change one of the formulas.`,
        `${field}.${leastMin > minutes ? 'least' : 'most'}`,
      ),
    )
  return { leastMin, mostMin }
}

/** The steps that are there and come directly before one, looking through those that are left out. */
function before(steps: readonly OwnStep[], there: readonly boolean[], index: number): readonly number[] {
  const found = new Set<number>()
  const look = (from: number): void => {
    for (const one of steps[from]?.after ?? []) {
      if (there[one] === true) found.add(one)
      else look(one)
    }
  }
  look(index)
  return [...found].sort((a, b) => a - b)
}

function rowOf(
  step: OwnStep,
  reckoned: {
    readonly minutes: number
    readonly units: number
    readonly setUpMin: number
    readonly after: readonly number[]
    readonly spread: Spread | null
  },
  spec: OwnSpec,
  facts: ShopFacts,
  field: string,
  problems: Problem[],
): ListedRow {
  const { name, kind, atMostMin, dusty, wait } = step
  const product = wait.kind === 'product' ? productOf(wait.field, spec, facts) : null
  if (wait.kind === 'product' && product === null) {
    problems.push(
      problem(
        'product-unknown',
        `${name}: the almanac has no such glue or finish any more: choose another.`,
        wait.field,
      ),
    )
  }
  const waitMin = wait.kind === 'minutes' ? wait.minutes : 0
  const least = product === null ? waitMin : longestWait(product)
  if (atMostMin !== null && atMostMin < least) {
    problems.push(
      problem(
        'step-window',
        `${name}: the next must start within ${writeDuration(atMostMin)}, but the wait is ${writeDuration(least)}.`,
        `${field}.atMost`,
      ),
    )
  }
  const { setUpMin, spread, ...row } = reckoned
  return {
    ...{ name, kind, waitMin, atMostMin, dusty },
    ...row,
    ...(product === null ? {} : { product }),
    ...(step.standardTime !== undefined && isOperation(step.standardTime) ? { standardTime: step.standardTime } : {}),
    ...(spread === null ? {} : { spread }),
    ...(step.stops === 'usual' ? {} : { mayStop: step.stops === 'may-stop' }),
    ...(step.takes === 'usual' ? {} : { takes: step.takes }),
    ...(step.until === 'usual' ? {} : { until: step.until }),
    ...(step.setUp === null || setUpMin === 0 ? {} : { setUp: { family: step.setUp.family, minutes: setUpMin } }),
  }
}

const longestWait = (product: RowProduct): number =>
  product.kind === 'glue'
    ? product.glue.mayMachine.typical
    : Math.max(product.finish.recoatOpens.typical, product.finish.mayPack.typical)

function productOf(field: string, { values }: OwnSpec, facts: ShopFacts): RowProduct | null {
  const glue = facts.glues.find((one) => one.id === values[field])
  if (glue !== undefined) return { kind: 'glue', glue }
  const finish = facts.finishes.find((one) => one.id === values[field])
  return finish === undefined ? null : { kind: 'finish', finish }
}

import { readFileSync } from 'node:fs'
import { plan } from '../core/planning/index.ts'
import { checkTinyShop } from './check-answer.ts'
import { readShopTiny, shopTinyProblem, TINY_ORIGIN } from './formats/shop-tiny.ts'
import type { Instance } from './known-values.ts'

/** Two answers to one tiny shop: the least makespan, and the least weighted tardiness with the least makespan for it. */
export interface TinyRow {
  readonly instance: string
  /** Least makespan, in minutes from Monday 00:00. */
  readonly value: number | null
  readonly known: number | null
  readonly lower: number | null
  readonly seconds: number
  /** A proof counts no schedules. */
  readonly schedules: null
  readonly starts: readonly number[] | null
  readonly status: 'optimal' | 'found' | 'refused'
  readonly refusal: string | null
  readonly knownStatus: string | null
  readonly tardiness: TardinessAnswer | null
}

interface TardinessAnswer {
  readonly value: number
  readonly known: number | null
  readonly makespan: number
  readonly knownMakespan: number | null
  readonly starts: readonly number[]
}

interface TinyAnswer {
  readonly isProved: boolean
  readonly starts: readonly number[]
  readonly makespan: number
  readonly tardiness: number
}

/** Plans one tiny shop by the planner of the app; refuses to report an answer that the checker finds broken. */
export function planTinyShop({ name, file, known }: Instance, clock: () => number): TinyRow {
  const text = readFileSync(file, 'utf8')
  const started = clock()
  const soonest = answerTo(name, text, 'soonest')
  const kept = answerTo(name, text, 'promises')
  const seconds = Math.round(clock() - started) / 1000
  const common = {
    instance: name,
    known: known?.value ?? null,
    seconds,
    schedules: null,
    knownStatus: known?.status ?? null,
  }
  if (typeof soonest === 'string' || typeof kept === 'string') {
    const refusal = typeof soonest === 'string' ? soonest : String(kept)
    return { ...common, value: null, lower: null, starts: null, status: 'refused', refusal, tardiness: null }
  }
  return {
    ...common,
    value: soonest.makespan,
    lower: soonest.isProved ? soonest.makespan : null,
    starts: soonest.starts,
    status: soonest.isProved && kept.isProved ? 'optimal' : 'found',
    refusal: null,
    tardiness: {
      value: kept.tardiness,
      known: known?.tardiness ?? null,
      makespan: kept.makespan,
      knownMakespan: known?.makespanAtTardiness ?? null,
      starts: kept.starts,
    },
  }
}

export function tinySummary(rows: readonly TinyRow[]): string {
  const solvable = rows.filter(({ knownStatus }) => knownStatus === 'optimal')
  const infeasible = rows.filter(({ knownStatus }) => knownStatus === 'infeasible')
  const makespans = solvable.filter(({ value, known }) => value === known).length
  const tardinesses = solvable.filter(
    ({ tardiness }) =>
      tardiness !== null && tardiness.value === tardiness.known && tardiness.makespan === tardiness.knownMakespan,
  ).length
  const proved = rows.filter(({ status }) => status === 'optimal').length
  const refused = infeasible.filter(({ status }) => status === 'refused').length
  const longest = Math.max(0, ...rows.map(({ seconds }) => seconds))
  return `${rows.length} instances; proved ${proved}; makespan as known ${makespans}/${solvable.length}; tardiness as known ${tardinesses}/${solvable.length}; infeasible refused ${refused}/${infeasible.length}; longest ${longest.toFixed(2)} s for both answers`
}

/** @returns the refusal, in words, when there is no plan */
function answerTo(name: string, text: string, aim: 'soonest' | 'promises'): TinyAnswer | string {
  const problem = shopTinyProblem(readShopTiny(text), aim)
  const planned = plan(problem, { schedules: SCHEDULES })
  if (!planned.ok) return planned.problems.map(({ message }) => message).join(' ')
  const startOf = new Map(planned.value.steps.map(({ id, start }) => [id, start - TINY_ORIGIN]))
  const starts = problem.steps.map(({ id }) => startOf.get(id) ?? Number.NaN)
  const verdict = checkTinyShop(text, starts)
  if (!verdict.fine) throw new Error(`${name}: the answer is not a plan, ${verdict.fault}.`)
  const isProved = planned.value.quality === 'optimal'
  return { isProved, starts, makespan: verdict.makespan, tardiness: verdict.tardiness }
}

/** As many as the desk asks for when it has time; a proof ends the search before. */
const SCHEDULES = 5_000

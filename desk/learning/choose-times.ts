import type { Almanac } from '../../core/almanac/almanac.ts'
import { standardTimesOf } from '../../core/almanac/standard-times.ts'
import type { AskedTime, FollowTimes, TimeChoices } from '../../core/almanac/times-in-use.ts'
import { busiestMaker, yourTime } from '../../core/learning/index.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import type { Db } from '../../db/schema.ts'
import type { OpenShop } from '../open-shop.ts'
import { ASKED_FIRST } from './asked-first.ts'
import { learnedBy, type Learned } from './learned.ts'
import type { Moved } from '../moved.ts'

/** Action of the log's entries about times. */
export const TIMES_DECIDED = 'times-decided'

/** Takes on the shop's own time for an operation, keeps the book's, or leaves it undecided. */
export async function useTime(
  shop: OpenShop,
  operation: string,
  use: 'mine' | 'book' | 'undecided',
): Promise<Result<Moved>> {
  const time = standardTimesOf(shop.almanac).get(operation)
  if (time === undefined) return failed(problem('unknown-operation', 'The Almanac has no such operation.', 'operation'))
  const others = shop.almanac.times.decisions.filter((decision) => decision.operation !== operation)
  if (use === 'undecided') return keep(shop, { decisions: others }, `${time.name}: undecided.`)
  const perUnitMin = use === 'mine' ? yoursOf(shop.almanac, await learnedBy(shop), operation) : null
  const decision = {
    operation,
    use: perUnitMin === null ? ({ kind: 'book' } as const) : ({ kind: 'mine', perUnitMin } as const),
    decidedAtMin: shop.now,
  }
  return keep(
    shop,
    { decisions: [...others, decision] },
    perUnitMin === null
      ? `${time.name}: planned by the book, ${time.perUnitMin} min.`
      : `${time.name}: planned as ${perUnitMin} min from now on. Promises keep their day.`,
  )
}

export const followTimes = (shop: OpenShop, follow: FollowTimes): Promise<Result<Moved>> =>
  keep(
    shop,
    { follow },
    follow === 'by-themselves' ? 'Plans follow your own times.' : 'Plans stay with the book until you say so.',
  )

/** Counts an entry or leaves it out, whatever the rules say; `as-found` gives it back to the rules. */
export const chooseEntry = (shop: OpenShop, stepId: string, choice: 'count' | 'leave-out' | 'as-found') =>
  keep(
    shop,
    {
      entries: [
        ...shop.almanac.times.entries.filter((entry) => entry.stepId !== stepId),
        ...(choice === 'as-found' ? [] : [{ stepId, choice }]),
      ],
    },
    choice === 'leave-out' ? 'Left out.' : 'Counted.',
  )

/** How fast somebody is at three things; blank: not said. */
export function answerAsked(shop: OpenShop, answers: Readonly<Record<string, string>>): Promise<Result<Moved>> {
  const asked = readAsked(answers, shop.now)
  return asked.ok ? keep(shop, { asked: asked.value }, 'Dates count on what you said.') : Promise.resolve(asked)
}

/** What was said, blank left out; a problem for each that is no number of minutes. */
export function readAsked(answers: Readonly<Record<string, string>>, askedAtMin: number): Result<readonly AskedTime[]> {
  const problems: Problem[] = []
  const asked = ASKED_FIRST.flatMap(({ operation, units }) => {
    const text = (answers[operation] ?? '').trim().replace(/\s*min(utes)?$/, '')
    if (text === '') return []
    const minutes = Number(text.replace(',', '.'))
    if (minutes >= 0.5 && minutes <= 1000) return [{ operation, minutes, units, askedAtMin }]
    problems.push(problem('minutes', 'Enter minutes, such as 25.', operation))
    return []
  })
  return problems.length > 0 ? failed(...problems) : ok(asked)
}

/**
 * Where the maker chose that times are followed by themselves: takes on what has moved by a twentieth since, from three
 * pieces on. What he decided to keep by the book stays.
 */
export async function followOwnTimes(shop: OpenShop): Promise<void> {
  const { almanac } = shop
  if (almanac.times.follow !== 'by-themselves') return
  const learned = await learnedBy(shop)
  const pieces = Map.groupBy(learned.observed.observations, ({ operation }) => operation)
  const known = new Map(almanac.times.decisions.map((decision) => [decision.operation, decision]))
  const times = standardTimesOf(almanac)
  let isMoved = false
  for (const [operation, own] of pieces) {
    const use = known.get(operation)?.use
    const time = times.get(operation)
    if (own.length < 3 || use?.kind === 'book' || time === undefined) continue
    const perUnitMin = yoursOf(almanac, learned, operation)
    const before = use?.perUnitMin ?? time.perUnitMin
    if (Math.abs(perUnitMin / before - 1) < 0.05) continue
    known.set(operation, { operation, use: { kind: 'mine', perUnitMin }, decidedAtMin: shop.now })
    isMoved = true
  }
  if (!isMoved) return
  await save(shop, shop.db, { decisions: [...known.values()] })
  await shop.readAgain()
}

/** Minutes a unit, to two digits behind the point: as the page shows them. */
function yoursOf(almanac: Almanac, { times, observed }: Learned, operation: string): number {
  const time = standardTimesOf(almanac).get(operation)
  if (time === undefined) throw new Error(`no standard time for ${operation}`)
  const busiest = busiestMaker(observed.observations, almanac.makers)
  return Math.max(0.01, Number(yourTime(times, time, busiest, 0).yoursMin.toFixed(2)))
}

const keep = (shop: OpenShop, change: Partial<TimeChoices>, said: string): Promise<Result<Moved>> =>
  shop.change(async (db) => {
    await save(shop, db, change)
    return ok(said)
  })

async function save(shop: OpenShop, db: Db, change: Partial<TimeChoices>): Promise<void> {
  const { almanac } = shop
  const stamp = { atMs: shop.nowMs, makerId: almanac.makers.length === 1 ? (almanac.makers[0]?.id ?? null) : null }
  await saveAlmanac(db, { ...almanac, times: { ...almanac.times, ...change } }, shop.starting, stamp, TIMES_DECIDED)
}

import type { LotBuild } from '../constructions/lots.ts'
import type { NetworkStep } from '../constructions/step-network.ts'
import type { BookLag, BookStep } from './book.ts'
import type { ChangedParts } from './changed-parts.ts'
import { productsPutOn } from './products-put-on.ts'
import { setAside, type PieceNetwork } from './remake.ts'
import { untouched, type StepProgress } from './step-progress.ts'

/** The rule by which done work counts in a changed order, as the maker reads it. */
export const WHICH_WORK_COUNTS =
  'Done work counts if the changed piece still has that step, its parts keep their sizes and wood, glue or finish is the same, and nothing before it is new or lost.'

/** One piece as it will be. */
export interface NextPiece {
  readonly pieceId: string
  readonly commissionId: string
  /** Lot by lot; a lot goes on with the work at the lot of the same number. */
  readonly lots: readonly LotBuild[]
  /** Which of its parts are others than before; null: it is made in another way altogether. */
  readonly otherParts: ChangedParts | null
}

export interface ChangeMeans {
  readonly progress: ReadonlyMap<string, StepProgress>
  readonly newId: () => string
  /** What the maker said of steps against the rule: whether they count. With a step counts what was done before it, and goes what comes after. */
  readonly said: ReadonlyMap<string, boolean>
}

export interface ChangedNetwork extends PieceNetwork {
  /** Steps with work that still counts, and those whose work is lost. */
  readonly counting: readonly string[]
  readonly lost: readonly string[]
  /** Lost by the rule, though the changed piece has a step of that name: the maker may say that they count. */
  readonly mayCount: readonly string[]
}

/**
 * The steps of a piece after its order was changed: those of the new network, with the work done at the old ones where it still
 * counts. No step with work goes: what does not count is set aside as lost, with its hours. `WHICH_WORK_COUNTS` is the rule.
 */
export function changedNetwork(old: PieceNetwork, next: NextPiece, means: ChangeMeans): ChangedNetwork {
  const live = old.steps.filter(({ lost }) => lost !== true)
  const lots = next.lots.map((lot, index) =>
    changedLot(
      lot,
      live.filter((step) => step.lot === index + 1),
      old.lags,
      next,
      means,
    ),
  )
  const counting = new Set(lots.flatMap((lot) => [...lot.counting.values()].map(({ id }) => id)))
  const isBegun = ({ id }: BookStep): boolean => (means.progress.get(id) ?? untouched).kind !== 'to-do'
  const fresh = next.lots.flatMap((lot, index) => stepsOfLot(lot, index, lots[index]!, next, means))
  const keysTaken = new Set([...old.steps, ...fresh].map(({ key }) => key))
  const aside = old.steps
    .toSorted((a, b) => a.position - b.position)
    .flatMap((step) =>
      isAside(step) ? [step] : isBegun(step) && !counting.has(step.id) ? [setAside(step, keysTaken)] : [],
    )
    .map((step) => ({ ...step, lot: Math.min(step.lot, next.lots.length) }))
  const lost = aside.filter((step) => live.some(({ id }) => id === step.id)).map(({ id }) => id)
  const mayCount = new Set(lots.flatMap((lot) => [...lot.matched.values()].map(({ id }) => id)))
  const ids = new Map(fresh.map((step) => [`${step.lot}/${step.key}`, step.id]))
  return {
    steps: [...aside, ...fresh].map((step, position) => ({ ...step, position, lots: next.lots.length })),
    lags: next.lots.flatMap(({ lags }, index) =>
      lags.map((lag): BookLag => ({
        ...lag,
        pieceId: next.pieceId,
        fromStep: ids.get(`${index + 1}/${lag.from}`) ?? '',
        toStep: ids.get(`${index + 1}/${lag.to}`) ?? '',
      })),
    ),
    counting: [...counting],
    lost,
    mayCount: lost.filter((id) => mayCount.has(id)),
  }
}

/** Set aside before, by a failure or an earlier change. */
const isAside = ({ lost }: BookStep): boolean => lost === true

interface ChangedLot {
  /** Old steps by the key of the new step that is the same one. */
  readonly matched: ReadonlyMap<string, BookStep>
  /** Those of them that were begun and count. */
  readonly counting: ReadonlyMap<string, BookStep>
}

function changedLot(
  lot: LotBuild,
  old: readonly BookStep[],
  oldLags: readonly BookLag[],
  { otherParts }: NextPiece,
  { progress, said }: ChangeMeans,
): ChangedLot {
  const matched = matchedSteps(lot.steps, old)
  const [puts, put] = [productsOfLot(lot), productsPutOn(old, oldLags)]
  const [before, after] = [neighbours(lot, 'before'), neighbours(lot, 'after')]
  const isBegun = (key: string): boolean => {
    const step = matched.get(key)
    return step !== undefined && (progress.get(step.id) ?? untouched).kind !== 'to-do'
  }
  const isSame = (step: NetworkStep): boolean => {
    const old = matched.get(step.key)
    return old !== undefined && !touched(step.key) && (puts.get(step.key) ?? null) === (put.get(old.id) ?? null)
  }
  const touched = touchedBy(otherParts, lot, after)
  const says = (key: string): boolean | undefined => said.get(matched.get(key)?.id ?? '')
  const wanted = reached(
    lot.steps.filter(({ key }) => says(key) === true).map(({ key }) => key),
    before,
  )
  const unwanted = reached(
    lot.steps.filter(({ key }) => says(key) === false).map(({ key }) => key),
    after,
  )
  const counts = (step: NetworkStep): boolean =>
    isBegun(step.key) && !unwanted.has(step.key) && (wanted.has(step.key) || isSame(step))
  // What is new, or lost, has all that comes after it done again.
  const again = reached(
    lot.steps
      .filter(({ key, ...step }) => !matched.has(key) || (isBegun(key) && !counts({ key, ...step })))
      .map(({ key }) => key),
    after,
  )
  const kept = lot.steps.filter((step) => counts(step) && (wanted.has(step.key) || !again.has(step.key)))
  return { matched, counting: new Map(kept.map(({ key }) => [key, matched.get(key)!])) }
}

/**
 * Whether a step works on parts that are others than before: their milling, and all that comes after it. Where the lot no longer has the
 * step in which they were milled, nobody can tell, so it is every step.
 */
function touchedBy(
  parts: ChangedParts | null,
  lot: LotBuild,
  after: ReadonlyMap<string, readonly string[]>,
): (key: string) => boolean {
  const own = new Set(lot.steps.map(({ key }) => key))
  if (parts === null || [...parts.keys()].some((key) => !own.has(key))) return () => true
  const touched = reached([...parts.keys()], after)
  return (key) => touched.has(key)
}

/** Old steps by the new ones that have their operation and name: the first by the first, the second by the second. */
function matchedSteps(steps: readonly NetworkStep[], old: readonly BookStep[]): ReadonlyMap<string, BookStep> {
  const named = ({ operation, name }: NetworkStep): string => `${operation}/${name}`
  const waiting = Map.groupBy(
    old.toSorted((a, b) => a.position - b.position),
    named,
  )
  return new Map(
    steps.flatMap((step) => {
      const found = waiting.get(named(step))?.shift()
      return found === undefined ? [] : [[step.key, found] as const]
    }),
  )
}

const productsOfLot = ({ steps, lags }: LotBuild): ReadonlyMap<string, string> =>
  productsPutOn(
    steps.map(({ key, tackyProduct }) => ({ id: key, tackyProduct })),
    lags.map(({ from, wait, product }) => ({ fromStep: from, wait, product })),
  )

function neighbours({ lags }: LotBuild, side: 'before' | 'after'): ReadonlyMap<string, readonly string[]> {
  const pairs = lags.map(({ from, to }) => (side === 'after' ? [from, to] : [to, from]) as readonly [string, string])
  return new Map([...Map.groupBy(pairs, ([key]) => key)].map(([key, all]) => [key, all.map(([, other]) => other)]))
}

/** These and all that they lead to. */
function reached(from: readonly string[], next: ReadonlyMap<string, readonly string[]>): ReadonlySet<string> {
  const found = new Set(from)
  const queue = [...from]
  for (let key = queue.pop(); key !== undefined; key = queue.pop())
    for (const other of next.get(key) ?? [])
      if (!found.has(other)) {
        found.add(other)
        queue.push(other)
      }
  return found
}

/** The new steps of a lot; one that was there before keeps its id, one with work that counts also its estimate. */
function stepsOfLot(
  lot: LotBuild,
  index: number,
  { matched, counting }: ChangedLot,
  { pieceId, commissionId }: NextPiece,
  { progress, newId }: ChangeMeans,
): BookStep[] {
  const place = { pieceId, commissionId, position: 0, lot: index + 1, lots: 1, lotCount: lot.count }
  return lot.steps.map((step) => {
    const worked = counting.get(step.key)
    if (worked !== undefined) return { ...worked, ...place, key: step.key, holds: step.holds }
    const before = matched.get(step.key)
    const isFree = before !== undefined && (progress.get(before.id) ?? untouched).kind === 'to-do'
    return { ...step, ...place, id: isFree ? before.id : newId() }
  })
}

/** How many pieces each lot has; a lot that parted from another counts its own. */
export function lotCounts(steps: readonly BookStep[], pieces: number): number[] {
  const lots = Map.groupBy(
    steps.filter(({ lost }) => lost !== true),
    ({ lot }) => lot,
  )
  const counts = [...lots].sort(([a], [b]) => a - b).map(([, of]) => Math.min(...of.map(({ lotCount }) => lotCount)))
  const over = counts.reduce((sum, count) => sum + count, 0) - pieces
  return counts.map((count, index) => (index === 0 ? Math.max(1, count - Math.max(0, over)) : count))
}

/** Lots for another number of pieces: the lots that there are, first to last, and how many pieces come on top. */
export function lotsFor(
  counts: readonly number[],
  pieces: number,
): { readonly lots: number[]; readonly added: number } {
  let left = pieces
  const lots = counts.flatMap((count) => {
    const taken = Math.min(count, left)
    left -= taken
    return taken > 0 ? [taken] : []
  })
  return { lots, added: left }
}

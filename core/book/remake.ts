import { failed, ok, problem, type Result } from '../problems.ts'
import type { NetworkHold, NetworkStep } from '../constructions/step-network.ts'
import type { BookLag, BookStep } from './book.ts'
import { untouched, type StepProgress } from './step-progress.ts'

/** Something failed at a step of one lot: how many of its pieces, and from which step they are made again. */
export interface Failure {
  readonly stepId: string
  readonly count: number
  readonly fromStepId: string
}

/** The network of one piece of the order. */
export interface PieceNetwork {
  readonly steps: readonly BookStep[]
  readonly lags: readonly BookLag[]
}

export interface Remade extends PieceNetwork {
  /** Steps whose result is lost: of the whole lot that failed. */
  readonly lost: readonly string[]
  /** Steps that were begun and are done again, for `failure.count` of their pieces. */
  readonly repeated: readonly string[]
  /** New steps, in their order. */
  readonly again: readonly string[]
  /** Where pieces on their own way join the others again; null: nowhere, or they never left them. */
  readonly joinsAt: string | null
}

export interface RemakeMeans {
  readonly progress: ReadonlyMap<string, StepProgress>
  readonly newId: () => string
  /** The steps of a lot of so many pieces, as its construction makes them; null: it cannot say. */
  readonly networkOf: (count: number) => readonly NetworkStep[] | null
}

/**
 * The network after a failure. New steps stand beside the old ones, whose hours stay counted.
 *
 * All of a lot: what was begun from the step on is done again, its result is lost, and what is still to do waits for the new steps.
 * Some of a lot: they become a lot of their own, that goes its own way up to the first coat of finish and joins the others there; where
 * finishing has begun already, to the end.
 *
 * Problems: `unknown-step`, `not-begun`, `count`, `not-before`.
 */
export function remake(piece: PieceNetwork, failure: Failure, means: RemakeMeans): Result<Remade> {
  const step = piece.steps.find(({ id }) => id === failure.stepId && !isLost(piece, failure.stepId))
  if (step === undefined) return failed(problem('unknown-step', 'This step is not in the book any more.', 'stepId'))
  const isBegun = (id: string): boolean => (means.progress.get(id) ?? untouched).kind !== 'to-do'
  if (!isBegun(step.id)) return failed(problem('not-begun', `${step.name} has not been started: nothing failed yet.`))
  const { count } = failure
  const lot = piece.steps.filter((each) => each.lot === step.lot && each.lost !== true)
  const pieces = piecesOf(lot)
  if (!Number.isInteger(count) || count < 1 || count > pieces)
    return failed(problem('count', `How many of them? A number from 1 to ${pieces}.`, 'count'))
  const after = reachedFrom(failure.fromStepId, lot, piece.lags)
  if (!after.has(step.id) || !isBegun(failure.fromStepId))
    return failed(
      problem('not-before', `Choose a step before ${step.name.toLowerCase()} that was begun.`, 'fromStepId'),
    )
  const begun = new Set([...after].filter(isBegun))
  return ok(
    count === pieces ? wholeLotAgain(piece, lot, begun, means) : someAgain(piece, lot, count, after, isBegun, means),
  )
}

/** Steps before a step, and itself, that were begun: where making again can start. In reading order. */
export function stepsToRemakeFrom(
  step: BookStep,
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  progress: (stepId: string) => StepProgress,
): BookStep[] {
  if (step.lost === true || progress(step.id).kind === 'to-do') return []
  const before = new Set([step.id])
  const next = [step.id]
  for (let id = next.pop(); id !== undefined; id = next.pop())
    for (const { fromStep, toStep } of lags)
      if (toStep === id && !before.has(fromStep)) {
        before.add(fromStep)
        next.push(fromStep)
      }
  return steps
    .filter(
      (each) =>
        before.has(each.id) && each.lot === step.lot && each.lost !== true && progress(each.id).kind !== 'to-do',
    )
    .sort((a, b) => a.position - b.position)
}

const isLost = ({ steps }: PieceNetwork, id: string): boolean =>
  steps.some((step) => step.id === id && step.lost === true)

/** Pieces that a lot still has: some may have parted from it since its first steps were done, and coats are put on with others. */
const piecesOf = (lot: readonly BookStep[]): number => Math.min(...lot.map(({ lotCount }) => lotCount))

/** How many of its lot can fail at a step; of one whose result is lost already, as many as it was of. */
export function mayFail(step: BookStep, steps: readonly BookStep[]): number {
  const left = steps.filter((each) => each.pieceId === step.pieceId && each.lot === step.lot && each.lost !== true)
  return left.length === 0 ? step.lotCount : piecesOf(left)
}

function wholeLotAgain(
  piece: PieceNetwork,
  lot: readonly BookStep[],
  begun: ReadonlySet<string>,
  { newId, networkOf }: RemakeMeans,
): Remade {
  const copies = new Map([...begun].map((id) => [id, newId()]))
  const taken = new Set(piece.steps.map(({ key }) => key))
  const old = piece.steps.map((step) => (begun.has(step.id) ? setAside(step, taken) : step))
  const pieces = piecesOf(lot)
  const [network, shared] = [networkOf(pieces), joinedBy(piece, lot)]
  const fresh = lot
    .filter(({ id }) => begun.has(id))
    .map((step) => ({
      ...(step.lotCount === pieces || shared.has(step.id)
        ? step
        : { ...forPieces(step, pieces, network), lotCount: pieces }),
      id: copies.get(step.id) ?? '',
    }))
  const lags = piece.lags.map((lag) => ({
    ...lag,
    fromStep: copies.get(lag.fromStep) ?? lag.fromStep,
    toStep: copies.get(lag.toStep) ?? lag.toStep,
  }))
  return {
    steps: inReadingOrder(old, fresh, lastOf(piece.steps, begun)),
    lags,
    lost: [...begun],
    repeated: [...begun],
    again: fresh.map(({ id }) => id),
    joinsAt: null,
  }
}

/** A step whose result is lost makes room for the one that takes its key, and holds no place any more. */
export function setAside(step: BookStep, keysTaken: Set<string>): BookStep {
  let number = 1
  while (keysTaken.has(`${step.key}~${number}`)) number += 1
  const key = `${step.key}~${number}`
  keysTaken.add(key)
  return { ...step, key, holds: [], lost: true }
}

/** Steps of a lot that pieces of another lot have joined. */
function joinedBy({ steps, lags }: PieceNetwork, lot: readonly BookStep[]): ReadonlySet<string> {
  const [own, live] = [new Set(lot.map(({ id }) => id)), new Set(steps.map(({ id }) => id))]
  const doors = lags.filter(({ fromStep, toStep }) => own.has(toStep) && live.has(fromStep) && !own.has(fromStep))
  return new Set(doors.flatMap(({ toStep }) => [...reachedFrom(toStep, lot, lags)]))
}

function someAgain(
  piece: PieceNetwork,
  lot: readonly BookStep[],
  count: number,
  after: ReadonlySet<string>,
  isBegun: (id: string) => boolean,
  { newId, networkOf }: RemakeMeans,
): Remade {
  const together = joinOf(lot, after, isBegun, piece.lags)
  const own = lot.filter(({ id }) => after.has(id) && !together.has(id))
  const lots = Math.max(...piece.steps.map((each) => each.lot)) + 1
  const copies = new Map(own.map(({ id }) => [id, newId()]))
  const ofCopies = networkOf(count)
  const fresh = own.map((each) => ({
    ...forPieces(each, count, ofCopies),
    id: copies.get(each.id) ?? '',
    lot: lots,
    lotCount: count,
  }))
  const others = new Set(own.map(({ id }) => id))
  const left = 1 - count / piecesOf(lot)
  const old = piece.steps.map((each) => {
    if (!others.has(each.id)) return each
    // What is begun keeps its pieces and hours; of the places that it holds those of the failed pieces are free.
    if (isBegun(each.id)) return { ...each, holds: each.holds.map((hold) => shareOf(hold, left)) }
    const rest = each.lotCount - count
    return { ...forPieces(each, rest, networkOf(rest)), lotCount: rest }
  })
  const lags = piece.lags.flatMap((lag): BookLag[] => {
    const from = copies.get(lag.fromStep)
    const to = copies.get(lag.toStep)
    if (from === undefined && to === undefined) return [lag]
    return [lag, { ...lag, fromStep: from ?? lag.fromStep, toStep: to ?? lag.toStep }]
  })
  const [joinsAt] = lot.filter(({ id }) => together.has(id)).sort((a, b) => a.position - b.position)
  return {
    steps: inReadingOrder(old, fresh, lastOf(piece.steps, new Set(copies.keys()))).map((each) => ({ ...each, lots })),
    lags,
    lost: [],
    repeated: own.map(({ id }) => id).filter(isBegun),
    again: fresh.map(({ id }) => id),
    joinsAt: joinsAt?.id ?? null,
  }
}

/** Steps that all pieces of the lot do together: from the first coat on, as long as none of them has begun. */
function joinOf(
  lot: readonly BookStep[],
  after: ReadonlySet<string>,
  isBegun: (id: string) => boolean,
  lags: readonly BookLag[],
): ReadonlySet<string> {
  const drying = new Set(lags.filter(({ wait }) => wait === 'drying').map(({ fromStep }) => fromStep))
  const coats = lot.filter(({ id, tackyMin }) => after.has(id) && (tackyMin > 0 || drying.has(id)))
  const together = new Set(coats.flatMap(({ id }) => [...reachedFrom(id, lot, lags)]))
  return [...together].some(isBegun) ? new Set() : together
}

/** The step for a part of its lot: as the construction makes it for so many, else by its share. */
function forPieces(step: BookStep, count: number, network: readonly NetworkStep[] | null): BookStep {
  const known = network?.find(({ key }) => key === step.key)
  if (known !== undefined) {
    const { minutes, optimisticMin, pessimisticMin, units, smallestStretchMin } = known
    // Until when it holds is its own: the step that would let go may have been left out by hand.
    const holds = step.holds.map((hold) => ({ ...hold, units: unitsHeld(known, hold) ?? hold.units }))
    return { ...step, minutes, optimisticMin, pessimisticMin, units, holds, smallestStretchMin }
  }
  const share = count / step.lotCount
  const part = (minutes: number): number => Math.max(1, Math.round(minutes * share))
  const minutes = part(step.minutes)
  return {
    ...step,
    minutes,
    optimisticMin: Math.min(minutes, part(step.optimisticMin)),
    pessimisticMin: Math.max(minutes, part(step.pessimisticMin)),
    smallestStretchMin: Math.min(minutes, step.smallestStretchMin),
    units: step.units === null ? null : { ...step.units, count: step.units.count * share },
    holds: step.holds.map((hold) => shareOf(hold, share)),
  }
}

const shareOf = <Hold extends { readonly units: number }>(hold: Hold, share: number): Hold => ({
  ...hold,
  units: Math.max(1, Math.ceil(hold.units * share)),
})

const unitsHeld = ({ holds }: NetworkStep, { station }: NetworkHold): number | undefined =>
  holds.find((hold) => hold.station === station)?.units

/** A step and all that comes after it in its lot. */
export function reachedFrom(stepId: string, lot: readonly BookStep[], lags: readonly BookLag[]): ReadonlySet<string> {
  const inLot = new Set(lot.map(({ id }) => id))
  const reached = new Set<string>(inLot.has(stepId) ? [stepId] : [])
  const next = [...reached]
  for (let id = next.pop(); id !== undefined; id = next.pop())
    for (const { fromStep, toStep } of lags)
      if (fromStep === id && inLot.has(toStep) && !reached.has(toStep)) {
        reached.add(toStep)
        next.push(toStep)
      }
  return reached
}

const lastOf = (steps: readonly BookStep[], ids: ReadonlySet<string>): number =>
  steps.reduce((last, step) => (ids.has(step.id) ? Math.max(last, step.position) : last), -1)

/** New steps after the old ones that they repeat, positions counted anew. */
function inReadingOrder(old: readonly BookStep[], fresh: readonly BookStep[], after: number): BookStep[] {
  const sorted = old.toSorted((a, b) => a.position - b.position)
  const cut = sorted.findLastIndex(({ position }) => position <= after) + 1
  const copies = fresh.toSorted((a, b) => a.position - b.position)
  return [...sorted.slice(0, cut), ...copies, ...sorted.slice(cut)].map((step, position) => ({ ...step, position }))
}

import type { LotBuild } from '../constructions/lots.ts'
import type { NetworkStep } from '../constructions/step-network.ts'
import type { BookLag, BookStep } from './book.ts'
import type { PieceNetwork } from './remake.ts'
import { untouched } from './step-progress.ts'
import { doEarlier, leaveOut, mayComeBefore } from './steps-by-hand.ts'

/** A step by what it is, whatever its id. */
export type StepName = Pick<NetworkStep, 'operation' | 'name'>

/** What the maker did to the steps of a lot by hand, beside extra steps. */
export type HandChange =
  | { readonly kind: 'left-out'; readonly lot: number; readonly step: StepName }
  | { readonly kind: 'earlier'; readonly lot: number; readonly step: StepName; readonly before: StepName }

/**
 * A new lot of a changed piece as the maker would have it: what was left out stays out, what was done earlier stays so, as far as the lot
 * still has those steps and the rules for doing it by hand still allow it.
 * @param changes of this lot, oldest first
 */
export function withHandChanges(lot: LotBuild, changes: readonly HandChange[]): LotBuild {
  if (changes.length === 0) return lot
  const made = changes.reduce(applied, asNetwork(lot))
  const order = new Map(made.steps.map(({ id, position }) => [id, position]))
  const kept = new Map(made.steps.map(({ id, holds }) => [id, holds]))
  return {
    count: lot.count,
    steps: lot.steps
      .filter(({ key }) => kept.has(key))
      .map((step) => ({ ...step, holds: kept.get(step.key) ?? step.holds }))
      .toSorted((a, b) => (order.get(a.key) ?? 0) - (order.get(b.key) ?? 0)),
    lags: made.lags.map(({ pieceId: _, fromStep: __, toStep: ___, ...lag }) => lag),
  }
}

function applied(network: PieceNetwork, change: HandChange): PieceNetwork {
  const found = named(network, change.step)
  if (found === undefined) return network
  if (change.kind === 'left-out') return orAsItWas(leaveOut(network, found.id, nothingBegun), network)
  const before = mayComeBefore(network, found.id, nothingBegun)
  return before !== null && isNamed(before, change.before)
    ? orAsItWas(doEarlier(network, found.id, nothingBegun), network)
    : network
}

const orAsItWas = (made: ReturnType<typeof leaveOut>, before: PieceNetwork): PieceNetwork =>
  made.ok ? made.value : before

/** Of several steps of one name the last, as that is the one that is done without: the third coat of three. */
const named = ({ steps }: PieceNetwork, of: StepName): BookStep | undefined =>
  steps.findLast((step) => isNamed(step, of))

const isNamed = ({ operation, name }: StepName, of: StepName): boolean => operation === of.operation && name === of.name

const nothingBegun = () => untouched

/** A lot as steps of the book whose ids are their keys. */
function asNetwork({ count, steps, lags }: LotBuild): PieceNetwork {
  const place = { pieceId: '', commissionId: '', lot: 1, lots: 1, lotCount: count }
  return {
    steps: steps.map((step, position): BookStep => ({ ...step, ...place, id: step.key, position })),
    lags: lags.map((lag): BookLag => ({ ...lag, pieceId: '', fromStep: lag.from, toStep: lag.to })),
  }
}

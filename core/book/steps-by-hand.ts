import { cautionsFor } from '../cautions/cautions-for-step.ts'
import { failed, ok, problem, type Result } from '../problems.ts'
import type { BookLag, BookStep } from './book.ts'
import { EXTRA } from './extras-carried.ts'
import type { PieceNetwork } from './remake.ts'
import type { StepProgress } from './step-progress.ts'

/** A step that only this order has: engraving, an inlay, something that somebody else does. */
export interface ExtraStep {
  readonly name: string
  /** Hands-on, for the whole lot. Of what is done outside: taking it there. */
  readonly minutes: number
  readonly kind: 'hand' | 'machine' | 'outside'
  /** How long it is away; of what is done outside alone. */
  readonly awayMin: number
}

type Progress = (stepId: string) => StepProgress

/** Fetching what was done outside, and looking it over. @source common practice, no source */
const FETCH_MIN = 15

/**
 * Puts an extra step behind a step: what followed that one now waits for both. It begins as soon as everything after the step before it could.
 * Outside work is taken there, away for its lead time, and fetched: nobody's hands are taken meanwhile.
 * Problems: `unknown-step`, `name`, `minutes`, `away`.
 */
export function addExtraStep(
  { steps, lags }: PieceNetwork,
  afterId: string,
  extra: ExtraStep,
  newId: () => string,
): Result<PieceNetwork> {
  const after = steps.find(({ id, lost }) => id === afterId && lost !== true)
  if (after === undefined) return failed(GONE)
  const name = extra.name.trim()
  if (name === '') return failed(problem('name', 'What is done? Like: engrave the initials.', 'name'))
  if (!(extra.minutes >= 1)) return failed(problem('minutes', 'How long? At least a minute, like 45 min.', 'minutes'))
  if (extra.kind === 'outside' && !(extra.awayMin >= 1))
    return failed(problem('away', 'How long is it away? Like 5 days.', 'away'))
  const [first, last] = [newId(), newId()]
  const isOutside = extra.kind === 'outside'
  const made = [
    extraStep(after, first, isOutside ? `Send out: ${name}` : name, extra.minutes, extra.kind, steps),
    ...(isOutside ? [extraStep(after, last, `Fetch: ${name}`, FETCH_MIN, 'hand', steps)] : []),
  ]
  const end = made.at(-1)!
  const following = lags.filter(({ fromStep }) => fromStep === afterId)
  const longest = following.toSorted((a, b) => b.minMin - a.minMin)[0]
  const toFirst: BookLag =
    longest === undefined || longest.wait === 'none'
      ? plainLag(after, made[0]!)
      : { ...longest, to: made[0]!.key, toStep: first, maxMin: null, remedy: null }
  const away: BookLag[] = isOutside ? [awayLag(made[0]!, end, name, extra.awayMin)] : []
  const then = following.flatMap(({ toStep }) => steps.find(({ id }) => id === toStep) ?? [])
  return ok({
    steps: inOrder(steps, afterId, made),
    lags: [...lags, toFirst, ...away, ...then.map((step) => plainLag(end, step))],
  })
}

/**
 * Leaves a step out that was not begun: what waited for it waits for what it waited for, and as long.
 * Problems: `unknown-step`, `begun`, `last-step`.
 */
export function leaveOut({ steps, lags }: PieceNetwork, stepId: string, progress: Progress): Result<PieceNetwork> {
  const step = steps.find(({ id, lost }) => id === stepId && lost !== true)
  if (step === undefined) return failed(GONE)
  if (progress(stepId).kind !== 'to-do')
    return failed(problem('begun', `${step.name} was begun: put its times right instead.`, 'stepId'))
  if (steps.filter(({ lost }) => lost !== true).length < 2)
    return failed(problem('last-step', 'It is the only step: cancel the order instead.', 'stepId'))
  const [to, from] = [lags.filter((lag) => lag.toStep === stepId), lags.filter((lag) => lag.fromStep === stepId)]
  const bridges = to.flatMap((before) =>
    from.map((after): BookLag => ({ ...before, to: after.to, toStep: after.toStep, maxMin: null, remedy: null })),
  )
  const next = steps.filter(({ id }) => from.some(({ toStep }) => toStep === id)).sort(byPosition)[0]
  return ok({
    steps: renumbered(
      steps.filter(({ id }) => id !== stepId).map((each) => ({ ...each, holds: freedBy(each, step, next) })),
    ),
    lags: [...lags.filter(({ fromStep, toStep }) => fromStep !== stepId && toStep !== stepId), ...bridges],
  })
}

/** What is held until a step that goes is held until the one after it. */
function freedBy(holder: BookStep, gone: BookStep, next: BookStep | undefined): BookStep['holds'] {
  if (holder.lot !== gone.lot) return holder.holds
  return holder.holds.map((hold) =>
    (hold.until.kind === 'start-of' || hold.until.kind === 'end-of') && hold.until.step === gone.key
      ? { ...hold, until: next === undefined ? { kind: 'end' } : { kind: 'start-of', step: next.key } }
      : hold,
  )
}

/** The step that is done before this one and may change places with it; null: none, or a wait, a place or work that was begun forbids it. */
export function mayComeBefore({ steps, lags }: PieceNetwork, stepId: string, progress: Progress): BookStep | null {
  const step = steps.find(({ id, lost }) => id === stepId && lost !== true)
  if (step === undefined || progress(stepId).kind !== 'to-do') return null
  const before = steps
    .filter(({ lot, lost, position }) => lot === step.lot && lost !== true && position < step.position)
    .sort(byPosition)
    .at(-1)
  if (before === undefined || progress(before.id).kind !== 'to-do') return null
  const between = lags.filter(({ fromStep, toStep }) => fromStep === before.id && toStep === stepId)
  const isPlain = between.every(({ wait, minMin, maxMin }) => wait === 'none' && minMin <= 0 && maxMin === null)
  // Clamps come off, and glue and coats dry, in their own order.
  const pair = [before, step]
  const holds = steps.some(({ lot, holds: held }) =>
    held.some(({ until }) => lot === step.lot && 'step' in until && pair.some(({ key }) => key === until.step)),
  )
  const waits = lags.some(({ fromStep, wait }) => pair.some(({ id }) => id === fromStep) && wait !== 'none')
  const isFree = isPlain && !holds && !waits && pair.every(({ tackyMin }) => tackyMin === 0)
  return isFree && !leadsRound(before.id, stepId, lags) ? before : null
}

/** Whether the one comes before the other by way of others. */
function leadsRound(fromId: string, toId: string, lags: readonly BookLag[]): boolean {
  const next = lags.flatMap(({ fromStep, toStep }) => (fromStep === fromId && toStep !== toId ? [toStep] : []))
  const seen = new Set(next)
  for (let id = next.pop(); id !== undefined; id = next.pop()) {
    if (id === toId) return true
    for (const { fromStep, toStep } of lags)
      if (fromStep === id && !seen.has(toStep)) {
        seen.add(toStep)
        next.push(toStep)
      }
  }
  return false
}

/** Does a step before the one that was before it. Problems: `unknown-step`, `not-before`. */
export function doEarlier(piece: PieceNetwork, stepId: string, progress: Progress): Result<PieceNetwork> {
  const { steps, lags } = piece
  const step = steps.find(({ id, lost }) => id === stepId && lost !== true)
  if (step === undefined) return failed(GONE)
  const before = mayComeBefore(piece, stepId, progress)
  if (before === null)
    return failed(
      problem('not-before', `${step.name} cannot come earlier: a wait or work in hand is before it.`, 'stepId'),
    )
  const [to, from] = [
    lags.filter(({ toStep }) => toStep === before.id),
    lags.filter(({ fromStep }) => fromStep === stepId),
  ]
  const swapped = steps.map((each) =>
    each.id === stepId
      ? { ...each, position: before.position }
      : each.id === before.id
        ? { ...each, position: step.position }
        : each,
  )
  return ok({
    steps: renumbered(swapped),
    lags: [
      ...lags.filter((lag) => !(lag.fromStep === before.id && lag.toStep === stepId)),
      // It waits for all that the other waited for, and what waited for it waits for both.
      ...to.map((lag) => ({ ...lag, to: step.key, toStep: stepId })),
      plainLag(step, before),
      ...from
        .flatMap(({ toStep }) => steps.find(({ id }) => id === toStep) ?? [])
        .map((each) => plainLag(before, each)),
    ],
  })
}

const GONE = problem('unknown-step', 'This step is not in the book any more. Open the order again.', 'stepId')

const byPosition = (a: BookStep, b: BookStep): number => a.position - b.position

const renumbered = (steps: readonly BookStep[]): BookStep[] =>
  steps.toSorted(byPosition).map((step, position) => ({ ...step, position }))

function inOrder(steps: readonly BookStep[], afterId: string, made: readonly BookStep[]): BookStep[] {
  const sorted = steps.toSorted(byPosition)
  const at = sorted.findIndex(({ id }) => id === afterId) + 1
  return [...sorted.slice(0, at), ...made, ...sorted.slice(at)].map((step, position) => ({ ...step, position }))
}

function extraStep(
  { pieceId, commissionId, lot, lots, lotCount }: BookStep,
  id: string,
  name: string,
  minutes: number,
  kind: ExtraStep['kind'],
  others: readonly BookStep[],
): BookStep {
  const whole = Math.round(minutes)
  let number = 1
  const taken = new Set(others.map(({ key }) => key))
  while (taken.has(`${EXTRA}${number}-${kind}`)) number += 1
  const isMachine = kind === 'machine'
  const work = isMachine ? (['route', 'sand'] as const) : []
  return {
    ...{ id, pieceId, commissionId, position: 0, lot, lots, lotCount },
    ...{ key: `${EXTRA}${number}-${kind}`, operation: isMachine ? 'by-machine' : 'by-hand', name, note: '' },
    ...{ minutes: whole, optimisticMin: Math.max(1, Math.round(whole * 0.75)), pessimisticMin: whole * 2 },
    ...{ units: { count: whole, eachMin: 1 }, hands: 1, interruptible: true },
    ...{ smallestStretchMin: Math.min(15, whole), holds: [], dusty: isMachine, tackyMin: 0, tackyProduct: null },
    ...{ setUp: null, cautions: cautionsFor({ work, woods: [], pieceIsFor: 'other' }).map((caution) => caution.id) },
  }
}

const plainLag = (from: BookStep, to: BookStep): BookLag => ({
  ...{ pieceId: from.pieceId, from: from.key, to: to.key, fromStep: from.id, toStep: to.id },
  ...{ wait: 'none', name: '', minMin: 0, optimisticMin: 0, pessimisticMin: 0, maxMin: null, remedy: null },
  ...{ product: null, source: '' },
})

/** Nobody knows how punctual others are: as said, up to half as long again. */
const awayLag = (from: BookStep, to: BookStep, name: string, awayMin: number): BookLag => ({
  ...plainLag(from, to),
  ...{ wait: 'resting', name: `${name}, away`, minMin: awayMin, optimisticMin: awayMin },
  ...{ pessimisticMin: Math.round(awayMin * 1.5), source: 'as said with the order' },
})

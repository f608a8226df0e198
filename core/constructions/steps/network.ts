import type { Operation } from '../../almanac/operations.ts'
import { cautionsFor, type CautionFacts, type PieceUse, type Work } from '../../cautions/cautions-for-step.ts'
import type { Problem } from '../../problems.ts'
import type { FinishFacts, GlueFacts, ShopFacts } from '../shop-facts.ts'
import type { NetworkHold, NetworkLag, NetworkStep } from '../step-network.ts'

/** A step network while a construction draws it up, in reading order, with what is noticed on the way. */
export interface Network {
  readonly facts: ShopFacts
  readonly piece: PieceFacts
  readonly steps: NetworkStep[]
  readonly lags: NetworkLag[]
  readonly problems: Problem[]
  readonly warnings: string[]
}

/** What the cautions of a step depend on beside the work itself. */
export interface PieceFacts {
  /** Species of the woods handled. */
  readonly woods: readonly string[]
  readonly isFor: PieceUse
  /** Weight of one piece, where it is known. */
  readonly kg?: number
}

export const emptyNetwork = (facts: ShopFacts, piece: PieceFacts): Network => ({
  facts,
  piece,
  steps: [],
  lags: [],
  problems: [],
  warnings: [],
})

export interface StepDraft {
  readonly key: string
  readonly operation: Operation
  readonly name: string
  readonly note?: string
  /** How many of the standard time's units: strips, boards, cuts. */
  readonly units: number
  /** Least and most minutes of the whole lot, in place of the spread of the standard time. */
  readonly spread?: { readonly optimisticMin: number; readonly pessimisticMin: number }
  /** Work that may stop at closing time (the default) is worth starting for so many minutes; null: may not be interrupted. */
  readonly stretchMin?: number | null
  readonly dusty?: boolean
  /** Setup in place of that of the standard time. */
  readonly setUp?: { readonly family: string; readonly minutes: number }
  readonly holds?: readonly NetworkHold[]
  /** Of a glue-up; see `NetworkStep`. */
  readonly spreadMin?: number
  readonly tacky?: { readonly minutes: number; readonly product: string }
  /** What is done, as far as it can hurt somebody; with the glue or finish that is used. */
  readonly work?: readonly Work[]
  /** Species handled beside those of the piece. */
  readonly woods?: readonly string[]
  readonly glue?: Pick<GlueFacts, 'cautions'>
  readonly finish?: Pick<FinishFacts, 'cautions' | 'dryingOil' | 'film'>
  /** Keys of the steps that come directly before it. */
  readonly after: readonly string[]
}

/** Adds one step with its hands-on minutes from the standard time, and follows it on the steps before. Returns its key. */
export function addStep(network: Network, draft: StepDraft): string {
  const time = network.facts.standardTime(draft.operation)
  const own = time.family === null ? time.setUpMin : 0
  const work = time.perUnitMin * draft.units
  const minutes = Math.max(1, Math.round(own + work))
  const { optimisticMin, pessimisticMin } = draft.spread ?? {
    optimisticMin: own + work * time.optimisticFactor,
    pessimisticMin: own + work * time.pessimisticFactor,
  }
  const stretch = draft.stretchMin === undefined ? USUAL_STRETCH_MIN : draft.stretchMin
  network.steps.push({
    key: draft.key,
    operation: draft.operation,
    name: draft.name,
    note: draft.note ?? '',
    minutes,
    optimisticMin: Math.min(minutes, Math.max(1, Math.round(optimisticMin))),
    pessimisticMin: Math.max(minutes, Math.round(pessimisticMin)),
    units: { count: draft.units, eachMin: time.perUnitMin },
    hands: 1,
    interruptible: stretch !== null,
    smallestStretchMin: stretch === null ? 0 : Math.min(stretch, minutes),
    holds: draft.holds ?? [],
    dusty: draft.dusty ?? false,
    tackyMin: draft.tacky?.minutes ?? 0,
    tackyProduct: draft.tacky?.product ?? null,
    ...(draft.spreadMin === undefined ? {} : { spreadMin: draft.spreadMin }),
    setUp:
      draft.setUp ??
      (time.family === null || time.setUpMin === 0 ? null : { family: time.family, minutes: time.setUpMin }),
    cautions: cautionIds(network.piece, draft),
  })
  for (const before of draft.after) network.lags.push(directly(before, draft.key))
  return draft.key
}

function cautionIds(
  { woods, isFor, kg }: PieceFacts,
  { work = [], woods: more = [], glue, finish }: StepDraft,
): readonly string[] {
  const facts: CautionFacts = {
    work,
    woods: [...woods, ...more],
    pieceIsFor: isFor,
    ...(kg !== undefined && (work.includes('move') || work.includes('hand-over')) ? { liftsKg: kg } : {}),
    ...(glue === undefined ? {} : { glue: glue.cautions }),
    ...(finish === undefined
      ? {}
      : { finish: finish.cautions, finishIsDryingOil: finish.dryingOil, finishIsFilm: finish.film }),
  }
  return cautionsFor(facts).map((caution) => caution.id)
}

/** Less than that is not worth walking to the machine for. */
const USUAL_STRETCH_MIN = 15

/** Follows as soon as hands are free. */
export const directly = (from: string, to: string): NetworkLag => ({
  from,
  to,
  wait: 'none',
  name: '',
  minMin: 0,
  optimisticMin: 0,
  pessimisticMin: 0,
  maxMin: null,
  remedy: null,
  product: null,
  source: '',
})

/** `first`, `second`, ... for coats and glue-ups. */
export const ordinal = (number: number): string => ORDINALS[number - 1] ?? `${number}th`

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']

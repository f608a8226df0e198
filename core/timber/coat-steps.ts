import { operationKind } from '../almanac/operations.ts'
import type { Consumed } from '../constructions/construction.ts'

/** As far as it must be known of a step to tell which coat it puts on. */
export interface CoatStep {
  /** Stable within its lot: `coat-1`, `base-coat-2`, `coat-1-under`. */
  readonly key: string
  readonly operation: string
}

export type FinishConsumed = Extract<Consumed, { kind: 'finish' }>

/** Coats of one part of a piece, in their order, and the steps that put them on. */
export interface CoatsOfPart<Step> {
  readonly finishes: readonly FinishConsumed[]
  readonly steps: readonly Step[]
}

/** Finishes and coats of a lot, part by part: a table’s base may be finished in another way than its top. */
export function coatsByPart<Step extends CoatStep>(
  consumed: readonly Consumed[],
  steps: readonly Step[],
): readonly CoatsOfPart<Step>[] {
  const finishes = consumed.filter((one) => one.kind === 'finish')
  const prefixes = new Set(finishes.flatMap(({ part }) => part ?? []))
  const partOf = ({ key }: Step): string => [...prefixes].find((prefix) => key.startsWith(prefix)) ?? ''
  const coats = Map.groupBy(
    steps.filter(({ operation }) => operationKind(operation) === 'coat'),
    partOf,
  )
  return [...Map.groupBy(finishes, ({ part = '' }) => part)].map(([part, own]) => ({
    finishes: own,
    steps: coats.get(part) ?? [],
  }))
}

/** What a coat goes on, of the parts of its lot that are finished apart, by the key of its step: `base-`, or nothing for the piece itself. */
export const partOfCoat = ({ key }: Pick<CoatStep, 'key'>): string => keyOf(key).replace(/(coat-\d+(-under)?|wax)$/, '')

/** Whether a step coats the first side only; the coat counts as put on with its second one. */
export const isFirstSide = ({ key }: CoatStep): boolean => keyOf(key).endsWith(FIRST_SIDE)

/** How much of its coat a step puts on: half where sides are coated apart. */
export const shareOfCoat = (step: CoatStep, all: readonly CoatStep[]): number =>
  isFirstSide(step) || all.some(({ key }) => keyOf(key) === `${keyOf(step.key)}${FIRST_SIDE}`) ? 0.5 : 1

const FIRST_SIDE = '-under'

/** As it was before its result was lost. */
const keyOf = (key: string): string => key.replace(/~\d+$/, '')

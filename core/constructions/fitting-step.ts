import { operationKind } from '../almanac/operations.ts'

/**
 * The step at which the parts of a piece are joined for good: its last glue-up, else its first step. What the wood holds
 * then decides how deep grooves are and how wide gaps.
 */
export const fittingStep = <Step extends { readonly operation: string }>(steps: readonly Step[]): Step | undefined =>
  steps.findLast(({ operation }) => operationKind(operation) === 'glue-up') ?? steps[0]

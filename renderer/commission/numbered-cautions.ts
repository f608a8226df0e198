import type { StepLine } from '../../desk/screens/commission.ts'

/** A step's cautions on paper: the number of each, and its text at the first step that needs it. */
export interface NumberedCaution {
  readonly number: number
  /** Null where it stands at an earlier step already. */
  readonly text: string | null
}

/** Numbers the cautions of a list of steps in the order in which they come up, by step. */
export function numberedCautions(steps: readonly StepLine[]): ReadonlyMap<string, readonly NumberedCaution[]> {
  const numbers = new Map<string, number>()
  return new Map(
    steps.map(({ stepId, cautions }) => [
      stepId,
      cautions.map(({ id, text }) => {
        const known = numbers.get(id)
        if (known !== undefined) return { number: known, text: null }
        numbers.set(id, numbers.size + 1)
        return { number: numbers.size, text }
      }),
    ]),
  )
}

import type { PlanStep } from '../problem/model.ts'

/** A step as a sentence names it: “First glue-up” of Harbour checkerboard. */
export const stepWords = ({ name, pieceName }: Pick<PlanStep, 'name' | 'pieceName'>): string =>
  pieceName === '' ? `“${name}”` : `“${name}” of ${pieceName}`

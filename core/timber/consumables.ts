import type { FinishClass } from '../waits/finish-class.ts'
import { SQUEEZE_OUT } from '../constructions/steps/amounts.ts'
import type { GlueClass } from '../waits/glue-class.ts'

/** A quantity with its range, and where the figure comes from. */
export interface Quantity {
  readonly min: number
  readonly typical: number
  readonly max: number
  readonly source: string
}

/**
 * Glue for joints with its squeeze-out, grams; null where no spread of that glue is published (see its label).
 * @param jointSquareMetres area of the joints, each joint counted once: the spread is per glue line
 */
export function glueGrams(jointSquareMetres: number, spread: GlueClass['spread']): Quantity | null {
  if (spread === null) return null
  const squareMetres = jointSquareMetres * (1 + SQUEEZE_OUT)
  const { min, max, source } = spread
  return {
    min: squareMetres * min,
    typical: (squareMetres * (min + max)) / 2,
    max: squareMetres * max,
    source,
  }
}

/**
 * Finish for a surface, millilitres; null where no coverage is known. End grain takes more: the slow side of the range is meant
 * for it.
 * @param coats number of coats; the class's usual number where the maker says nothing
 */
export function finishMillilitres(surfaceSquareMetres: number, finish: FinishClass, coats: number): Quantity | null {
  if (finish.coverage === null) return null
  const { min, typical, max, source } = finish.coverage
  const of = (squareMetresPerLitre: number): number => (1000 * coats * surfaceSquareMetres) / squareMetresPerLitre
  return { min: of(max), typical: of(typical), max: of(min), source }
}

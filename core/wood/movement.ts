import { failed, ok, problem, type Result } from '../problems.ts'
import type { Species } from './species.ts'

/**
 * How the growth rings lie across the size that moves. `flatsawn`: the width of a flatsawn board, tangential; `quartersawn`: the
 * width of a quartersawn board, radial; `riftsawn`: rings at 30 to 60 degrees. `unknown`: mixed or not known. For a thickness it is the other way round: the
 * thickness of a flatsawn board moves as `quartersawn`.
 */
export type GrainCut = 'flatsawn' | 'riftsawn' | 'quartersawn' | 'unknown'

/** Change per 1 % of moisture, fraction of the size: low <= planned <= high. Clearances use `planned`. */
export interface MovementCoefficient {
  readonly low: number
  readonly planned: number
  readonly high: number
  readonly source: string
}

/**
 * How much a wood moves across the grain. Where the cut is unknown the range from radial to tangential is given and the tangential
 * value planned with, which is the safe side; so too where only the tangential value is published.
 */
export function coefficientAcross(species: Species, cut: GrainCut): Result<MovementCoefficient> {
  const { radial, tangential, source } = species.coefficients
  if (tangential === null) {
    const message = `No movement figure for ${species.name} is published: take a wood of like weight, or measure a sample.`
    return failed(problem('movement-unknown', message))
  }
  if (cut === 'quartersawn' && radial !== null) return ok({ low: radial, planned: radial, high: radial, source })
  if (cut === 'flatsawn') return ok({ low: tangential, planned: tangential, high: tangential, source })
  if (cut === 'riftsawn' && radial !== null) {
    const [low, planned] = [60, 30].map((degrees) => coefficientAtAngle(radial, tangential, degrees)) as [
      number,
      number,
    ]
    return ok({ low, planned, high: planned, source: `${source}; rift 30 to 60 degrees: derived` })
  }
  return ok({ low: radial ?? tangential, planned: tangential, high: tangential, source })
}

/**
 * Coefficient for growth rings at an angle to the size that moves: 0 degrees is tangential, 90 radial, 45 the mean.
 * @source derived: transformation of strain; not in the Handbook
 */
export function coefficientAtAngle(radial: number, tangential: number, degrees: number): number {
  const angle = (degrees * Math.PI) / 180
  return tangential * Math.cos(angle) ** 2 + radial * Math.sin(angle) ** 2
}

/**
 * Change of a size across the grain, in the unit of the size; more than 0: it grows. Linear in size and moisture.
 * @param size at `fromPct`
 * @param fromPct moisture content at the start, percent; the coefficients hold for 6-14 %
 * @source Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2. It overstates a board that is neither flat- nor quartersawn.
 */
export const movement = (size: number, coefficient: number, fromPct: number, toPct: number): number =>
  size * coefficient * (toPct - fromPct)

/**
 * The same from total shrinkage, for woods without coefficient and for wetter wood up to fibre saturation.
 * @param shrinkagePct green to ovendry, percent
 * @source Wood Handbook (2010), Eq. 13-3, neither moisture above 30 %
 */
export const movementFromShrinkage = (size: number, shrinkagePct: number, fromPct: number, toPct: number): number =>
  (size * (toPct - fromPct)) / ((FIBRE_SATURATION_PCT * 100) / shrinkagePct - FIBRE_SATURATION_PCT + fromPct)

/** General assumption of the Wood Handbook; woods differ (western redcedar 18). */
export const FIBRE_SATURATION_PCT = 30

/**
 * Along the grain: 0.1-0.2 % from green to ovendry, spread over 30 %. Nothing in a shop, but not zero.
 * @source Wood Handbook (2010) p. 4-5 divided by 30; derived
 */
export const LENGTHWISE_COEFFICIENT = { low: 0.000033, planned: 0.000067, high: 0.000067 } as const

/** What to doubt about a computed movement; empty within 6-14% moisture. */
export const movementDoubts = (...moistures: readonly number[]): readonly string[] =>
  moistures.some((moisture) => moisture < 6 || moisture > 14)
    ? ['The movement figures hold for wood between 6 and 14 % moisture; beyond, this is an estimate.']
    : []

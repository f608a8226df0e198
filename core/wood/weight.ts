import { failed, ok, problem, type Result } from '../problems.ts'
import type { Species } from './species.ts'

/** Boards of one species vary widely: say a weight to two digits, and expect as much as this to either side (from memory). */
export const WEIGHT_SPREAD = 0.1

/**
 * Weight of a volume of wood, kilograms.
 * @param moisturePct moisture content, percent, 0..30; finished goods are near 8
 */
export function woodKg(cubicMetres: number, species: Species, moisturePct: number): Result<number> {
  const density = densityAt(species, moisturePct)
  if (density === null) {
    return failed(problem('weight-unknown', `No weight of ${species.name} is published: weigh a board of known size.`))
  }
  return ok(cubicMetres * density)
}

/**
 * Density in kilograms per cubic metre at a moisture content; null where no specific gravity was found.
 * @source Wood Handbook, FPL-GTR-282 (2021), Eqs. 4-11 to 4-14
 */
export function densityAt(species: Species, moisturePct: number): number | null {
  const basic = basicGravity(species)
  if (basic === null) return null
  const share = 1 - moisturePct / 30
  const volumetric = species.shrinkagePct.volumetric
  // A table that prints gravity at 12 % only is carried to another moisture by the general formula, both ways alike.
  const shrunk = species.gravity.basic === null || volumetric === null ? 0.265 * basic : volumetric / 100
  return 1000 * (basic / (1 - shrunk * share)) * (1 + moisturePct / 100)
}

/** Ovendry weight over green volume: printed, or back from the gravity at 12 % (inverse of Eq. 4-13). */
function basicGravity({ gravity }: Species): number | null {
  if (gravity.basic !== null) return gravity.basic
  return gravity.at12 === null ? null : gravity.at12 / (1 + 0.159 * gravity.at12)
}

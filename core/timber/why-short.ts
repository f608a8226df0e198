import { writeLength } from '../lengths/write-length.ts'
import type { LengthUnits } from '../lengths/length.ts'
import { planedOff, roughThicknessFor, writeRoughThickness } from '../wood/rough-thickness.ts'
import type { BoardOnHand, CuttingRules, PartToCut } from './cutting-model.ts'
import type { Almanac } from '../almanac/almanac.ts'

/** Why the boards on hand of a wood do not give these parts of it, though there are some; null: there are none. */
export function whyShort(
  parts: readonly Pick<PartToCut, 'lengthNm' | 'thicknessNm'>[],
  boards: readonly Pick<BoardOnHand, 'lengthNm' | 'thicknessNm'>[],
  { planing }: Pick<CuttingRules, 'planing'>,
  { thicknessesNm }: Pick<Almanac['yard'], 'thicknessesNm'>,
  units: LengthUnits,
): string | null {
  if (boards.length === 0) return null
  const most = (
    of: 'lengthNm' | 'thicknessNm',
    things: readonly Pick<PartToCut, 'lengthNm' | 'thicknessNm'>[],
  ): number => Math.max(0, ...things.map((each) => each[of]))
  const thickest = most('thicknessNm', boards)
  const thick = most('thicknessNm', parts)
  if (thickest < thick + planedOff(thickest, planing)) {
    const needed = roughThicknessFor(thick, planing, thicknessesNm)
    const needs = needed === null ? 'thicker than the yard has' : writeRoughThickness(needed, units)
    return `your ${writeRoughThickness(thickest, units)} is too thin, this needs ${needs}`
  }
  const long = most('lengthNm', parts)
  return most('lengthNm', boards) < long
    ? `none of yours is ${writeLength(long, units)} long`
    : 'your boards don’t give every part of it'
}

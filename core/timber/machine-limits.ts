import { planedOff } from '../wood/rough-thickness.ts'
import type { PartSize } from '../constructions/construction.ts'
import type { Allowances } from '../constructions/shop-facts.ts'
import type { LengthUnits } from '../lengths/length.ts'
import { writeLength } from '../lengths/write-length.ts'

/**
 * Where a part is more than the machines of this shop take, and what would do.
 * @param size as it is cut and planed out of the plank
 */
export function machineWarnings(
  { lengthNm, widthNm, thicknessNm }: PartSize,
  allowances: Allowances,
  units: LengthUnits,
): readonly string[] {
  const say = (nm: number): string => writeLength(nm, units)
  const { jointerWidthNm, planerWidthNm, shortestPlanedNm, bladeHeightNm } = allowances
  const inTheRoughNm = thicknessNm + planedOff(thicknessNm, allowances)
  const warnings: string[] = []
  if (widthNm > jointerWidthNm)
    warnings.push(
      `${say(widthNm)} wide, the jointer takes ${say(jointerWidthNm)}: flatten the first face by hand or with a router sled.`,
    )
  if (widthNm > planerWidthNm)
    warnings.push(
      `${say(widthNm)} wide, the planer takes ${say(planerWidthNm)}: rip it, plane the halves and glue them again.`,
    )
  if (lengthNm < shortestPlanedNm)
    warnings.push(
      `${say(lengthNm)} long, the planer takes nothing under ${say(shortestPlanedNm)}: plane it in a longer piece, crosscut afterwards.`,
    )
  if (inTheRoughNm > bladeHeightNm)
    warnings.push(
      `${say(inTheRoughNm)} thick in the rough, the table saw cuts through ${say(bladeHeightNm)}: rip it at the band saw.`,
    )
  return warnings
}

/** A board wider than the jointer, as it comes: its parts are ripped off before a face is flattened. */
export const boardWarnings = (
  widthNm: number,
  { jointerWidthNm }: Allowances,
  units: LengthUnits,
): readonly string[] =>
  widthNm > jointerWidthNm
    ? [
        `The board is wider than the jointer (${writeLength(jointerWidthNm, units)}): rip it first, flatten the pieces after.`,
      ]
    : []

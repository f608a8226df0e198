import type { LengthUnits } from '../lengths/length.ts'
import { writeLength, writeSizes } from '../lengths/write-length.ts'
import type { Cut } from './cutting-model.ts'

/**
 * A cut as it is said at the saw, measured from the left end or the lower edge of the piece that is cut: `Crosscut the 96" x 6" piece
 * 18 1/2" from its left end`.
 */
export function cutInWords({ way, through, fromNm }: Cut, units: LengthUnits): string {
  const piece = writeSizes([through.lengthNm, through.widthNm], units)
  const crosscut = way === 'crosscut'
  const measure = writeLength(fromNm - (crosscut ? through.x : through.y), units)
  if (measure.startsWith('0')) return `Trim the ${crosscut ? 'left end' : 'lower edge'} of the ${piece} piece`
  return crosscut
    ? `Crosscut the ${piece} piece ${measure} from its left end`
    : `Rip the ${piece} piece ${measure} from its lower edge`
}

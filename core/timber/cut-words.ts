import type { LengthUnits } from '../lengths/length.ts'
import { writeLength } from '../lengths/write-length.ts'
import type { Cut, Region } from './cutting-model.ts'

/** What a board gives: parts by their letters in the drawing, and the offcuts that are kept. */
interface Yields {
  readonly parts: readonly (Region & { readonly letter: string })[]
  readonly offcuts: readonly Region[]
}

/**
 * A cut as it is said at the saw, by what comes off at its left end or lower edge: `Crosscut to 18 1/2" (parts A, B)`. The drawing
 * has the piece that is cut.
 */
export function cutInWords({ way, through, fromNm }: Cut, { parts, offcuts }: Yields, units: LengthUnits): string {
  const crosscut = way === 'crosscut'
  const cutNm = fromNm - (crosscut ? through.x : through.y)
  const off: Region = { ...through, ...(crosscut ? { lengthNm: cutNm } : { widthNm: cutNm }) }
  const letters = [...new Set(parts.filter((part) => liesIn(part, off)).map(({ letter }) => letter))]
  const measure = writeLength(cutNm, units)
  const verb = crosscut ? 'Crosscut' : 'Rip'
  if (letters.length > 0)
    return `${verb} to ${measure} (${letters.length === 1 ? 'part' : 'parts'} ${letters.join(', ')})`
  if (offcuts.some((offcut) => liesIn(offcut, off))) return `${verb} to ${measure} (offcut)`
  const end = crosscut ? 'left end' : 'lower edge'
  return measure.startsWith('0') ? `Trim the ${end}` : `Trim ${measure} off the ${end}`
}

const liesIn = (inner: Region, outer: Region): boolean =>
  inner.x >= outer.x &&
  inner.y >= outer.y &&
  inner.x + inner.lengthNm <= outer.x + outer.lengthNm &&
  inner.y + inner.widthNm <= outer.y + outer.widthNm

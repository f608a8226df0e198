import { inches } from '../lengths/length.ts'
import type { Cut, Region } from './cutting-model.ts'

/** Rips narrower and crosscuts shorter than this bring a hand near the blade. @source common practice, no source */
const NARROW_NM = inches(2)
const SHORT_NM = inches(8)
/** Shorter than this a piece does not lie long enough against the fence to be ripped. @source common practice, no source */
const SHORT_RIP_NM = inches(12)

export interface SawCaution {
  readonly id: 'narrow-rip' | 'short-rip' | 'short-crosscut'
  readonly text: string
}

const CAUTIONS: readonly (SawCaution & { readonly at: (cut: Cut, smallest: Region) => boolean })[] = [
  {
    id: 'short-rip',
    text: 'Rips of short pieces: not against the fence at the table saw. Rip before you crosscut, or use the band saw.',
    at: ({ way, through }) => way === 'rip' && through.lengthNm < SHORT_RIP_NM,
  },
  {
    id: 'narrow-rip',
    text: 'Narrow rips: guard and riving knife on, push block over the fence, never a hand between fence and blade.',
    at: ({ way }, smallest) => way === 'rip' && smallest.widthNm < NARROW_NM,
  },
  {
    id: 'short-crosscut',
    text: 'Short crosscuts: on a sled with the piece clamped; a stop block ends before the blade, the fence is out of the way.',
    at: ({ way }, smallest) => way === 'crosscut' && smallest.lengthNm < SHORT_NM,
  },
]

/**
 * The usual cautions at the cuts of one board. Ends and defects that fall off beside the blade as waste are not held, so only what is
 * kept counts.
 * @param kept parts and offcuts of the board
 */
export const sawCautions = (cuts: readonly Cut[], kept: readonly Region[]): readonly SawCaution[] =>
  CAUTIONS.filter(({ at }) => cuts.some((cut) => kept.some((piece) => isBeside(piece, cut) && at(cut, piece)))).map(
    ({ id, text }) => ({ id, text }),
  )

/** The cut makes an edge or an end of this piece. */
function isBeside(piece: Region, { way, through, fromNm, toNm }: Cut): boolean {
  const inside =
    piece.x >= through.x &&
    piece.y >= through.y &&
    piece.x + piece.lengthNm <= through.x + through.lengthNm &&
    piece.y + piece.widthNm <= through.y + through.widthNm
  if (!inside) return false
  const [start, end] = way === 'crosscut' ? [piece.x, piece.x + piece.lengthNm] : [piece.y, piece.y + piece.widthNm]
  return start === toNm || end === fromNm
}

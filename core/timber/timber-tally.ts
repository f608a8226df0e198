import type { Yard } from '../almanac/almanac.ts'
import type { LengthNm } from '../lengths/length.ts'
import { volumeNm3 } from '../wood/board-measure.ts'
import { planedOff, roughThicknessFor, type Planing } from '../wood/rough-thickness.ts'
import type { PartToCut } from './cutting-model.ts'

/** Wood of one kind and rough thickness that parts need. */
export interface TallyLine {
  /** Almanac wood id. */
  readonly wood: string
  /** Rough thickness of the yard; null: thicker than any, to be glued up. */
  readonly roughNm: LengthNm | null
  readonly pieces: number
  /** Volume of the parts as cut, at the rough thickness they come out of, cubic nanometres; without waste. */
  readonly netNm3: bigint
}

/**
 * Wood by kind and rough thickness, before any cutting plan. Parts are counted at the thickness of the plank they are planed out
 * of, because that is what is paid for.
 * @param planing what is taken off both faces together
 */
export function timberTally(
  parts: readonly Omit<PartToCut, 'id' | 'name' | 'forPiece'>[],
  planing: Planing,
  { thicknessesNm }: Pick<Yard, 'thicknessesNm'>,
): readonly TallyLine[] {
  const lines = new Map<string, { wood: string; roughNm: LengthNm | null; pieces: number; netNm3: bigint }>()
  for (const { wood, quantity, lengthNm, widthNm, thicknessNm } of parts) {
    const roughNm = roughThicknessFor(thicknessNm, planing, thicknessesNm)
    const key = `${wood} ${roughNm}`
    const line = lines.get(key) ?? { wood, roughNm, pieces: 0, netNm3: 0n }
    line.pieces += quantity
    line.netNm3 +=
      BigInt(quantity) * volumeNm3(roughNm ?? thicknessNm + planedOff(thicknessNm, planing), widthNm, lengthNm)
    lines.set(key, line)
  }
  return [...lines.values()].toSorted(
    (a, b) => a.wood.localeCompare(b.wood, 'en') || (a.roughNm ?? Infinity) - (b.roughNm ?? Infinity),
  )
}

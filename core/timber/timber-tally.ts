import type { LengthNm } from '../lengths/length.ts'
import { boardFeet, CUBIC_METRES_PER_BOARD_FOOT, quartersFor, withWaste, type Quarters } from '../wood/board-measure.ts'
import type { PartToCut } from './cutting-model.ts'
import { quartersNm } from './yard.ts'

/** Wood of one kind and rough thickness that parts need. */
export interface TallyLine {
  /** Almanac wood id. */
  readonly wood: string
  /** Rough thickness as the yard names it; null: thicker than any, to be glued up. */
  readonly quarters: Quarters | null
  readonly pieces: number
  /** Board feet of the parts as cut, at the rough thickness they come out of; without waste. */
  readonly netBoardFeet: number
  /** What to buy so that this is left after the waste. */
  readonly boardFeetWithWaste: number
  readonly cubicMetresWithWaste: number
}

/**
 * Board feet by wood and rough thickness, before any cutting plan. Parts are counted at the thickness of the plank they are planed out
 * of, because that is what is paid for.
 * @param planeFacesNm taken off both faces together
 * @param waste share of what is bought that is lost to defects, ends and kerfs, 0..1
 * @source waste: 15-30 % is common practice, no source; 30 % for solid-panel doors (woodweb.com thread)
 */
export function timberTally(parts: readonly PartToCut[], planeFacesNm: LengthNm, waste: number): readonly TallyLine[] {
  const lines = new Map<string, { wood: string; quarters: Quarters | null; pieces: number; net: number }>()
  for (const part of parts) {
    const quarters = quartersFor(part.thicknessNm, planeFacesNm)
    const thicknessNm = quarters === null ? part.thicknessNm + planeFacesNm : quartersNm(quarters)
    const key = `${part.wood} ${quarters}`
    const line = lines.get(key) ?? { wood: part.wood, quarters, pieces: 0, net: 0 }
    line.pieces += part.quantity
    line.net += part.quantity * boardFeet(thicknessNm, part.widthNm, part.lengthNm)
    lines.set(key, line)
  }
  return [...lines.values()]
    .map(({ wood, quarters, pieces, net }) => ({
      wood,
      quarters,
      pieces,
      netBoardFeet: net,
      boardFeetWithWaste: withWaste(net, waste),
      cubicMetresWithWaste: withWaste(net, waste) * CUBIC_METRES_PER_BOARD_FOOT,
    }))
    .toSorted((a, b) => a.wood.localeCompare(b.wood, 'en') || (a.quarters ?? Infinity) - (b.quarters ?? Infinity))
}

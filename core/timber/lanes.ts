import type { PartToCut } from './cutting-model.ts'
import { packBins } from './packing/pack.ts'

/**
 * An order of parts in which those that fill a length of board together stand together: parts of one width are lanes ripped out of
 * boards, and which of them share a lane is a packing of lengths.
 * @param laneNm usable length of the longest board
 */
export function lanesOrder(copies: readonly PartToCut[], laneNm: number, kerfNm: number): PartToCut[] {
  const widths = [...new Set(copies.map((part) => part.widthNm))].toSorted((a, b) => b - a)
  return widths.flatMap((widthNm) => {
    const lane = copies.filter((part) => part.widthNm === widthNm && part.lengthNm <= laneNm)
    const others = copies.filter((part) => part.widthNm === widthNm && part.lengthNm > laneNm)
    // A part takes its length and a kerf; the last one of a lane needs no kerf, so the lane is a kerf longer.
    const sizes = lane.map((part) => Math.ceil((part.lengthNm + kerfNm) / COARSE_NM))
    const capacity = Math.floor((laneNm + kerfNm) / COARSE_NM)
    if (sizes.some((size) => size > capacity)) return [...others, ...lane]
    const { bins } = packBins(sizes, capacity, { tries: 2 })
    return [...others, ...bins.flatMap((bin) => bin.map((item) => lane[item]!))]
  })
}

/** Sizes are packed to a hundredth of a millimetre, rounded so that what is packed fits. */
const COARSE_NM = 10_000

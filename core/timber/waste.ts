import type { LengthNm } from '../lengths/length.ts'

/** What is lost of one wood as the maker buys it. */
export interface WoodWaste {
  /** Id of a grade in `GRADES`; null: a share of the maker's own. */
  readonly grade: string | null
  /** Share of what is bought that is lost, 0 <= share < 1. */
  readonly share: number
  /** Rough thicknesses that lose another share. */
  readonly byThickness: readonly { readonly thicknessNm: LengthNm; readonly share: number }[]
}

export interface Grade {
  readonly id: string
  readonly name: string
  /** Ways to type it, bare letters and digits. */
  readonly typed: readonly string[]
  /** Share of the board that its clear cuttings need not cover: more than that may be lost. */
  readonly share: number
}

/**
 * Hardwood grades by the least share of a board that clear cuttings give; the rest may be lost.
 * @source NHLA Rules for the Measurement and Inspection of Hardwood and Cypress, as summed up in the Wood Handbook, FPL-GTR-282 (2021),
 *   chapter 6: FAS 83 1/3 %, No. 1 Common 66 2/3 %, No. 2A Common 50 %, No. 3A Common 33 1/3 % in clear-face cuttings (from memory)
 */
export const GRADES: readonly Grade[] = [
  { id: 'fas', name: 'FAS', typed: ['fas', 'firstsandseconds', 'selectandbetter', 'selbetter'], share: 1 / 6 },
  { id: 'common-1', name: 'No. 1 common', typed: ['no1common', '1common', '1c', 'no1c'], share: 1 / 3 },
  { id: 'common-2a', name: 'No. 2A common', typed: ['no2acommon', '2acommon', '2ac', '2common', '2c'], share: 1 / 2 },
  { id: 'common-3a', name: 'No. 3A common', typed: ['no3acommon', '3acommon', '3ac'], share: 2 / 3 },
]

export const GRADE_SOURCE = 'NHLA grades: what clear cuttings need not cover of a board'

/** What waste goes by: the same for every wood, and what single woods lose instead. */
export interface WasteFacts {
  readonly yard: { readonly waste: number }
  /** By almanac wood id. */
  readonly woodWaste: Readonly<Record<string, WoodWaste>>
}

/** Share that is lost of a wood bought at a rough thickness (null: thicker than any), 0 <= share < 1. */
export function wasteOf({ yard, woodWaste }: WasteFacts, wood: string, thicknessNm: LengthNm | null): number {
  const own = woodWaste[wood]
  if (own === undefined) return yard.waste
  return own.byThickness.find((one) => one.thicknessNm === thicknessNm)?.share ?? own.share
}

import { NM_PER_INCH } from '../../lengths/length.ts'
import type { Part } from '../construction.ts'

/** Board feet of parts at their rough sizes, exact and without waste: 1 board foot is 144 cubic inches. */
export const boardFeetOfParts = (parts: readonly Part[]): number =>
  parts.reduce((sum, { quantity, rough }) => sum + (quantity * cubicInches(rough)) / 144, 0)

/** Setting out, first passes and sweeping up take as long for a little stock as for this much of it. */
const LEAST_BOARD_FEET = 3
/** Short parts are milled in one stick of about a yard and cut apart afterwards; each stick takes at least as long as a board foot. */
const STICK_NM = 36 * NM_PER_INCH

/**
 * Board feet that milling counts for wide stock that is ripped into strips afterwards: what there is, but never so little that no
 * machine is walked to for it.
 * @source the published rate is for whole boards, about 15 board feet an hour; the least is common practice, no source
 */
export const boardFeetMilled = (parts: readonly Part[]): number => Math.max(LEAST_BOARD_FEET, boardFeetOfParts(parts))

/**
 * The same for sticks: parts of one section together, each yard of them at least as much work as a board foot, because a thin leg goes
 * over the jointer and through the planer as often as a wide plank.
 * @source common practice, no source
 */
export function boardFeetOfSticks(parts: readonly Part[]): number {
  const sections = Map.groupBy(parts, ({ wood, rough }) => `${wood} ${rough.widthNm} ${rough.thicknessNm}`)
  const counted = [...sections.values()].reduce((sum, section) => {
    const lengthNm = section.reduce((total, { quantity, rough }) => total + quantity * rough.lengthNm, 0)
    return sum + Math.max(boardFeetOfParts(section), Math.ceil(lengthNm / STICK_NM))
  }, 0)
  return Math.max(LEAST_BOARD_FEET, counted)
}

const cubicInches = ({ lengthNm, widthNm, thicknessNm }: Part['rough']): number =>
  (lengthNm / NM_PER_INCH) * (widthNm / NM_PER_INCH) * (thicknessNm / NM_PER_INCH)

/** Square feet of both faces and the four edges of a slab. */
export function surfaceSquareFeet(acrossNm: number, alongNm: number, thicknessNm: number): number {
  const feet = (nm: number): number => nm / NM_PER_INCH / 12
  return 2 * (feet(acrossNm) * feet(alongNm) + feet(thicknessNm) * (feet(acrossNm) + feet(alongNm)))
}

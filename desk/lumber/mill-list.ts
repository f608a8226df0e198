import { ALLOWANCE_SOURCES } from '../../core/almanac/defaults.ts'
import { writeLength, writeSizes } from '../../core/lengths/write-length.ts'
import { machineWarnings } from '../../core/timber/machine-limits.ts'
import { timberTally } from '../../core/timber/timber-tally.ts'
import { boardFeetOf, cubicMetresOf } from '../../core/wood/board-measure.ts'
import { planedOff, roughThicknessFor, writeRoughThickness } from '../../core/wood/rough-thickness.ts'
import type { PieceLabel } from '../piece-label.ts'
import { type PartWork, type TimberWork, lengthUnitsOf } from './timber-work.ts'

/** Parts of one wood that come out of one rough thickness. */
export interface MillGroup {
  readonly wood: string
  /** `8/4`; null: thicker than the yard has. */
  readonly rough: string | null
  readonly pieces: number
  readonly boardFeet: number
  readonly cubicMetres: number
  readonly why: readonly string[]
  /** The first of them, as many as were asked for. */
  readonly lines: readonly MillLine[]
}

export interface MillLine {
  readonly id: string
  readonly name: string
  readonly note: string
  readonly quantity: number
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
  readonly piece: PieceLabel
  readonly begun: boolean
  readonly plannedAt: number | null
  readonly warnings: readonly string[]
  /** What it is when it is finished. */
  readonly why: readonly string[]
}

/** @param most lines of all groups together */
export function millGroups(work: TimberWork, most: number): MillGroup[] {
  const { rules, parts } = work
  const { yard, shop } = work.moment.almanac
  const works = [...parts.values()]
  const roughOf = ({ cut }: PartWork) => roughThicknessFor(cut.thicknessNm, rules.planing, yard.thicknessesNm)
  const tally = timberTally(
    works.map(({ cut }) => cut),
    rules.planing,
    yard,
  )
  const ofGroup = Map.groupBy(works, (one) => `${one.cut.wood} ${roughOf(one)}`)
  let left = most
  return tally.map(({ wood, roughNm, pieces, netNm3 }) => ({
    wood,
    rough: roughNm === null ? null : writeRoughThickness(roughNm, shop.units),
    pieces,
    boardFeet: boardFeetOf(netNm3),
    cubicMetres: cubicMetresOf(netNm3),
    why: [
      'Length times width of every part as cut, times the rough thickness you pay for. 144 cubic inches are a board foot, 0.00236 m³. Without any waste.',
      roughNm === null
        ? 'Thicker than any rough thickness of the yard: to be glued up.'
        : `Rough thickness: the thinnest of ${thicknessesInWords(work)} that leaves the part after planing takes ${writeLength(planedOff(roughNm, rules.planing), lengthUnitsOf(work))} off both faces together (${ALLOWANCE_SOURCES.planeFaceNm}). Both are in the Almanac.`,
    ],
    lines: take(ofGroup.get(`${wood} ${roughNm}`) ?? []).map((one) => millLine(one, work)),
  }))

  function take(group: readonly PartWork[]): readonly PartWork[] {
    const taken = group.slice(0, left)
    left -= taken.length
    return taken
  }
}

export const thicknessesInWords = ({ moment }: TimberWork): string =>
  moment.almanac.yard.thicknessesNm.map((nm) => writeRoughThickness(nm, moment.almanac.shop.units)).join(', ')

function millLine({ cut, part, work: lot }: PartWork, work: TimberWork): MillLine {
  const { allowances } = work.moment.almanac
  const units = lengthUnitsOf(work)
  const { lengthNm, widthNm, thicknessNm } = cut
  const { finished } = part
  return {
    ...{ id: cut.id, name: cut.name, note: part.note ?? '', quantity: cut.quantity, lengthNm, widthNm, thicknessNm },
    piece: lot.lot.label,
    begun: lot.begun,
    plannedAt: lot.plannedAt,
    warnings: machineWarnings(cut, allowances, units),
    why: [
      `Finished it is ${writeSizes([finished.lengthNm, finished.widthNm, finished.thicknessNm], units)}; what later steps take off is on it until then.`,
    ],
  }
}

/** Why parts are cut larger than they end: the same for every part, so it is told once. */
export function whySizes(work: TimberWork): string[] {
  const { allowances } = work.moment.almanac
  const say = (nm: number): string => writeLength(nm, lengthUnitsOf(work))
  return [
    `Joint an edge ${say(allowances.jointEdgeNm)}, flattening a panel ${say(allowances.flattenPanelNm)}, an end-grain board ${say(allowances.flattenBoardNm)}, squaring an end ${say(allowances.squareEndNm)}; no part is shorter than the planer takes (${say(allowances.shortestPlanedNm)}) where it can be longer.`,
    'Allowances are those of the Almanac. Source: common practice, no source; the planer’s from the manual of a small planer.',
  ]
}

import {
  chequer,
  panelPlan,
  repeatedRows,
  stripes,
  type CellPattern,
  type PanelKind,
  type PanelPlan,
} from './cell-pattern.ts'
import type { BoardSize } from '../design/board-options.ts'
import type { EndGrainSpec } from './end-grain-spec.ts'
import { endGrainChange, type FieldThroughSeasons } from '../design/field-change.ts'
import { evenShare } from '../steps/glue-ups.ts'
import { framesOf, inPairs, otherGeometries } from '../design/frame-set.ts'
import { frameGeometry, standsOffNm, type FrameGeometry, type MitredFrame } from '../design/mitred-frame.ts'
import type { Allowances, ShopFacts } from '../shop-facts.ts'

/** The sizes of an end-grain board and of the panels from which a lot of them is sliced. Whole nanometres. */
export interface EndGrainGeometry {
  readonly pattern: CellPattern
  readonly plan: PanelPlan
  readonly fieldAcrossNm: number
  readonly fieldAlongNm: number
  /** Width to which strips are cut; the outer ones of a panel are wider by what trimming the board takes off that edge. */
  readonly stripWidthNm: number
  readonly outerStripWidthNm: number
  /**
   * Thickness to which strips are planed: the cell, what flattening the panel takes, and a share of what trimming takes off the two
   * outer slices of a board, which no panel can be thicker for by itself.
   */
  readonly stripThicknessNm: number
  /** Thickness at which slices are cut: the board and what flattening takes. */
  readonly sliceNm: number
  /** Length of a slice and width of a panel. */
  readonly panelWidthNm: number
  readonly panels: readonly Panel[]
  readonly change: FieldThroughSeasons
  readonly frame: FrameGeometry | null
  /** Of the others of a set. */
  readonly otherFrames: readonly FrameGeometry[]
}

/** One panel to be glued up: strips side by side, cut into slices. */
export interface Panel {
  readonly kind: PanelKind
  readonly slices: number
  readonly lengthNm: number
}

/** For a lot of `count` equal boards; one panel may serve several of them. */
export function endGrainGeometry(spec: EndGrainSpec, count: number, facts: ShopFacts): EndGrainGeometry {
  const { allowances } = facts
  const pattern = patternOf(spec)
  const plan = panelPlan(pattern)
  const sliceNm = spec.thicknessNm + allowances.flattenBoardNm
  const strips = plan.slicesAre === 'rows' ? spec.cellsAcross : spec.cellsAlong
  const slices = plan.slicesAre === 'rows' ? spec.cellsAlong : spec.cellsAcross
  const fieldAcrossNm = spec.cellsAcross * spec.cellNm
  const fieldAlongNm = spec.cellsAlong * spec.cellNm
  const change = endGrainChange(
    fieldAcrossNm,
    fieldAlongNm,
    pattern.flat().map((wood) => ({ wood, size: 1 })),
    facts,
  )
  return {
    pattern,
    plan,
    fieldAcrossNm,
    fieldAlongNm,
    stripWidthNm: spec.cellNm + allowances.jointEdgeNm,
    outerStripWidthNm: spec.cellNm + allowances.jointEdgeNm + allowances.trimEdgeNm,
    stripThicknessNm: spec.cellNm + Math.ceil((2 * allowances.trimEdgeNm) / slices) + allowances.flattenPanelNm,
    sliceNm,
    panelWidthNm: strips * spec.cellNm + 2 * allowances.trimEdgeNm,
    panels: plan.kinds.flatMap((kind) => panelsOf(kind, kind.slices * count, sliceNm, allowances)),
    change,
    frame: spec.frame === null ? null : frameGeometry(fieldAcrossNm, fieldAlongNm, spec.frame, change, facts),
    otherFrames:
      spec.frame === null
        ? []
        : otherGeometries(fieldAcrossNm, fieldAlongNm, spec.frame, spec.otherFrames, change, facts),
  }
}

/** Every frame of the set with its sizes; empty: none. */
export const framesWithSizes = (
  spec: EndGrainSpec,
  { frame, otherFrames }: EndGrainGeometry,
): readonly (readonly [MitredFrame, FrameGeometry])[] =>
  spec.frame === null || frame === null ? [] : inPairs(framesOf(spec.frame, spec.otherFrames), [frame, ...otherFrames])

/** The board as it leaves the shop, whole. */
export const endGrainSizeOf = (
  { thicknessNm, frame: made }: EndGrainSpec,
  geometry: EndGrainGeometry,
  { units }: Pick<ShopFacts, 'units'>,
): BoardSize => {
  const { fieldAcrossNm, fieldAlongNm, frame } = geometry
  return {
    units,
    acrossNm: frame?.outsideAcrossNm ?? fieldAcrossNm,
    alongNm: frame?.outsideAlongNm ?? fieldAlongNm,
    thicknessNm,
    standsOffNm: standsOffNm(made),
    frameAcrossNm: (made?.faceNm ?? 0) + Math.max(frame?.gapLeftNm ?? 0, frame?.gapRightNm ?? 0),
    frameAlongNm: (made?.faceNm ?? 0) + (frame?.gapAlongNm ?? 0),
  }
}

/**
 * Length of a panel that gives so many slices: each slice and its kerf, both ends squared, and enough left to hold the last
 * piece safely; never shorter than the planer takes.
 */
export const panelLength = (slices: number, sliceNm: number, allowances: Allowances): number =>
  Math.max(
    slices * (sliceNm + allowances.sawKerfNm) + 2 * allowances.squareEndNm + allowances.holdLastPieceNm,
    allowances.shortestPlanedNm,
  )

function panelsOf(kind: PanelKind, slices: number, sliceNm: number, allowances: Allowances): Panel[] {
  const lost = 2 * allowances.squareEndNm + allowances.holdLastPieceNm
  const most = Math.max(1, Math.floor((allowances.longestPanelNm - lost) / (sliceNm + allowances.sawKerfNm)))
  const panels = Math.ceil(slices / most)
  return Array.from({ length: panels }, (_, index) => {
    const share = evenShare(slices, panels, index)
    return { kind, slices: share, lengthNm: panelLength(share, sliceNm, allowances) }
  })
}

function patternOf({ cellsAcross, cellsAlong, pattern }: EndGrainSpec): CellPattern {
  switch (pattern.kind) {
    case 'chequer':
      return chequer(cellsAcross, cellsAlong, pattern.woods)
    case 'stripes':
      return stripes(cellsAcross, cellsAlong, pattern.woods)
    case 'rows':
      return repeatedRows(cellsAcross, cellsAlong, pattern.rows)
  }
}

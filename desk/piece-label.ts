import type { BookStep } from '../core/book/book.ts'

/** How the piece is spoken of on every screen. */
export interface PieceLabel {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly pieceId: string
  readonly title: string
  readonly count: number
  /** "lot 1 of 2", or null when the batch is not split. */
  readonly lot: string | null
}

/** Pieces that parted from their lot and joined it again: the step is of all that there are. */
const isOfAll = ({ lots, lotCount }: BookStep, pieces: number): boolean => lots > 1 && lotCount === pieces

/** Which of the pieces a step is of; null: the batch is not split. */
export const lotInWords = (step: BookStep, pieces: number): string | null =>
  isOfAll(step, pieces) ? `all ${pieces} together` : step.lots === 1 ? null : `lot ${step.lot} of ${step.lots}`

/** The label of a lot as it is at one of its steps. */
export const labelAt = (
  step: BookStep,
  lot: { readonly label: PieceLabel; readonly piece: { readonly count: number } },
) => ({
  ...lot.label,
  count: step.lotCount,
  lot: isOfAll(step, lot.piece.count) ? null : lot.label.lot,
})

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

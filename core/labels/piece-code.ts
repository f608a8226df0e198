/** Scheme of addresses that open something in this program. */
export const SCHEME = 'out-of-clamps'

/** A piece of an order by the numbers that people see: the order's, and the piece's place in it from 1. */
export interface PieceNumber {
  readonly order: number
  readonly piece: number
}

/** What the code on a tag says: `out-of-clamps:12/1`. */
export const pieceCode = ({ order, piece }: PieceNumber): string => `${SCHEME}:${order}/${piece}`

/** The piece that such a code names; null for any other text. */
export function readPieceCode(text: string): PieceNumber | null {
  const [, order, piece] = /^out-of-clamps:(?:\/\/)?([1-9]\d{0,8})\/([1-9]\d{0,2})\/?$/i.exec(text.trim()) ?? []
  return order === undefined || piece === undefined ? null : { order: Number(order), piece: Number(piece) }
}

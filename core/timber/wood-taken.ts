import { sharedOut } from '../money/shared-out.ts'

/** A board that is gone, with the parts that came out of it. */
export interface BoardTaken {
  /** What it cost less what its offcuts are worth, minor units. */
  readonly minor: number
  /** The order that it was bought for; null: for none. */
  readonly boughtFor: string | null
  readonly parts: readonly {
    readonly pieceId: string
    readonly lot: number
    /** Its wood is lost: it stays paid by the piece that it was cut for. */
    readonly isLost: boolean
    readonly quantity: number
    readonly lengthNm: number
    readonly widthNm: number
  }[]
}

/** What the wood of pieces and orders really cost, minor units; nothing of boards whose price nobody typed. */
export interface WoodTaken {
  /** What is lost included. */
  readonly byPiece: ReadonlyMap<string, number>
  /** Of the parts of a lot that are not lost; see `cutLotKey`. */
  readonly byLot: ReadonlyMap<string, number>
  /** Used up without a list of parts, by the order that it was bought for. */
  readonly byOrder: ReadonlyMap<string, number>
}

export const NOTHING_TAKEN: WoodTaken = { byPiece: new Map(), byLot: new Map(), byOrder: new Map() }

export const cutLotKey = (pieceId: string, lot: number): string => `${pieceId}/${lot}`

/** A board is paid by the pieces that were cut out of it, by the area of their parts; they add up to the last minor unit. */
export function woodTaken(boards: readonly BoardTaken[]): WoodTaken {
  const byPiece = new Map<string, number>()
  const byLot = new Map<string, number>()
  const byOrder = new Map<string, number>()
  const add = (sums: Map<string, number>, key: string, minor: number): unknown =>
    sums.set(key, (sums.get(key) ?? 0) + minor)
  for (const { minor, boughtFor, parts } of boards) {
    if (parts.length === 0) {
      if (boughtFor !== null) add(byOrder, boughtFor, minor)
      continue
    }
    const areas = parts.map(({ quantity, lengthNm, widthNm }) => BigInt(quantity) * BigInt(lengthNm) * BigInt(widthNm))
    for (const [index, share] of sharedOut(Math.max(0, minor), areas).entries()) {
      const part = parts[index]
      if (part === undefined) continue
      add(byPiece, part.pieceId, share)
      if (!part.isLost) add(byLot, cutLotKey(part.pieceId, part.lot), share)
    }
  }
  return { byPiece, byLot, byOrder }
}

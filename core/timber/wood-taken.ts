import { sharedOut } from '../money/shared-out.ts'

/** A board that is gone, with the parts that came out of it. */
export interface BoardTaken {
  /** What it cost less what its offcuts are worth, minor units. */
  readonly minor: number
  /** The order that it was bought for; null: for none. */
  readonly boughtFor: string | null
  readonly parts: readonly {
    readonly pieceId: string
    readonly quantity: number
    readonly lengthNm: number
    readonly widthNm: number
  }[]
}

/** What the wood of pieces and orders really cost, minor units; nothing of boards whose price nobody typed. */
export interface WoodTaken {
  readonly byPiece: ReadonlyMap<string, number>
  /** Used up without a list of parts, by the order that it was bought for. */
  readonly byOrder: ReadonlyMap<string, number>
}

export const NOTHING_TAKEN: WoodTaken = { byPiece: new Map(), byOrder: new Map() }

/** A board is paid by the pieces that were cut out of it, by the area of their parts; they add up to the last minor unit. */
export function woodTaken(boards: readonly BoardTaken[]): WoodTaken {
  const byPiece = new Map<string, number>()
  const byOrder = new Map<string, number>()
  for (const { minor, boughtFor, parts } of boards) {
    const areas = new Map<string, bigint>()
    for (const { pieceId, quantity, lengthNm, widthNm } of parts)
      areas.set(pieceId, (areas.get(pieceId) ?? 0n) + BigInt(quantity) * BigInt(lengthNm) * BigInt(widthNm))
    if (areas.size === 0) {
      if (boughtFor !== null) byOrder.set(boughtFor, (byOrder.get(boughtFor) ?? 0) + minor)
      continue
    }
    const shares = sharedOut(Math.max(0, minor), [...areas.values()])
    for (const [index, pieceId] of [...areas.keys()].entries())
      byPiece.set(pieceId, (byPiece.get(pieceId) ?? 0) + (shares[index] ?? 0))
  }
  return { byPiece, byOrder }
}

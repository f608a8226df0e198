import type { LengthNm } from '../lengths/length.ts'
import { volumeNm3 } from '../wood/board-measure.ts'
import type { CuttingPlan } from './cutting-model.ts'

/** Equal boards to buy. */
export interface ShoppingLine {
  /** Almanac wood id. */
  readonly wood: string
  readonly thicknessNm: LengthNm
  readonly widthNm: LengthNm
  readonly lengthNm: LengthNm
  readonly count: number
  /** Of all of them, as they are sold: rough, cubic nanometres. */
  readonly volumeNm3: bigint
}

/** What a cutting plan needs from the yard, equal boards together: by wood, thickest and longest first. */
export function shoppingList(plan: CuttingPlan): readonly ShoppingLine[] {
  const lines = new Map<string, ShoppingLine>()
  for (const { board, bought } of plan.boards) {
    if (!bought) continue
    const { wood, thicknessNm, widthNm, lengthNm } = board
    const key = JSON.stringify([wood, thicknessNm, widthNm, lengthNm])
    const count = (lines.get(key)?.count ?? 0) + 1
    const volume = BigInt(count) * volumeNm3(thicknessNm, widthNm, lengthNm)
    lines.set(key, { wood, thicknessNm, widthNm, lengthNm, count, volumeNm3: volume })
  }
  return [...lines.values()].toSorted(
    (a, b) =>
      a.wood.localeCompare(b.wood, 'en') ||
      b.thicknessNm - a.thicknessNm ||
      b.lengthNm - a.lengthNm ||
      b.widthNm - a.widthNm,
  )
}

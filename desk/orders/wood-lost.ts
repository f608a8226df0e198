import type { BookStep } from '../../core/book/book.ts'
import type { ChangedNetwork } from '../../core/book/changed-network.ts'
import type { ChangedParts } from '../../core/book/changed-parts.ts'

/** A lot whose wood was cut for nothing: of the parts of these names; null: of all of them. */
export interface WoodLost {
  readonly pieceId: string
  readonly lot: number
  readonly parts: readonly string[] | null
}

/** Whether a part of that lot is lost. */
export const losesPart = ({ parts }: WoodLost, name: string): boolean => parts?.includes(name) ?? true

/** Whether a part that was cut is lost. */
export const isWoodLost = (
  lost: readonly WoodLost[],
  { pieceId, lot, name }: { readonly pieceId: string; readonly lot: number; readonly name: string },
): boolean => lost.some((each) => each.pieceId === pieceId && each.lot === lot && losesPart(each, name))

/** Cut wood serves as long as its parts are the same, or what was milled of it counts all the same. */
export function woodLostOf(
  pieceId: string,
  steps: readonly BookStep[],
  { counting, steps: made }: ChangedNetwork,
  parts: ChangedParts | null,
): readonly WoodLost[] {
  const counted = made.filter(({ id }) => counting.includes(id))
  return [...new Set(steps.map(({ lot }) => lot))].flatMap((lot): WoodLost[] => {
    const of = counted.filter((step) => step.lot === lot)
    if (parts === null) return of.length > 0 ? [] : [{ pieceId, lot, parts: null }]
    const names = [...parts].flatMap(([key, named]) => (of.some((step) => step.key === key) ? [] : named))
    return names.length === 0 ? [] : [{ pieceId, lot, parts: names }]
  })
}

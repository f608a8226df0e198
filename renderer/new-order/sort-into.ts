import { askedPiece, changedPiece, optionsWithoutField, sizesInCells } from '../../core/book/asked-piece.ts'
import type { SpokenOrder } from '../../core/book/order-line.ts'
import type { Units } from '../../core/constructions/construction.ts'
import type { MadeBefore } from '../../desk/orders/repeat-order.ts'
import { shop } from '../shop.svelte.ts'
import { emptyPiece, type TypedDraft, type TypedPiece } from './order-draft.svelte.ts'

/**
 * Puts a spoken order into the form's fields. What was said wins over what a field held; pieces still as the form began
 * give way to those said, others stay before them. What fits no field goes into the notes.
 * @param earlier order that is to be made again; pieces that were said change its own, one after the other
 * @returns sizes that had to change to whole cells, as lines to show
 */
export function sortInto(
  draft: TypedDraft,
  spoken: SpokenOrder,
  units: Units,
  earlier: MadeBefore | null = null,
): readonly string[] {
  const usual = draft.pieces[0]?.construction ?? ''
  const asked = spoken.pieces.map((piece, index) => {
    const before = earlier?.pieces[index]
    return before === undefined ? askedPiece(piece, units, usual, shop.almanac) : changedPiece(before, piece, units)
  })
  const pieces = [...asked.filter((piece) => piece !== null), ...(earlier?.pieces.slice(asked.length) ?? [])]
  if (earlier !== null) draft.again = earlier.commissionId
  if (pieces.length > 0) {
    const kept = draft.pieces.filter((piece) => !isAsItBegan(piece, units))
    draft.pieces = [...kept, ...(structuredClone(pieces) as TypedPiece[])]
  }
  if (spoken.customer !== null) draft.customer.name = spoken.customer
  if (spoken.reach !== null) {
    if (draft.customer.reach === '') draft.customer.reach = spoken.reach
    else draft.customer.secondReach = spoken.reach
  }
  if (spoken.secondReach !== null) draft.customer.secondReach = spoken.secondReach
  if (spoken.neededBy !== null) draft.neededBy = spoken.neededBy
  if (spoken.neededWhy !== null) draft.neededWhy = spoken.neededWhy
  if (spoken.price !== null) draft.price = spoken.price
  if (spoken.deposit !== null) draft.deposit = spoken.deposit
  const lost = spoken.pieces.flatMap((piece, index) => optionsWithoutField(piece, asked[index]?.construction ?? ''))
  const notes = [draft.notes.trim(), spoken.rest, lost.join(', ')].filter((one) => one !== '')
  draft.notes = notes.join('\n')
  return spoken.pieces.flatMap((piece, index) => {
    const made = asked[index]
    return made === undefined || made === null ? [] : sizesInCells(piece, made, units)
  })
}

const isAsItBegan = (piece: TypedPiece, units: Units): boolean =>
  JSON.stringify(piece) === JSON.stringify(emptyPiece(piece.construction, units))

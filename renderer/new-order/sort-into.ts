import {
  type AskedPiece,
  askedPiece,
  changedPiece,
  optionsWithoutField,
  sizesInCells,
} from '../../core/book/asked-piece.ts'
import type { SpokenOrder } from '../../core/book/order-line.ts'
import type { Units } from '../../core/constructions/construction.ts'
import type { MadeBefore } from '../../desk/orders/repeat-order.ts'
import { shop } from '../shop.svelte.ts'
import { emptyPiece, type TypedDraft, type TypedPiece } from './order-draft.svelte.ts'

/**
 * Puts a spoken order into the form's fields. What was said wins over what a field held; pieces still as the form began
 * give way to those said, others stay before them. What fits no field goes into the notes. What the form holds already, because
 * the same line was entered before, is not put in twice.
 * @param earlier order that is to be made again; pieces that were said change its own, one after the other
 * @returns what was there already, and sizes that had to change to whole cells, as lines to show
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
  let fresh = pieces
  if (pieces.length > 0) {
    const kept = draft.pieces.filter((piece) => !isAsItBegan(piece, units))
    fresh = pieces.filter((piece) => !kept.some((one) => isSame(one, piece)))
    draft.pieces = [...kept, ...(structuredClone(fresh) as TypedPiece[])]
  }
  if (spoken.customer !== null) draft.customer.name = spoken.customer
  if (spoken.reach !== null) {
    if (draft.customer.reach === '') draft.customer.reach = spoken.reach
    else if (draft.customer.reach !== spoken.reach) draft.customer.secondReach = spoken.reach
  }
  if (spoken.secondReach !== null) draft.customer.secondReach = spoken.secondReach
  if (spoken.neededBy !== null) draft.neededBy = spoken.neededBy
  if (spoken.neededWhy !== null) draft.neededWhy = spoken.neededWhy
  if (spoken.price !== null) draft.price = spoken.price
  if (spoken.deposit !== null) draft.deposit = spoken.deposit
  const lost = spoken.pieces.flatMap((piece, index) => optionsWithoutField(piece, asked[index]?.construction ?? ''))
  const noted = draft.notes.trim().split('\n')
  const said = [spoken.rest, lost.join(', ')].filter((one) => !noted.includes(one))
  draft.notes = [...noted, ...said].filter((one) => one !== '').join('\n')
  const twice = pieces.length - fresh.length
  const there = twice === 0 ? [] : [twice === 1 ? '1 piece was there already' : `${twice} pieces were there already`]
  const changed = spoken.pieces.flatMap((piece, index) => {
    const made = asked[index]
    return made === undefined || made === null ? [] : sizesInCells(piece, made, units)
  })
  return [...there, ...changed]
}

/** Whatever the order of its fields is. */
function isSame(one: TypedPiece, other: AskedPiece): boolean {
  const sorted = ({ input }: AskedPiece): string =>
    JSON.stringify(Object.entries(input).toSorted(([a], [b]) => a.localeCompare(b)))
  return one.construction === other.construction && one.count === other.count && sorted(one) === sorted(other)
}

const isAsItBegan = (piece: TypedPiece, units: Units): boolean =>
  JSON.stringify(piece) === JSON.stringify(emptyPiece(piece.construction, units))

import {
  type AskedPiece,
  askedPiece,
  changedPiece,
  saidWithoutField,
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
 * @returns lines to show, of what was there already and of sizes that had to change to whole cells; the positions of new pieces
 */
export function sortInto(
  draft: TypedDraft,
  spoken: SpokenOrder,
  units: Units,
  earlier: MadeBefore | null = null,
): { readonly lines: readonly string[]; readonly added: readonly number[] } {
  const own = shop.almanac?.constructions ?? []
  const usual = draft.pieces[0]?.construction ?? ''
  const asked = spoken.pieces.map((piece, index) => {
    const before = earlier?.pieces[index]
    return before === undefined
      ? askedPiece(piece, units, usual, shop.almanac)
      : changedPiece(before, piece, units, own)
  })
  const pieces = [...asked.filter((piece) => piece !== null), ...(earlier?.pieces.slice(asked.length) ?? [])]
  if (earlier !== null) draft.again = earlier.commissionId
  // An order of something that is called by no name known here is not one of what the form happened to begin with.
  const names = earlier === null && (spoken.neededBy !== null || spoken.price !== null) && /\p{L}{2}/u.test(spoken.rest)
  if (names && pieces.length === 0 && draft.pieces.every((piece) => isAsItBegan(piece, units)))
    pieces.push({ construction: '', input: {}, count: '1' })
  let fresh = pieces
  let kept: TypedPiece[] = draft.pieces
  if (pieces.length > 0) {
    kept = draft.pieces.filter((piece) => !isAsItBegan(piece, units))
    fresh = pieces.filter((piece) => !kept.some((one) => isSame(one, piece)))
    draft.pieces = [...kept, ...(structuredClone(fresh) as TypedPiece[])]
  }
  if (spoken.customer !== null) draft.customer.name = spoken.customer
  if (spoken.reach !== null) {
    if (draft.customer.reach === '') draft.customer.reach = spoken.reach
    else if (draft.customer.reach !== spoken.reach) draft.customer.secondReach = spoken.reach
  }
  if (spoken.secondReach !== null) draft.customer.secondReach = spoken.secondReach
  if (spoken.address !== null) draft.customer.address = spoken.address
  if (spoken.neededBy !== null) draft.neededBy = spoken.neededBy
  if (spoken.neededWhy !== null) draft.neededWhy = spoken.neededWhy
  if (spoken.price !== null) draft.price = spoken.price
  if (spoken.deposit !== null) draft.deposit = spoken.deposit
  if (spoken.depositHow !== null) draft.depositHow = spoken.depositHow
  const lost = spoken.pieces.flatMap((piece, index) =>
    saidWithoutField(piece, asked[index]?.construction ?? '', units, own),
  )
  const noted = draft.notes.trim().split('\n')
  const said = [spoken.rest, lost.join(', ')].filter((one) => !noted.includes(one))
  draft.notes = [...noted, ...said].filter((one) => one !== '').join('\n')
  const twice = pieces.length - fresh.length
  const there = twice === 0 ? [] : [twice === 1 ? '1 piece was there already' : `${twice} pieces were there already`]
  const changed = spoken.pieces.flatMap((piece, index) => {
    const made = asked[index]
    return made === undefined || made === null ? [] : sizesInCells(piece, made, units)
  })
  const added = pieces.length === 0 || kept.length === 0 ? [] : fresh.map((_, index) => kept.length + index)
  return { lines: [...there, ...changed], added }
}

/** Whatever the order of its fields is. */
function isSame(one: TypedPiece, other: AskedPiece): boolean {
  const sorted = ({ input }: AskedPiece): string =>
    JSON.stringify(Object.entries(input).toSorted(([a], [b]) => a.localeCompare(b)))
  return one.construction === other.construction && one.count === other.count && sorted(one) === sorted(other)
}

const isAsItBegan = (piece: TypedPiece, units: Units): boolean =>
  JSON.stringify(piece) === JSON.stringify(emptyPiece(piece.construction, units))

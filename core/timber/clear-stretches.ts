import type { BoardOnHand, Cut, Region, BoardSpan } from './cutting-model.ts'

/** The clear stretches of a board at full width, and the crosscuts that part them from ends and defects, left to right. */
export interface ClearBoard {
  readonly regions: readonly Region[]
  readonly cuts: readonly Cut[]
}

/**
 * Squares the ends and cuts out the defects. Every saw kerf lies in what is thrown away, or where that is narrower than a kerf, to
 * its right.
 */
export function clearStretches(board: BoardOnHand, kerfNm: number, squareEndNm: number): ClearBoard {
  const { lengthNm, widthNm } = board
  const ends: BoardSpan[] =
    squareEndNm > 0
      ? [
          { fromNm: 0, toNm: Math.max(squareEndNm, kerfNm) },
          { fromNm: lengthNm - Math.max(squareEndNm, kerfNm), toNm: lengthNm },
        ]
      : []
  const cuts: Cut[] = []
  const regions: Region[] = []
  let start = 0
  let left = 0
  const crosscut = (fromNm: number, toNm: number): void => {
    cuts.push({ way: 'crosscut', through: region(left, lengthNm, widthNm), fromNm, toNm })
    left = toNm
  }
  for (const { fromNm, toNm } of joined([...ends, ...board.defects], lengthNm, kerfNm)) {
    if (fromNm > start) {
      regions.push(region(start, fromNm, widthNm))
      crosscut(fromNm, fromNm + kerfNm)
    }
    if (toNm < lengthNm && toNm > left) crosscut(Math.max(left, toNm - kerfNm), toNm)
    start = Math.max(toNm, left)
  }
  if (start < lengthNm) regions.push(region(start, lengthNm, widthNm))
  return { regions, cuts }
}

const region = (fromNm: number, toNm: number, widthNm: number): Region => ({
  x: fromNm,
  y: 0,
  lengthNm: toNm - fromNm,
  widthNm,
})

/** Stretches within the board, sorted, those joined that leave no clear wood between them, each at least a kerf long (a nail is a point). */
function joined(stretches: readonly BoardSpan[], lengthNm: number, kerfNm: number): BoardSpan[] {
  const sorted = stretches
    .map(({ fromNm, toNm }) => ({ fromNm: Math.min(fromNm, toNm), toNm: Math.max(fromNm, toNm) }))
    .filter(({ fromNm, toNm }) => toNm > 0 && fromNm < lengthNm)
    .map(({ fromNm, toNm }) => ({ fromNm: Math.max(0, fromNm), toNm: Math.min(lengthNm, toNm) }))
    .toSorted((a, b) => a.fromNm - b.fromNm)
  const result: BoardSpan[] = []
  for (const { fromNm, toNm } of sorted) {
    const end = Math.min(lengthNm, Math.max(toNm, fromNm + kerfNm))
    const last = result.at(-1)
    if (last !== undefined && fromNm <= last.toNm)
      result[result.length - 1] = { ...last, toNm: Math.max(last.toNm, end) }
    else result.push({ fromNm, toNm: end })
  }
  return result
}

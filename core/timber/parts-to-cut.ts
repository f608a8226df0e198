import type { Part } from '../constructions/construction.ts'
import type { LengthNm, LengthUnits } from '../lengths/length.ts'
import type { PartToCut } from './cutting-model.ts'
import { roughSize } from './rough-size.ts'

/** What travels together and has wood still to be cut. */
export interface LotToCut {
  readonly id: string
  /** What it is for, as people say it: `no. 7, End-grain board`. */
  readonly forPiece: string
  /** As its construction made them, those left out that are milled. */
  readonly parts: readonly Part[]
  /** Parts of this lot that have been cut out of boards. */
  readonly cut: readonly CutAlready[]
}

/** Parts that have come off the saw, at the sizes to which they were cut. */
export interface CutAlready {
  readonly name: string
  readonly wood: string
  readonly quantity: number
  readonly lengthNm: LengthNm
  readonly widthNm: LengthNm
  readonly thicknessNm: LengthNm
}

/** The parts of a lot that are not milled yet. */
export const notMilled = (
  parts: readonly Part[],
  steps: readonly { readonly key: string }[],
  isDone: (key: string) => boolean,
): readonly Part[] => parts.filter(({ milledIn = steps[0]?.key }) => milledIn === undefined || !isDone(milledIn))

/**
 * The parts of several lots as one cutting list, at the sizes that are marked on the plank, less what has been cut.
 * Ids are the lot's and the position of the part in it.
 */
export const partsToCut = (lots: readonly LotToCut[], units: LengthUnits): readonly PartToCut[] =>
  lots.flatMap(({ id, forPiece, parts: made, cut }) => {
    const parts = made.map((part) => ({ ...part, rough: roughSize(part.rough, units) }))
    const left = leftToCut(parts, cut)
    return parts.flatMap(({ name, wood, rough }, position) => {
      const quantity = left[position] ?? 0
      return quantity > 0 ? [{ id: `${id}.${position}`, name, forPiece, wood, quantity, ...rough }] : []
    })
  })

/**
 * How many of each part are still to be cut. Cut ones count for the part of their sizes; where an allowance has changed since, for
 * one of the same name and wood.
 */
function leftToCut(parts: readonly Part[], cut: readonly CutAlready[]): readonly number[] {
  const left = parts.map((part) => part.quantity)
  const take = (wanted: number, suits: (part: Part) => boolean): number => {
    let open = wanted
    for (const [position, part] of parts.entries()) {
      const taken = suits(part) ? Math.min(open, left[position] ?? 0) : 0
      left[position] = (left[position] ?? 0) - taken
      open -= taken
    }
    return open
  }
  const rest = cut.map((one) => ({ ...one, quantity: take(one.quantity, (part) => isSame(part, one, true)) }))
  for (const one of rest) take(one.quantity, (part) => isSame(part, one, false))
  return left
}

const isSame = ({ name, wood, rough }: Part, cut: CutAlready, bySize: boolean): boolean =>
  name === cut.name &&
  wood === cut.wood &&
  (!bySize ||
    (rough.lengthNm === cut.lengthNm && rough.widthNm === cut.widthNm && rough.thicknessNm === cut.thicknessNm))

import type { Part } from '../constructions/construction.ts'
import type { PartToCut } from './cutting-model.ts'

/** A piece whose wood is still to be cut. */
export interface PieceToCut {
  readonly id: string
  readonly title: string
  /** As its construction made them, for the whole lot. */
  readonly parts: readonly Part[]
}

/** The parts of several pieces as one cutting list, at the sizes to which they are cut out of the plank. */
export const partsToCut = (pieces: readonly PieceToCut[]): readonly PartToCut[] =>
  pieces.flatMap(({ id, title, parts }) =>
    parts.map(({ name, wood, quantity, rough }, position) => ({
      id: `${id}.${position}`,
      name,
      forPiece: title,
      wood,
      quantity,
      lengthNm: rough.lengthNm,
      widthNm: rough.widthNm,
      thicknessNm: rough.thicknessNm,
    })),
  )

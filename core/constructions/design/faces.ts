import type { Consumed } from '../construction.ts'
import type { FinishFacts } from '../shop-facts.ts'
import type { Coated, Finishing } from '../steps/finishing.ts'
import { finishFor, finishForPart } from './consumed.ts'
import type { GlueAndFinish, GlueAndFinishes } from './finish-fields.ts'
import type { PartToFinish } from './finish-of-part.ts'

/** What is put on the two faces of a board; `under` null: the same all round. Areas of the whole lot, square nanometres. */
export interface Faces {
  readonly finish: FinishFacts
  readonly under: PartToFinish | null
  /** All that gets the finish of the top. */
  readonly ownNm2: number
  readonly underNm2: number
}

/** @param surfaceNm2 both faces and the edges, which are finished like the top */
export const facesOf = (
  { finish, part }: GlueAndFinishes,
  surfaceNm2: number,
  { underNm2 }: { readonly underNm2: number },
): Faces => ({ finish, under: part, underNm2, ownNm2: part === null ? surfaceNm2 : surfaceNm2 - underNm2 })

export const finishForFaces = ({ finish, under, ownNm2, underNm2 }: Faces, coats: number | null): Consumed[] => [
  ...finishForPart(UNDERSIDE, under, underNm2),
  ...finishFor(finish, coats, ownNm2),
]

/** In front of the keys of the coats that go on the underside alone. */
const UNDERSIDE = 'under-'

/** The underside first, in its own way; once it may be turned onto, edges and top. */
export function coatsOnFaces(
  { finish, under, ownNm2, underNm2 }: Faces,
  spec: GlueAndFinish,
  pieces: number,
  after: readonly string[],
): Omit<Finishing, 'fittings'> {
  const own: Coated = {
    ...{ finish, coats: spec.coats, pieces, after, squareMetres: ownNm2 * 1e-18 },
    oneSideAtATime: spec.oneSideAtATime === true,
  }
  if (under === null) return own
  const top: Coated = { ...own, part: 'top', oneFace: true }
  if (under.finish === null) return top
  const before: Coated = {
    ...{ finish: under.finish, coats: under.coats, pieces, after, squareMetres: underNm2 * 1e-18 },
    ...{ prefix: UNDERSIDE, part: 'underside', oneFace: true },
  }
  return { ...top, before }
}

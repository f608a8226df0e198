import type { Consumed } from '../construction.ts'
import type { FinishFacts, GlueFacts } from '../shop-facts.ts'
import type { FrameGeometry, MitredFrame } from './mitred-frame.ts'
import type { PartToFinish } from './finish-of-part.ts'
import type { StaveGeometry } from './staves.ts'

const SQUARE_METRES_PER_NM2 = 1e-18

/** Glue for joints; each joint's area counts once. What is glued by a dab (tongues at the middle, keys) is left out. */
export const glueFor = (glue: GlueFacts, ...jointsNm2: readonly number[]): Consumed => ({
  kind: 'glue',
  product: glue.id,
  squareMetres: jointsNm2.reduce((sum, area) => sum + area, 0) * SQUARE_METRES_PER_NM2,
})

/** Finish for surfaces, product by product. @param coats null: as many as are usual */
export function finishFor(finish: FinishFacts, coats: number | null, ...surfacesNm2: readonly number[]): Consumed[] {
  const squareMetres = surfacesNm2.reduce((sum, area) => sum + area, 0) * SQUARE_METRES_PER_NM2
  const kind = 'finish' as const
  if (finish.schedule === undefined)
    return [{ kind, product: finish.id, squareMetres, coats: coats ?? finish.coats.usual }]
  const { coats: planned, wax } = finish.schedule
  const products = [...planned.map((coat) => coat.finish.id), ...(wax === null ? [] : [wax.id])]
  return [...Map.groupBy(products, (id) => id)].map(([product, all]) => ({
    ...{ kind, product, squareMetres, coats: all.length },
  }))
}

/** What a part takes that is finished in its own way; left bare: nothing. @param prefix in front of the keys of its steps */
export const finishForPart = (prefix: string, part: PartToFinish | null, surfaceNm2: number): Consumed[] =>
  part === null || part.finish === null
    ? []
    : finishFor(part.finish, part.coats, surfaceNm2).map((one) => ({ ...one, part: prefix }))

/** Both faces and the four edges of a slab. */
export const slabSurface = (acrossNm: number, alongNm: number, thicknessNm: number): number =>
  2 * (acrossNm * alongNm + thicknessNm * (acrossNm + alongNm))

/** The joints between the staves of so many panels. */
export const staveJoints = ({ staves, lengthRoughNm, thicknessRoughNm }: StaveGeometry, panels: number): number =>
  panels * (staves.length - 1) * lengthRoughNm * thicknessRoughNm

/** The four mitres of so many frames, and both faces of the tongues where they are glued all round. */
export function frameJoints(
  { fixing, tongueNm }: MitredFrame,
  { stockWidthNm, outsideAcrossNm, outsideAlongNm }: FrameGeometry,
  thicknessNm: number,
  frames: number,
): number {
  const mitres = 4 * Math.SQRT2 * stockWidthNm * thicknessNm
  const tongues = fixing !== 'all-round' ? 0 : 4 * tongueNm * (outsideAcrossNm + outsideAlongNm)
  return frames * (mitres + tongues)
}

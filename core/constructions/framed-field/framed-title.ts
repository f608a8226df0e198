import { writeSizes } from '../../lengths/write-length.ts'
import { standsOffNm } from '../design/mitred-frame.ts'
import { nameOf } from '../design/products.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { FramedFieldSpec } from './framed-field-spec.ts'

/** Sizes as they are ordered: the room for movement between field and frame is left out. */
export function framedTitle(
  { frame, thicknessNm, otherFrames }: FramedFieldSpec,
  acrossNm: number,
  alongNm: number,
  field: string,
  facts: ShopFacts,
): string {
  const sizes = writeSizes(
    [acrossNm + 2 * frame.faceNm, alongNm + 2 * frame.faceNm, thicknessNm + standsOffNm(frame)],
    facts.units,
  )
  const around = nameOf(facts.woods, frame.wood).toLowerCase()
  const set = otherFrames === undefined ? '' : `, set of ${otherFrames.length + 1}`
  return `Framed field ${sizes}, ${field}${around === field ? '' : ` in ${around}`}${set}`
}

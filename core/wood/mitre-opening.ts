import type { LengthNm } from '../lengths/length.ts'
import { movement, type MovementCoefficient } from './movement.ts'
import type { MoistureSpan } from './seasons.ts'

/** How far a mitre would gape if nothing held it: members change in width and not in length, so the cut is no longer at 45 degrees. */
export interface MitreOpening {
  /** At the inner end, when the wood is driest. */
  readonly insideNm: LengthNm
  /** At the outer end, when it is dampest. */
  readonly outsideNm: LengthNm
}

/**
 * Opening of the mitres of a rectangular frame whose members are this wide, cut at 45 degrees on the day it is built. Wide
 * members gape more: a narrow frame, a spline or a corner that may move is what the trade does.
 * @source derived from Wood Handbook Eq. 13-2 and plane geometry
 */
export function mitreOpening(
  memberWidthNm: LengthNm,
  coefficient: MovementCoefficient,
  span: MoistureSpan,
): MitreOpening {
  const gape = (toPct: number): number => {
    const strain = movement(1, coefficient.planned, span.buildPct, toPct)
    const jointLength = memberWidthNm * Math.hypot(1, 1 + strain)
    return Math.round(jointLength * Math.abs(Math.PI / 2 - 2 * Math.atan(1 + strain)))
  }
  return {
    insideNm: span.dryPct < span.buildPct ? gape(span.dryPct) : 0,
    outsideNm: span.dampPct > span.buildPct ? gape(span.dampPct) : 0,
  }
}

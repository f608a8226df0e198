import { inches, millimetres } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Part } from '../construction.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { Decoration } from './decoration.ts'

/** How deep an inlay is let in; common practice, no source. */
const inlayDepth = ({ units }: Pick<ShopFacts, 'units'>): number => (units === 'inch' ? inches(1 / 8) : millimetres(3))

/** The inlays of so many pieces, as they are cut; none where their size was not said. */
export function inlayParts(
  { inlay }: Decoration,
  pieces: number,
  facts: Pick<ShopFacts, 'allowances' | 'units'>,
): readonly Part[] {
  if (inlay?.lengthNm === undefined || inlay.widthNm === undefined) return []
  const { flattenPanelNm, jointEdgeNm, squareEndNm } = facts.allowances
  const say = (nm: number): string => writeLength(nm, facts.units)
  const { wood, lengthNm, widthNm } = inlay
  const thicknessNm = inlayDepth(facts)
  return [
    {
      name: 'Inlay',
      wood,
      quantity: pieces,
      rough: {
        lengthNm: lengthNm + 2 * squareEndNm,
        widthNm: widthNm + 2 * jointEdgeNm,
        thicknessNm: thicknessNm + flattenPanelNm,
      },
      finished: { lengthNm, widthNm, thicknessNm },
      // It fills what was routed out for it.
      solidShare: 0,
      note: 'Resaw it from a longer stick; sanded flush once it is in.',
      why: `${say(lengthNm)} by ${say(widthNm)}, ${say(squareEndNm)} at each end and ${say(jointEdgeNm)} at each edge to fit it; let in ${say(thicknessNm)}, ${say(flattenPanelNm)} proud to sand flush.`,
      milledIn: 'inlay',
    },
  ]
}

import type { Fact } from '../construction.ts'
import type { FieldThroughSeasons } from './field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** What the wood holds when it is built, and how far a panel or field grows and shrinks through the year where it will live. */
export function movementFacts(
  what: string,
  change: FieldThroughSeasons,
  directions: readonly ('across' | 'along')[],
  { moisture }: ShopFacts,
): Fact[] {
  const rule = `size across the grain × ${change.coefficient.planned.toFixed(5)} for each 1% of moisture. ${moisture.because}`
  const source = `Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2; ${change.source}`
  const wood: Fact = {
    key: 'wood-moisture',
    label: 'Wood when built',
    value: { kind: 'text', text: `${moisture.buildPct.toFixed(1)}% moisture` },
    rule: moisture.because,
    source: moisture.source,
  }
  const changes = directions.flatMap((direction): Fact[] => [
    {
      key: `grows-${direction}`,
      label: `${what} grows ${direction}, damp season`,
      value: { kind: 'length', nm: change[direction].growNm.planned },
      rule,
      source,
    },
    {
      key: `shrinks-${direction}`,
      label: `${what} shrinks ${direction}, dry season`,
      value: { kind: 'length', nm: change[direction].shrinkNm.planned },
      rule,
      source,
    },
  ])
  return [wood, ...changes]
}

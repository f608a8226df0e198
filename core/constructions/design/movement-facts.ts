import type { Fact } from '../construction.ts'
import type { FieldChange } from './field-change.ts'
import type { ShopFacts } from '../shop-facts.ts'

/** How far a panel or field grows and shrinks through the year where it will live. */
export function movementFacts(
  what: string,
  change: FieldChange,
  directions: readonly ('across' | 'along')[],
  { moisture }: ShopFacts,
): Fact[] {
  const percent = (value: number): string => `${value.toFixed(1)} %`
  const rule = `wood at ${percent(moisture.buildPct)} when built, ${percent(moisture.dryPct)} to ${percent(moisture.dampPct)} in the house`
  const source = `Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2; ${change.source}`
  return directions.flatMap((direction): Fact[] => [
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
}

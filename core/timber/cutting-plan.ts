import { planedOff } from '../wood/rough-thickness.ts'
import { bestLayout } from './best-layout.ts'
import type {
  BoardOnHand,
  BoardPlan,
  Cut,
  CutPart,
  CuttingPlan,
  CuttingRules,
  MissingParts,
  PartToCut,
  Region,
} from './cutting-model.ts'
import { isUsable, type OpenBoard, type WoodToCutFrom } from './layout.ts'
import type { YardSize } from './yard.ts'

export interface CuttingOptions {
  /** Sizes to buy what the boards on hand do not give; absent: nothing is bought. */
  readonly yard?: readonly YardSize[]
  /** Layouts tried for each wood; the best is kept. */
  readonly tries?: number
  readonly seed?: number
}

/**
 * Which part is cut from which board. Parts of all orders are laid out together, by guillotine cuts with the grain fixed; boards on
 * hand are used before any is bought, thin ones before thick ones. Of many layouts that one is kept which leaves fewest parts
 * without a board, then buys least, then uses up least wood (usable offcuts count as left). No board is bought whose parts find room on
 * unused boards on hand and on what other boards leave. The same question gets the same plan.
 *
 * A layout need not be the best there is; it is never wrong: see the checkers in test/core/timber.
 */
export function cuttingPlan(
  parts: readonly PartToCut[],
  boards: readonly BoardOnHand[],
  rules: CuttingRules,
  { yard = [], tries = 500, seed = 1 }: CuttingOptions = {},
): CuttingPlan {
  const woods = [...new Set(parts.map((part) => part.wood))]
  const plans: BoardPlan[] = []
  const missing: MissingParts[] = []
  for (const wood of woods) {
    const wanted = parts.filter((part) => part.wood === wood && part.quantity > 0)
    const onHand = boards.filter((board) => board.wood === wood).map((board) => ({ board, bought: false }))
    const shop: WoodToCutFrom = { wood, boards: onHand, rules, yard }
    const best = bestLayout(wanted, shop, tries, seed)
    plans.push(...best.opened.filter((open) => open.laid.length > 0).map((open) => planOf(open, rules)))
    for (const part of wanted) {
      const quantity = best.unplaced.filter((one) => one === part).length
      if (quantity > 0) missing.push({ part, quantity, reason: whyMissing(part, shop) })
    }
  }
  return { boards: named(plans), missing }
}

/** Boards to buy are numbered through, so that each has an id of its own. */
function named(plans: readonly BoardPlan[]): readonly BoardPlan[] {
  let count = 0
  return plans.map((plan) => {
    if (!plan.bought) return plan
    count++
    return { ...plan, board: { ...plan.board, id: `buy-${count}`, name: `to buy ${count}` } }
  })
}

function planOf({ board, bought, cuts: first, trees }: OpenBoard, rules: CuttingRules): BoardPlan {
  const cuts: Cut[] = [...first]
  const parts: CutPart[] = []
  const free: Region[] = []
  for (const tree of trees) tree.collect(cuts, parts, free)
  return { board, bought, cuts, parts, offcuts: free.filter((region) => isUsable(region, rules)) }
}

function whyMissing(part: PartToCut, { boards, yard, rules }: WoodToCutFrom): string {
  const sizes = [
    ...boards.map(({ board: { thicknessNm, widthNm, lengthNm } }) => ({ thicknessNm, widthNm, lengthNm })),
    ...yard,
  ]
  const name = `${part.name} for ${part.forPiece}`
  if (sizes.length === 0) return `${name}: there is no board of this wood.`
  const thick = sizes.filter(
    ({ thicknessNm }) => thicknessNm >= part.thicknessNm + planedOff(thicknessNm, rules.planing),
  )
  if (thick.length === 0) return `${name} is thicker than any board: glue it up from thinner ones.`
  if (thick.every((size) => size.widthNm < part.widthNm)) {
    return `${name} is wider than any board: glue it up from narrower ones.`
  }
  if (thick.every((size) => size.lengthNm < part.lengthNm)) return `${name} is longer than any board.`
  return `${name}: the boards that are large enough are used up, or have defects in the way.`
}

import type {
  BoardOnHand,
  BoardPlan,
  CuttingPlan,
  CuttingRules,
  PartToCut,
} from '../../../core/timber/cutting-model.ts'

/**
 * Looks for a board that is bought for nothing: all its parts could have been cut from boards on hand that stand unused and from offcuts
 * that other boards leave. Tries every way to cut where there are few parts, largest first where there are more. Shares no code with
 * the planner. Answers with the first such board, or null.
 */
export function boughtForNothing(
  plan: CuttingPlan,
  wanted: readonly PartToCut[],
  onHand: readonly BoardOnHand[],
  rules: CuttingRules,
): string | null {
  const planks = new Map(wanted.map((part) => [part.id, part]))
  const used = new Set(plan.boards.map(({ board }) => board.id))
  const unused = onHand.filter((board) => !used.has(board.id)).flatMap((board) => clearOf(board, rules))
  for (const one of plan.boards) {
    if (!one.bought) continue
    const others = plan.boards.filter((other) => other !== one).flatMap((other) => offcutsOf(other, rules))
    const room = [...unused, ...others].filter(({ wood }) => wood === one.board.wood)
    const parts = one.parts
      .map(({ part, lengthNm, widthNm }) => ({
        long: lengthNm,
        wide: widthNm,
        thick: planks.get(part)?.thicknessNm ?? Infinity,
      }))
      .toSorted((a, b) => b.long * b.wide - a.long * a.wide)
    const patience = { left: 4_000 }
    if (fits(parts, room, rules.kerfNm, parts.length > 3, patience))
      return `${one.board.id} (${parts.length} parts) need not be bought`
  }
  return null
}

interface Plank {
  readonly long: number
  readonly wide: number
  readonly thick: number
}

interface Room extends Plank {
  readonly wood: string
}

/** What is left of a rough board when both its faces are planed. */
const surfaced = (roughNm: number, { planing }: CuttingRules): number =>
  roughNm - (roughNm < 49_000_000 ? planing.planeFaceNm : planing.planeThickNm)

const offcutsOf = ({ board, offcuts }: BoardPlan, rules: CuttingRules): Room[] =>
  offcuts.map(({ lengthNm, widthNm }) => ({
    long: lengthNm,
    wide: widthNm,
    thick: surfaced(board.thicknessNm, rules),
    wood: board.wood,
  }))

/** What lies between squared ends and sawn-out defects. */
function clearOf(board: BoardOnHand, rules: CuttingRules): Room[] {
  const { kerfNm, squareEndNm } = rules
  const trim = squareEndNm === 0 ? 0 : Math.max(squareEndNm, kerfNm)
  const bad = board.defects.map(({ fromNm, toNm }) => [fromNm, Math.max(toNm, fromNm + kerfNm)] as const)
  const edges = [trim, ...bad.flat(), board.lengthNm - trim]
    .filter((at) => at >= trim && at <= board.lengthNm - trim)
    .toSorted((a, b) => a - b)
  return edges.slice(1).flatMap((end, index) => {
    const start = edges[index] ?? end
    const spoiled = bad.some(([from, to]) => from < end && start < to)
    return end > start && !spoiled
      ? [{ long: end - start, wide: board.widthNm, thick: surfaced(board.thicknessNm, rules), wood: board.wood }]
      : []
  })
}

function fits(
  parts: readonly Plank[],
  room: readonly Room[],
  kerf: number,
  inOrder: boolean,
  patience: { left: number },
): boolean {
  if (parts.length === 0) return true
  for (const [which, part] of parts.entries()) {
    if (inOrder && which > 0) return false
    for (const [at, { long, wide, thick, wood }] of room.entries()) {
      if (part.long > long || part.wide > wide || part.thick > thick) continue
      const [longLeft, wideLeft] = [long - part.long - kerf, wide - part.wide - kerf]
      for (const [beside, above] of [
        [wide, part.long],
        [part.wide, long],
      ] as const) {
        if (patience.left-- <= 0) return false
        const rest = [
          { long: longLeft, wide: beside, thick, wood },
          { long: above, wide: wideLeft, thick, wood },
        ].filter((piece) => piece.long > 0 && piece.wide > 0)
        const left = parts.toSpliced(which, 1)
        if (fits(left, [...room.toSpliced(at, 1), ...rest], kerf, inOrder, patience)) return true
      }
    }
  }
  return false
}

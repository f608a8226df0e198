import { boardFeet } from '../wood/board-measure.ts'
import type { BoardOnHand, BoardPlan, CuttingRules, PartToCut } from './cutting-model.ts'
import { cuttingPlan } from './cutting-plan.ts'

/** Parts that are milled together, in the order in which orders were taken. */
export interface WoodAsked {
  readonly id: string
  readonly parts: readonly PartToCut[]
}

/** What the boards on hand give for it. */
export interface WoodServed {
  readonly id: string
  /** Almanac ids of woods of which something is missing. */
  readonly missing: readonly string[]
  /** Ids of the boards that its parts come out of. */
  readonly boards: readonly string[]
}

/** Layouts tried for each question: enough to tell whether it fits, where the cutting plan itself looks for the best. */
const TRIES = 20

/**
 * Who gets the wood on hand. Where the boards of a wood give everything that is asked for, everybody is served, by the same layouts as
 * the cutting plan makes; where they do not, whoever asked first is served first.
 */
export function woodOnHand(
  asked: readonly WoodAsked[],
  boards: readonly BoardOnHand[],
  rules: CuttingRules,
): readonly WoodServed[] {
  const woods = [...new Set(asked.flatMap(({ parts }) => parts.map(({ wood }) => wood)))]
  const served = woods.map((wood) => [wood, ofOneWood(wood, asked, boards, rules)] as const)
  return asked.map(({ id }) => ({
    id,
    missing: served.flatMap(([wood, { missing }]) => (missing.has(id) ? [wood] : [])),
    boards: served.flatMap(([, { used }]) => [...(used.get(id) ?? [])]),
  }))
}

interface OfOneWood {
  readonly missing: ReadonlySet<string>
  readonly used: ReadonlyMap<string, ReadonlySet<string>>
}

function ofOneWood(
  wood: string,
  asked: readonly WoodAsked[],
  boards: readonly BoardOnHand[],
  rules: CuttingRules,
): OfOneWood {
  const wanted = asked.flatMap(({ id, parts }) => {
    const own = parts.filter((part) => part.wood === wood && part.quantity > 0)
    return own.length === 0 ? [] : [{ id, parts: own }]
  })
  const own = boards.filter((board) => board.wood === wood)
  const all = wanted.flatMap(({ parts }) => parts)
  const together = isTooLittle(all, own) ? null : cuttingPlan(all, own, rules, { tries: TRIES })
  if (together?.missing.length === 0)
    return {
      missing: new Set(),
      used: new Map(wanted.map(({ id, parts }) => [id, boardsOf(parts, together.boards)])),
    }
  return inTurn(wanted, own, rules)
}

function inTurn(wanted: readonly WoodAsked[], boards: readonly BoardOnHand[], rules: CuttingRules): OfOneWood {
  const missing = new Set<string>()
  const used = new Map<string, ReadonlySet<string>>()
  let left = boards
  for (const { id, parts } of wanted) {
    const plan = isTooLittle(parts, left) ? null : cuttingPlan(parts, left, rules, { tries: TRIES })
    if (plan === null || plan.missing.length > 0) {
      missing.add(id)
      continue
    }
    used.set(id, boardsOf(parts, plan.boards))
    const opened = new Map(plan.boards.map((one) => [one.board.id, one]))
    left = left.flatMap((board) => offcutsOf(board, opened.get(board.id)))
  }
  return { missing, used }
}

/** What is left of a board, each under an id of its own behind the board's. */
const offcutsOf = (board: BoardOnHand, plan: BoardPlan | undefined): readonly BoardOnHand[] =>
  plan === undefined
    ? [board]
    : plan.offcuts.map(({ lengthNm, widthNm }, index) => ({
        ...board,
        id: `${board.id}${OFFCUT}${index}`,
        ...{ lengthNm, widthNm, defects: [] },
      }))

const OFFCUT = ' offcut '

function boardsOf(parts: readonly PartToCut[], plans: readonly BoardPlan[]): ReadonlySet<string> {
  const ids = new Set(parts.map(({ id }) => id))
  return new Set(
    plans.flatMap((plan) =>
      plan.parts.some(({ part }) => ids.has(part)) ? [plan.board.id.split(OFFCUT)[0] ?? ''] : [],
    ),
  )
}

/** Seen by volume alone: spares the layouts that cannot work out. */
const isTooLittle = (parts: readonly PartToCut[], boards: readonly BoardOnHand[]): boolean =>
  volumeOf(parts.map((part) => ({ ...part, count: part.quantity }))) >
  volumeOf(boards.map((board) => ({ ...board, count: 1 })))

const volumeOf = (
  pieces: readonly { lengthNm: number; widthNm: number; thicknessNm: number; count: number }[],
): number => pieces.reduce((sum, one) => sum + one.count * boardFeet(one.thicknessNm, one.widthNm, one.lengthNm), 0)

import type { Board } from '../../db/boards.ts'
import { type BoardLine, boardLine } from '../lumber/board-lines.ts'
import { type CutBoard, cutBoardView, cutFirst, whyPlan } from '../lumber/cut-boards.ts'
import { type LumberLine, lumberLines } from '../lumber/lumber-lines.ts'
import { type MillGroup, millGroups, whySizes } from '../lumber/mill-list.ts'
import type { TimberWork } from '../lumber/timber-work.ts'
import { type ToBuy, toBuy } from '../lumber/to-buy.ts'

/** What to mill, what is on hand, which part comes from which board, what to buy. Sizes are in nanometres, as cut. */
export interface TimberView {
  /** What the plan does not count, and why. */
  readonly leftOut: readonly string[]
  readonly toMill: readonly MillGroup[]
  /** What is on the size of every part until it is finished, and where that comes from, as sentences. */
  readonly whySizes: readonly string[]
  readonly boards: readonly BoardLine[]
  /** Boards on hand that are cut first, then those to buy; empty where it was not asked for drawn. */
  readonly plan: readonly CutBoard[]
  readonly isDrawn: boolean
  /** Boards on hand that the plan cuts. */
  readonly boardsToCut: number
  readonly whyPlan: readonly string[]
  readonly missing: readonly string[]
  /** Orders whose wood is not here or still rests. */
  readonly waiting: readonly LumberLine[]
  readonly toBuy: ToBuy
}

/**
 * @param everBoards all boards the shop ever had, for what was paid
 * @param isDrawn with the boards of the cutting plan, which are most of it
 */
export function timberView(
  work: TimberWork,
  everBoards: readonly Board[],
  locale: string,
  isDrawn: boolean,
): TimberView {
  const { plan, leftOut } = work
  const boards = plan.boards.map((board) => cutBoardView(board, work)).toSorted(cutFirst)
  return {
    leftOut,
    toMill: millGroups(work),
    boards: work.boards.map((board) => boardLine(board, boards, work)),
    whySizes: whySizes(work),
    plan: isDrawn ? boards : [],
    isDrawn,
    boardsToCut: boards.filter(({ number }) => number !== null).length,
    whyPlan: whyPlan(work),
    waiting: lumberLines(work.moment),
    missing: plan.missing.map(({ quantity, reason }) => `${quantity} × ${reason}`),
    toBuy: toBuy(boards, work, everBoards, locale),
  }
}

import type { Board } from '../../db/boards.ts'
import { type BoardLine, boardLine } from '../lumber/board-lines.ts'
import { type ConsumableLine, consumableLines, stillTaken } from '../lumber/consumable-lines.ts'
import { type CutBoard, cutBoardView, cutFirst, ordersCutFor, whyPlan } from '../lumber/cut-boards.ts'
import { type LumberLine, lumberLines } from '../lumber/lumber-lines.ts'
import { type MillGroup, millGroups, whySizes } from '../lumber/mill-list.ts'
import type { CuttingWork, TimberWork } from '../lumber/timber-work.ts'
import { type ToBuy, toBuy } from '../lumber/to-buy.ts'
import { type SupplyLine, supplyLines } from './supplies.ts'

/** What to mill, what is on hand, what the orders still take: all that stands without the cutting plan. Sizes are in nanometres, as cut. */
export interface TimberView {
  /** What is not counted, and why. */
  readonly leftOut: readonly string[]
  readonly toMill: readonly MillGroup[]
  /** What is on the size of every part until it is finished, and where that comes from, as sentences. */
  readonly whySizes: readonly string[]
  readonly boards: readonly BoardLine[]
  /** Orders whose wood is not here or still rests. */
  readonly waiting: readonly LumberLine[]
  /** What the open orders still take; what is on the shelf is not known. */
  readonly consumables: readonly ConsumableLine[]
  /** Glue, finish and hardware, what has to be bought first. */
  readonly supplies: readonly SupplyLine[]
}

/** What follows from the cutting plan, without its boards, which are most of it. */
export interface WoodToCutView {
  /** Numbers of the orders that each board on hand is cut for, by its id; a board that is not in here is free. */
  readonly cutFor: Readonly<Record<string, readonly number[]>>
  readonly missing: readonly string[]
  readonly toBuy: ToBuy
}

/** Which part comes from which board. */
export interface CuttingPlanView {
  /** Boards on hand that are cut first, then those to buy. */
  readonly boards: readonly CutBoard[]
  readonly missing: readonly string[]
  readonly whyPlan: readonly string[]
}

/**
 * @param left of what is counted in stock, by its id
 * @param lines of what is to be milled, at most so many
 */
export const timberView = (work: TimberWork, left: ReadonlyMap<string, number>, lines: number): TimberView => ({
  leftOut: work.leftOut,
  toMill: millGroups(work, lines),
  whySizes: whySizes(work),
  boards: work.boards.map((board) => boardLine(board, work)),
  waiting: lumberLines(work.moment),
  consumables: consumableLines(work),
  supplies: supplyLines(stillTaken(work), work.moment, left),
})

/** @param everBoards all boards the shop ever had, for what was paid */
export const woodToCutView = (work: CuttingWork, everBoards: readonly Board[], locale: string): WoodToCutView => ({
  cutFor: Object.fromEntries(
    work.plan.boards.flatMap((board) => (board.bought ? [] : [[board.board.id, ordersCutFor(board, work)]])),
  ),
  missing: missingOf(work),
  toBuy: toBuy(work, everBoards, locale),
})

export const cuttingPlanView = (work: CuttingWork): CuttingPlanView => ({
  boards: work.plan.boards.map((board) => cutBoardView(board, work)).toSorted(cutFirst),
  missing: missingOf(work),
  whyPlan: whyPlan(work),
})

const missingOf = ({ plan }: CuttingWork): string[] =>
  plan.missing.map(({ quantity, reason }) => `${quantity} × ${reason}`)

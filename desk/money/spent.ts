import type { Commission } from '../../core/book/book.ts'
import { sum } from '../../core/money/exact.ts'
import { costOfSupply } from '../../core/timber/supply-price.ts'
import { suppliesUsed } from '../lumber/supplies-used.ts'
import type { Moment } from '../moment.ts'
import { woodSpent } from './wood-spent.ts'

/** What was bought for an order so far, minor units. */
export interface Spent {
  /** Cut for it, or reckoned where no board was said to be. */
  readonly woodMinor: number
  /** Glue, finish and hardware that its done steps took, at the prices of the almanac. */
  readonly suppliesMinor: number
  /** Supplies that it took and that have no price. */
  readonly suppliesUnpriced: number
  /** Boards that were bought for it and are still whole. */
  readonly uncutMinor: number
  readonly uncutBoards: readonly number[]
}

/** What an order has taken so far and nothing else can use any more, with the boards that wait for it alone. */
export function spentOn(commission: Commission, moment: Moment): Spent {
  const { paidMinor, reckonedMinor } = woodSpent(commission, moment)
  const { uncut, uncutMinor } = uncutFor(commission, moment)
  return {
    // A begun piece whose boards nobody took as cut may be made of those that still count as whole: they are paid once.
    woodMinor: paidMinor + Math.max(0, reckonedMinor - uncutMinor),
    ...suppliesSpent(commission, moment),
    uncutMinor,
    uncutBoards: uncut.map(({ number }) => number),
  }
}

/** Boards that were bought for an order and are still whole, and what they cost. */
export function uncutFor({ id }: Commission, { stock }: Pick<Moment, 'stock'>) {
  const uncut = stock.boards.filter(({ boughtFor }) => boughtFor === id)
  return { uncut, uncutMinor: sum(uncut.map(({ priceMinor }) => priceMinor ?? 0)) }
}

function suppliesSpent(
  { id }: Commission,
  { book, almanac }: Moment,
): Pick<Spent, 'suppliesMinor' | 'suppliesUnpriced'> {
  const steps = book.steps.filter(({ commissionId }) => commissionId === id)
  const own = new Set(steps.map((step) => step.id))
  const uses = suppliesUsed({ ...book, steps, log: book.log.filter(({ stepId }) => own.has(stepId)) }, almanac)
  const amounts = Map.groupBy(uses, ({ product }) => product)
  const costs = [...amounts].map(([product, all]) => {
    const price = almanac.money.supplyPrices[product]
    return price === undefined ? null : costOfSupply(sum(all.map(({ amount }) => amount)), price)
  })
  return {
    suppliesMinor: sum(costs.map((minor) => minor ?? 0)),
    suppliesUnpriced: costs.filter((minor) => minor === null).length,
  }
}

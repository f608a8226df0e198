import { boardsOnHand, rowsOf } from './boards.ts'
import { change } from './change.ts'
import type { Stamp } from './log.ts'
import { changesBetween } from './row-changes.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/**
 * Boards on hand that were bought for an order serve any order from now on.
 * @returns their numbers; none: nothing is written
 */
export const freeBoards = (db: Db, commissionId: string, stamp: Stamp): Promise<number[]> =>
  inTransaction(db, async (trx) => {
    const own = (await boardsOnHand(trx)).filter(({ boughtFor }) => boughtFor === commissionId)
    if (own.length === 0) return []
    const freed = own.map((board) => ({ ...board, boughtFor: null }))
    await change(trx, changesBetween(rowsOf(own), rowsOf(freed)), { ...stamp, action: 'boards-freed', commissionId })
    return own.map(({ number }) => number)
  })

import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { addCommission } from '../../db/commissions.ts'
import { entriesOf } from '../../db/log.ts'
import { issuePaper, papersOf } from '../../db/papers.ts'
import type { Db } from '../../db/schema.ts'
import { inTransaction } from '../../db/transaction.ts'
import { aPaper } from './support/a-paper.ts'
import { anOrder } from './support/orders.ts'
import { aShopPath, openShop, START_MS } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const paper = aPaper('invoice', { name: 'Odile Marsh', address: '' })

const issue = (db: Db, id: string) =>
  issuePaper(db, { id, commissionId: 'order-1', issuedAtMs: START_MS, paper, amends: null }, stamp)

/** Two connections to one file, neither of which waits for the other. */
async function twoConnections() {
  const path = aShopPath()
  const [one, other] = [await openShop(path), await openShop(path)]
  for (const { db } of [one, other]) await sql`pragma busy_timeout = 0`.execute(db)
  await addCommission(one.db, anOrder(), stamp)
  return [one.db, other.db] as const
}

const numbers = async (db: Db) => (await papersOf(db, 'order-1')).map(({ number }) => number).toSorted()

describe('numbers of papers', () => {
  test('of two connections that take one at the same moment one is refused whole, and takes the next one when it tries again', async () => {
    const [one, other] = await twoConnections()
    const before = (await entriesOf(one, 'order-1')).length
    await inTransaction(one, async (trx) => {
      expect(await issue(trx, 'a')).toMatchObject({ number: 1 })
      await expect(issue(other, 'b')).rejects.toMatchObject({ code: 'SQLITE_BUSY' })
    })
    expect(await numbers(other)).toEqual([1])
    expect(await entriesOf(one, 'order-1')).toHaveLength(before + 1)
    expect(await issue(other, 'b')).toMatchObject({ number: 2 })
    expect(await numbers(one)).toEqual([1, 2])
  })

  test('that another connection took since are not taken again by one that had read before', async () => {
    const [one, other] = await twoConnections()
    await expect(
      inTransaction(one, async (trx) => {
        expect(await numbers(trx)).toEqual([])
        expect(await issue(other, 'b')).toMatchObject({ number: 1 })
        await issue(trx, 'a')
      }),
    ).rejects.toMatchObject({ code: 'SQLITE_BUSY_SNAPSHOT' })
    expect(await numbers(one)).toEqual([1])
    expect(await issue(one, 'a')).toMatchObject({ number: 2 })
  })

  test('that a broken-off press took are given again, and the table itself refuses one twice', async () => {
    const [one, other] = await twoConnections()
    const broken = inTransaction(one, async (trx) => {
      await issue(trx, 'a')
      throw new Error('the power went')
    })
    await expect(broken).rejects.toThrow('the power went')
    expect(await issue(other, 'b')).toMatchObject({ number: 1 })
    await sql`update running_number set last = 0 where name = 'paper-invoice'`.execute(other)
    await expect(issue(one, 'a')).rejects.toThrow(/UNIQUE constraint failed: paper.kind, paper.number/)
    expect(await numbers(other)).toEqual([1])
  })
})

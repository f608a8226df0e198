import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { addCommission } from '../../db/commissions.ts'
import { latestEntries } from '../../db/log.ts'
import { lastUndoable, takeBack } from '../../db/undo.ts'
import { everythingIn } from './support/everything.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }

async function aShopWithHistory() {
  const shop = await openShop()
  await addCommission(shop.db, anOrder(), stamp)
  valueOf(await takeBack(shop.db, (await lastUndoable(shop.db))!.id, stamp))
  return shop
}

test.each([
  ['changed', `update log set at_ms = 0`],
  [
    'changed by an upsert',
    `insert into log (id, at_ms, action) values (1, 0, 'x') on conflict (id) do update set at_ms = 0`,
  ],
  ['removed', `delete from log where id = 1`],
  ['replaced by its number', `insert or replace into log (id, at_ms, action) values (1, 0, 'x')`],
  ['replaced by what it takes back', `insert or replace into log (at_ms, action, undoes) values (0, 'x', 1)`],
  ['replaced by an update', `update or replace log set id = 1 where id = 2`],
])('an entry cannot be %s', async (_, statement) => {
  const { db } = await aShopWithHistory()
  const before = await everythingIn(db)
  await expect(sql.raw(statement).execute(db)).rejects.toThrow(/the log is never (changed|shortened), only added to/)
  expect(await everythingIn(db)).toEqual(before)
})

test('two entries cannot take back the same one, nor one that is not there yet', async () => {
  const { db } = await aShopWithHistory()
  const undoing = (id: number) =>
    db
      .insertInto('log')
      .values({ at_ms: 0, action: 'x', undoes: id } as never)
      .execute()
  await expect(undoing(1)).rejects.toThrow(/never changed/)
  await expect(undoing(99)).rejects.toThrow(/FOREIGN KEY|CHECK/)
})

test('numbers of entries only ever grow', async () => {
  const { db } = await aShopWithHistory()
  await addCommission(db, anOrder('other'), stamp)
  expect((await latestEntries(db, 10)).map((entry) => entry.id)).toEqual([3, 2, 1])
})

import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import type { NewPromise } from '../../core/book/promise.ts'
import { addCommission, changeCommission, openBook } from '../../db/commissions.ts'
import { lastUndoable, takeBack } from '../../db/undo.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }

const promised = (day: string | null, given: Partial<NewPromise> = {}): NewPromise => ({
  kind: 'promise',
  day,
  chance: 0.83,
  chanceAlone: 0.9,
  days: { half: '2026-12-12', fourInFive: '2026-12-17', nineteenInTwenty: '2026-12-21' },
  plannedDay: '2026-12-10',
  offer: { kind: 'keeps-every-promise', takes: 'In turn, hours as they are' },
  times: 'book',
  wantedBy: 'customer',
  why: '',
  goodUntil: null,
  ...given,
})

describe('promises', () => {
  test('a promise comes back from the file with all that was stated about it', async () => {
    const { db, path, close } = await openShop()
    await addCommission(db, anOrder(), stamp, { promise: promised('2026-12-18') })
    await close()
    const again = await openShop(path)
    expect((await openBook(again.db)).promises).toEqual([
      { ...promised('2026-12-18'), commissionId: 'order-1', givenAtMs: START_MS },
    ])
  })

  test('another day is another record, and the first one stays as it was', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp, { promise: promised('2026-12-18') })
    const later = promised('2027-01-09', { chance: 0.97, wantedBy: 'maker', why: 'Back from the fair later' })
    valueOf(
      await changeCommission(
        db,
        'order-1',
        'commission-changed',
        (order) => ({ ...order, commission: { ...order.commission, promisedFor: '2027-01-09' } }),
        { ...stamp, atMs: START_MS + 60_000 },
        later,
      ),
    )
    expect((await openBook(db)).promises).toEqual([
      { ...promised('2026-12-18'), commissionId: 'order-1', givenAtMs: START_MS },
      { ...later, commissionId: 'order-1', givenAtMs: START_MS + 60_000 },
    ])
  })

  test('undo of what gave it makes a promise count no more, and putting it back makes it count again', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp, { promise: promised('2026-12-18') })
    const taken = await lastUndoable(db)
    const back = valueOf(await takeBack(db, taken?.id ?? 0, stamp))
    const kept = await db.selectFrom('promise').selectAll().execute()
    expect(kept.map(({ commission_id, day }) => [commission_id, day])).toEqual([['order-1', '2026-12-18']])
    expect((await openBook(db)).promises).toEqual([])
    valueOf(await takeBack(db, back.id, stamp))
    expect((await openBook(db)).promises.map(({ day }) => day)).toEqual(['2026-12-18'])
  })

  test('a change that does not get into the book leaves no promise behind', async () => {
    const { db } = await openShop()
    const order = anOrder()
    const broken = { ...order, lags: order.lags.map((lag) => ({ ...lag, toStep: 'nowhere' })) }
    await expect(addCommission(db, broken, stamp, { promise: promised('2026-12-18') })).rejects.toThrow()
    expect(await db.selectFrom('promise').selectAll().execute()).toEqual([])
  })

  test.each([
    `update promise set day = '2027-02-01'`,
    `update promise set chance = 1`,
    `delete from promise`,
    `insert or replace into promise select * from promise`,
  ])('the file refuses to have a promise changed: %s', async (statement) => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp, { promise: promised('2026-12-18') })
    await expect(sql.raw(statement).execute(db)).rejects.toThrow(/promise is never/)
  })
})

import SqliteFile from 'better-sqlite3'
import { Kysely } from 'kysely'
import { expect, onTestFinished, test } from 'vitest'
import { addCommission, bookOfCommission, openBook } from '../../db/commissions.ts'
import { boardsGone } from '../../db/boards-gone.ts'
import { ordersHandedOver } from '../../db/finished-orders.ts'
import { hoursHeld } from '../../db/hours-held.ts'
import { commissionsOf, newestOfOnePiece, orderBookRows, orderBookRowsOf } from '../../db/order-lists.ts'
import { firstAgreedMs, newestEntries, ordersInYear, ordersWorkedOn } from '../../db/orders-in-year.ts'
import { standingDays } from '../../db/standing-days.ts'
import { supplyCounts } from '../../db/supplies.ts'
import {
  entriesOfAction,
  failuresLogged,
  followsLogged,
  gluedAndLots,
  newestWorkLogged,
  piecesBegun,
  workLoggedSince,
} from '../../db/work-logged.ts'
import { entriesOf, isMoreThanWorkSince, latestEntries, ordersSince } from '../../db/log.ts'
import type { Database } from '../../db/schema.ts'
import { ShopDialect } from '../../db/shop-dialect.ts'
import { lastEntryAt, logStep, workEntriesOf } from '../../db/steps.ts'
import { lastRedoable, lastUndoable, takeBack } from '../../db/undo.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS } from './support/shop-files.ts'

const between = () => Promise.resolve()
const stamp = { atMs: START_MS, makerId: null }

test('no press and no screen walks through the whole log or all steps, by the plans that SQLite makes', async () => {
  const shop = await openShop()
  for (let at = 0; at < 40; at++) {
    const order = anOrder(`o${at}`)
    const standing = at % 20 === 3 ? ('agreed' as const) : ('handed-over' as const)
    await addCommission(shop.db, { ...order, commission: { ...order.commission, standing } }, stamp)
    await logStep(shop.db, `o${at}-piece-first-glue-up`, { kind: 'started' }, stamp)
  }
  await shop.close()

  const file = new SqliteFile(shop.path)
  const asked: { sql: string; parameters: readonly unknown[] }[] = []
  const db = new Kysely<Database>({
    dialect: new ShopDialect(file),
    log: ({ query: { sql, parameters } }) => void asked.push({ sql, parameters }),
  })
  onTestFinished(() => db.destroy())
  // With and without what "optimize" has counted.
  for (const analyzed of [false, true]) {
    if (analyzed) file.exec('analyze')
    await openBook(db)
    await bookOfCommission(db, 'o3')
    await entriesOf(db, 'o3')
    await latestEntries(db, 5)
    await isMoreThanWorkSince(db, 30)
    await commissionsOf(db, await ordersSince(db, 30))
    await workLoggedSince(db, 30)
    const { steps } = await newestWorkLogged(db, 30, between)
    expect(steps.length).toBeGreaterThan(20)
    // A few of them: half of a small table is quicker to walk through.
    const ids = steps.slice(0, 3).map(({ id }) => id)
    await gluedAndLots(db, ids, between)
    await followsLogged(db, ids, between)
    await piecesBegun(db, ids, between)
    await lastUndoable(db)
    await lastUndoable(db, { commissionId: 'o3' })
    await lastRedoable(db)
    await lastRedoable(db, { stepId: 'o3-piece-first-glue-up' })
    await lastEntryAt(db, 'o3-piece-first-glue-up')
    await orderBookRows(db, 'closed', { after: 0, count: 50 })
    await orderBookRowsOf(db, { customerIds: ['o3', 'o4'] })
    await newestOfOnePiece(db, { construction: 'end-grain-board', except: null, count: 60 })
    await ordersInYear(db, { fromMs: 0, toMs: START_MS, firstDay: '2025-01-01', lastDay: '2025-12-31' })
    await ordersWorkedOn(db, 0, START_MS)
    await newestEntries(db, ['o3', 'o4'])
    await workEntriesOf(db, ['o3', 'o4'])
    await firstAgreedMs(db)
    await standingDays(db)
    await standingDays(db, ['o3', 'o4'])
    await ordersHandedOver(db)
    await boardsGone(db)
    await supplyCounts(db)
    await failuresLogged(db)
    await entriesOfAction(db, 'step-failed', 20)
    await hoursHeld(db, [])
    const entry = await lastUndoable(db, { commissionId: 'o3' })
    await takeBack(db, entry!.id, stamp)
    await logStep(db, 'o3-piece-first-glue-up', { kind: 'started' }, stamp)
  }
  const walks = asked
    .filter(({ sql }) => /^\s*(select|delete|update)/.test(sql))
    .flatMap(({ sql, parameters }) =>
      (file.prepare(`explain query plan ${sql}`).all(...parameters) as { detail: string }[])
        .filter(({ detail }) => /^SCAN (log|step|step_hold|lag|piece)\b/.test(detail))
        // The newest few, read from the end, and the oldest one.
        .filter(() => !/order by "id"( desc)? limit \?$/.test(sql))
        .map(({ detail }) => `${detail}: ${sql}`),
    )
  expect(asked.length).toBeGreaterThan(50)
  expect([...new Set(walks)]).toEqual([])
})

test('no trigger walks through a table at every row that is written', async () => {
  const shop = await openShop()
  await shop.close()
  const file = new SqliteFile(shop.path, { readonly: true })
  onTestFinished(() => void file.close())
  const triggers = file.prepare(`select name, sql from sqlite_schema where type = 'trigger'`).all() as {
    name: string
    sql: string
  }[]
  const walks = triggers.flatMap(({ name, sql }) => {
    const [, when] = /\bwhen\s+(.*?)\s+begin\b/s.exec(sql) ?? []
    if (when === undefined) return []
    // Plans do not show what a trigger asks: its question is asked alone.
    const question = `explain query plan select ${when.replaceAll(/\bnew\.\w+/g, '1')}`
    const plan = file.prepare(question).all() as { detail: string }[]
    return plan
      .filter(({ detail }) => /^SCAN (?!erasing|CONSTANT)/.test(detail))
      .map(({ detail }) => `${name}: ${detail}`)
  })
  expect(triggers.length).toBeGreaterThan(5)
  expect(walks).toEqual([])
})

test('closed orders come page by page, newest first, with the pieces of that page alone', async () => {
  const shop = await openShop()
  for (let at = 0; at < 7; at++) {
    const order = anOrder(`o${at}`)
    await addCommission(
      shop.db,
      { ...order, commission: { ...order.commission, standing: at === 3 ? 'agreed' : 'handed-over' } },
      stamp,
    )
  }
  const page = async (after: number) =>
    (await orderBookRows(shop.db, 'closed', { after, count: 3 })).map(({ commission, pieces }) => [
      commission.id,
      pieces.length,
    ])
  expect(await page(0)).toEqual([
    ['o6', 1],
    ['o5', 1],
    ['o4', 1],
  ])
  expect(await page(3)).toEqual([
    ['o2', 1],
    ['o1', 1],
    ['o0', 1],
  ])
  expect(await page(6)).toEqual([])
})

import SqliteFile from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { namedBackups } from '../../db/backup.ts'
import { addCommission } from '../../db/commissions.ts'
import { entriesOf } from '../../db/log.ts'
import { logStep } from '../../db/steps.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const DAY_MS = 24 * 3_600_000

/** A closed file with two orders, in which statements then do what a failing disk would. */
async function aSpoiltShop(...statements: string[]): Promise<string> {
  const shop = await openShop()
  for (const name of ['a', 'b']) {
    await addCommission(shop.db, anOrder(name), stamp)
    await logStep(shop.db, `${name}-piece-first-glue-up`, { kind: 'started' }, stamp)
  }
  await shop.close()
  const file = new SqliteFile(shop.path)
  file.pragma('ignore_check_constraints = on')
  file.pragma('foreign_keys = off')
  file.exec('drop trigger log_keeps_its_entries; drop trigger log_loses_no_entry')
  for (const statement of statements) file.exec(statement)
  file.close()
  return shop.path
}

const spoiled: [string, string, RegExp][] = [
  ['a digit changed in an entry of the log', `update log set at_ms = at_ms + 1 where id = 2`, /entry 2 of the log/],
  ['an entry taken out of the log', `delete from log where id = 2`, /entry 3 of the log/],
  ['half an entry', `update log set after = '{"step' where id = 2`, /“after” in row 2 of log cannot be read/],
  ['half a draft', `insert into draft values ('d', 1, 1, '{"name": "A')`, /“content” in row 1 of draft cannot be read/],
  ['a piece without its order', `update piece set commission_id = 'gone'`, /a row of piece refers to a missing row/],
]

describe('damage inside the text of fields is found at the weekly check and at every backup, and told', () => {
  test.each(spoiled)('%s', async (_, statement, words) => {
    const path = await aSpoiltShop(statement)
    const opened = await openShop(path, { clockMs: () => START_MS + 8 * DAY_MS })
    expect(opened.warnings().map(({ code }) => code)).toContain('rows-damaged')
    expect(opened.warnings()[0]?.message).toMatch(words)
    await opened.backUp('by-hand')
    expect(opened.warnings()[0]?.message).toMatch(words)
  })

  test('a sound book gives no such warning', async () => {
    const path = await aSpoiltShop()
    const opened = await openShop(path, { clockMs: () => START_MS + 8 * DAY_MS })
    await opened.backUp('by-hand')
    expect(opened.warnings()).toEqual([])
  })
})

test('a damaged entry of the log is shown as one of which nothing is known, and the others with it', async () => {
  const path = await aSpoiltShop(`update log set after = '{"step' where id = 2`)
  const { db } = await openShop(path)
  expect((await entriesOf(db, 'a')).map(({ id, event }) => [id, event.kind])).toEqual([
    [1, 'rows'],
    [2, 'remark'],
  ])
})

test('copies of a damaged book never push good ones out', async () => {
  const path = await aSpoiltShop(`update log set at_ms = at_ms + 1 where id = 2`)
  const good = namedBackups(path).map(({ name }) => name)
  const opened = await openShop(path)
  for (let at = 0; at < 14; at++) await opened.backUp('daily')
  expect(namedBackups(path).map(({ name }) => name)).toEqual(expect.arrayContaining(good))
})

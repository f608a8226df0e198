import SqliteFile from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { namedBackups } from '../../db/backup.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { addCommission } from '../../db/commissions.ts'
import { saveDraft } from '../../db/drafts.ts'
import { keepErasure } from '../../db/erasures.ts'
import { entriesOf } from '../../db/log.ts'
import { enterMoney } from '../../db/money.ts'
import { markShown } from '../../db/notices.ts'
import { issuePaper } from '../../db/papers.ts'
import { keepPhoto } from '../../db/photos.ts'
import { recordPromise } from '../../db/promises.ts'
import type { Db } from '../../db/schema.ts'
import { logStep } from '../../db/steps.ts'
import { aPaper } from './support/a-paper.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const DAY_MS = 24 * 3_600_000

const almanac = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })

async function fillOtherTables(db: Db): Promise<void> {
  const money = { id: 'm1', commissionId: 'a', atMs: START_MS, day: '2026-11-25', minor: 16_000, takesBack: null }
  await enterMoney(db, [{ ...money, kind: 'payment', how: 'cash', reference: '' }], 'money-entered', stamp)
  const paper = aPaper('quote', { name: 'Odile Marsh', address: '' })
  await issuePaper(db, { id: 'p1', commissionId: 'a', issuedAtMs: START_MS, paper, amends: null }, stamp)
  const given = { day: '2026-12-18', chance: 0.83, chanceAlone: null, days: null, plannedDay: null, offer: null }
  const words = { times: 'book', wantedBy: 'customer', why: '', goodUntil: null } as const
  await recordPromise(db, 'a', { ...given, ...words, kind: 'promise' }, START_MS, null)
  await keepPhoto(
    db,
    { kind: 'new', id: 'ph', mediaType: 'image/jpeg', bytes: Buffer.from('ffd8ffe0', 'hex') },
    START_MS,
  )
  await saveDraft(db, { id: 'd', content: { customer: 'Tam' } }, START_MS)
  await markShown(db, ['n1', 'n2'], START_MS)
  // Shown once more after the clock was put back, and erased once more out of an older copy: the digest goes along.
  await markShown(db, ['n1'], START_MS - DAY_MS)
  for (const done_at_ms of [START_MS, null])
    await keepErasure(db, { customer_id: 'gone', asked_at_ms: START_MS, done_at_ms })
  const priced = { ...almanac, woodPrices: { walnut: { minor: 1_250, per: 'board-foot' as const } } }
  await saveAlmanac(db, priced, almanac, stamp)
}

/** A closed file with two orders, in which statements then do what a failing disk would. */
async function aSpoiltShop(...statements: string[]): Promise<string> {
  const shop = await openShop()
  for (const name of ['a', 'b']) {
    await addCommission(shop.db, anOrder(name), stamp)
    await logStep(shop.db, `${name}-piece-first-glue-up`, { kind: 'started' }, stamp)
  }
  await fillOtherTables(shop.db)
  await shop.close()
  const file = new SqliteFile(shop.path)
  file.unsafeMode(true)
  file.pragma('ignore_check_constraints = on')
  file.pragma('foreign_keys = off')
  file.exec('drop trigger log_keeps_its_entries; drop trigger log_loses_no_entry; drop trigger money_entry_stays')
  file.exec('drop trigger paper_stays; drop trigger promise_is_never_changed')
  for (const statement of statements) file.exec(statement)
  file.close()
  return shop.path
}

const spoiled: [string, string, RegExp][] = [
  ['a digit changed in an entry of the log', `update log set at_ms = at_ms + 1 where id = 2`, /entry 2 of the log/],
  ['an entry taken out of the log', `delete from log where id = 2`, /entry 3 of the log/],
  ['half an entry', `update log set after = '{"step' where id = 2`, /“after” in row 2 of log cannot be read/],
  [
    'half a draft',
    `insert into draft values ('e', 1, 1, '{"name": "A', null)`,
    /“content” in row 2 of draft cannot be read/,
  ],
  [
    'a letter of an order’s notes',
    `update commission set notes = 'Walnur' || substr(notes, 7) where id = 'b'`,
    /“notes” in the terms of order 2 is not as it was written \(the log has “Walnut/,
  ],
  [
    'a digit of a promised day',
    `update commission set promised_for = '2026-12-19' where id = 'a'`,
    /“promised_for” in the terms of order 1/,
  ],
  [
    'a bit in the minutes of a step',
    `update step set minutes = minutes + 1 where id = 'a-piece-flatten'`,
    /“minutes” in a step of order 1/,
  ],
  ['a digit of an amount', `update money_entry set minor = minor + 1`, /“minor” in a payment of order 1/],
  [
    'a letter of a customer',
    `update customer set name = 'Odile Narsh' where id = 'a-customer'`,
    /“name” in the customer of order 1/,
  ],
  ['a wait lost', `delete from lag where piece_id = 'b-piece' and position = 1`, /a wait of order 2 is missing/],
  [
    'a row under another key',
    `update step_hold set position = 7 where position = 1`,
    /what a step holds of order 1 is missing/,
  ],
  ['the chance of a promise', `update promise set chance = 0.9`, /row 1 of promise is not as it was written/],
  ['a letter in a paper', `update paper set content = replace(content, 'board', 'hoard')`, /row 1 of paper is not/],
  ['a byte of a photo', `update photo set bytes = x'ffd8ffe1'`, /row 1 of photo is not as it was written/],
  [
    'a digit of the last number given',
    `update running_number set last = 1 where name = 'commission'`,
    /of running_number is not/,
  ],
  [
    'when a notice was shown',
    `update notice_shown set shown_at_ms = 1 where id = 'n1'`,
    /of notice_shown is not as it was/,
  ],
  ['who was erased', `update erasure set customer_id = 'here'`, /row 1 of erasure is not as it was written/],
  ['a letter in a draft', `update draft set content = '{"customer":"Tim"}'`, /row 1 of draft is not as it was written/],
  [
    'a letter in the definition of a table',
    `pragma writable_schema = on; update sqlite_schema set sql = replace(sql, 'deposit_how', 'dxposit_how') where name = 'commission'`,
    /the tables are not defined as they were/,
  ],
  [
    'the name of a key in the log',
    `update log set after = replace(after, '"key"', '"kex"') where id = 1`,
    /entry 1 of the log/,
  ],
  ['an almanac figure', `update wood_price set minor = 1`, /“minor” in a row of wood_price/],
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
  expect((await entriesOf(db, 'a')).slice(0, 2).map(({ id, event }) => [id, event.kind])).toEqual([
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

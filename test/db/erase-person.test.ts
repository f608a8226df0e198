import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { ERASED_NAME } from '../../db/leave-out.ts'
import { addCommission, changeCommission, commissionById } from '../../db/commissions.ts'
import { saveDraft } from '../../db/drafts.ts'
import { erasePerson } from '../../db/erase-person.ts'
import { erasedCustomers, noteErased, toEraseAgain } from '../../db/erasures.ts'
import { damagedRows } from '../../db/damaged-rows.ts'
import { brokenEntries } from '../../db/log-chain.ts'
import { latestEntries } from '../../db/log.ts'
import { enterMoney, moneyOf } from '../../db/money.ts'
import { issuePaper, papersOf } from '../../db/papers.ts'
import { personInBook } from '../../db/person.ts'
import type { ShopFile } from '../../db/connection.ts'
import { logStep } from '../../db/steps.ts'
import { takeBack } from '../../db/undo.ts'
import { aPaper } from './support/a-paper.ts'
import { everythingIn, stateOf } from './support/everything.ts'
import { aCustomer, anOrder } from './support/orders.ts'
import { openShop, restoreBackup, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }
const later = { atMs: START_MS + 1, makerId: null }

/** What of the person must be nowhere: names as typed at first and later, ways to reach, notes. */
const TRACES = [
  ...['Wilhelmina Thackeray', 'Minnie Thackeray-Oyelaran', 'minnie@example.org', '555 0177', '41 Quince Street'],
  ...['hazelnut', 'leaves the gate open', 'anniversary surprise', 'Bartholomew', 'check 4417 of M. Thackeray'],
]

const person = aCustomer({
  id: 'customer-w',
  name: 'Wilhelmina Thackeray',
  reach: '555 0177',
  secondReach: 'minnie@example.org',
  address: '41 Quince Street',
  allergies: 'hazelnut',
  notes: 'leaves the gate open',
})

/** A shop with an order of the person from draft to hand-over, and one of somebody else. */
async function aShop(): Promise<ShopFile> {
  const shop = await openShop()
  const { db } = shop
  await addCommission(db, anOrder('other'), stamp)
  const order = anOrder('w', { customer: person, neededWhy: 'anniversary surprise', giftFor: 'Bartholomew' })
  const [piece] = order.pieces
  await saveDraft(db, { id: 'd', content: { customer: person, notes: 'anniversary surprise', pieces: [] } }, START_MS)
  await addCommission(
    db,
    { ...order, pieces: [{ ...piece!, title: 'Board for Wilhelmina Thackeray', spec: { carve: 'Bartholomew' } }] },
    stamp,
    { draftId: 'd' },
  )
  await changeCommission(
    db,
    'w',
    'commission-changed',
    ({ commission, ...rest }) => ({
      ...rest,
      commission: { ...commission, customer: { ...person, name: 'Minnie Thackeray-Oyelaran' } },
    }),
    stamp,
  )
  await logStep(db, 'w-piece-first-glue-up', { kind: 'started' }, stamp)
  await logStep(db, 'other-piece-first-glue-up', { kind: 'started' }, stamp)
  await enterMoney(
    db,
    [
      {
        ...{ id: 'm1', commissionId: 'w', atMs: START_MS, day: '2026-11-25', kind: 'payment', minor: 16_000 },
        ...{ how: 'check', reference: 'check 4417 of Wilhelmina Thackeray', takesBack: null },
      },
    ],
    'money-entered',
    stamp,
  )
  for (const kind of ['confirmation', 'invoice'] as const)
    await issuePaper(
      db,
      {
        ...{ id: `p-${kind}`, commissionId: 'w', issuedAtMs: START_MS, amends: null },
        paper: aPaper(kind, { name: 'Minnie Thackeray-Oyelaran', address: '41 Quince Street' }),
      },
      stamp,
    )
  await saveDraft(db, { id: 'next', content: { customer: { ...person }, notes: '' } }, START_MS)
  await changeCommission(
    db,
    'w',
    'commission-handed-over',
    ({ commission, ...rest }) => ({ ...rest, commission: { ...commission, standing: 'handed-over' } }),
    stamp,
  )
  return shop
}

async function erase(shop: ShopFile, fromPapersKeptByLaw: boolean): Promise<void> {
  const found = await personInBook(shop.db, ['customer-w'])
  await erasePerson(shop.db, found, { fromPapersKeptByLaw }, later)
  expect(await shop.wipeRemains()).toBe(true)
}

/** Which of these texts stand in any file of the shop, backups left out. */
function tracesIn(path: string): string[] {
  const folder = dirname(path)
  const files = readdirSync(folder).filter((name) => name.startsWith('shop.sqlite'))
  const bytes = files.map((name) => readFileSync(join(folder, name)).toString('latin1').toLowerCase())
  return TRACES.filter((trace) => bytes.some((text) => text.includes(trace.toLowerCase())))
}

test('before anything is erased, everything that was typed of the person stands in the file', async () => {
  const shop = await aShop()
  await sql`pragma wal_checkpoint(truncate)`.execute(shop.db)
  // The reference was typed with the full name.
  expect(tracesIn(shop.path)).toEqual(TRACES.filter((trace) => !trace.startsWith('check')))
})

test('once a person is erased, no byte of name, address, allergies, notes and gift is left in the file or its log', async () => {
  const shop = await aShop()
  await erase(shop, true)
  expect(tracesIn(shop.path)).toEqual([])
  await shop.close()
  expect(tracesIn(shop.path)).toEqual([])
})

test('numbers, days, work and money of the orders stay, and nothing of anybody else is touched', async () => {
  const shop = await aShop()
  const before = await everythingIn(shop.db)
  await erase(shop, false)
  const after = await everythingIn(shop.db)
  const same = ['step_hold', 'notice_shown', 'announced_start', 'running_number', 'board', 'photo']
  for (const table of same) expect(after[table]).toEqual(before[table])
  const { commission } = (await commissionById(shop.db, 'w'))!
  expect(commission).toMatchObject({
    ...{ number: 2, priceMinor: 32_000, depositMinor: 16_000, promisedFor: '2026-12-18', standing: 'handed-over' },
    ...{ neededWhy: '', notes: '', giftFor: '' },
    customer: { name: ERASED_NAME, reach: '', secondReach: '', address: '', allergies: '', childUnder3: 'not-asked' },
  })
  expect(await moneyOf(shop.db, ['w'])).toMatchObject([
    { minor: 16_000, how: 'check', reference: 'check 4417 of Erased' },
  ])
  expect((await commissionById(shop.db, 'other'))!.commission).toEqual(
    expect.objectContaining({ customer: aCustomer({ id: 'other-customer' }), notes: anOrder('x').commission.notes }),
  )
  expect(after['log']!.length).toBe(before['log']!.length + 1)
})

test('the checksums of the log fit after erasing, and the file is sound', async () => {
  const shop = await aShop()
  await erase(shop, true)
  await shop.close()
  const file = new SqliteFile(shop.path)
  expect(damagedRows(file)).toEqual([])
  expect(file.pragma('integrity_check', { simple: true })).toBe('ok')
  expect(file.pragma('foreign_key_check')).toEqual([])
  // What may be changed only while erasing is protected again.
  for (const statement of [
    `update log set note = 'x'`,
    `update paper set day = '2026-01-01'`,
    `update money_entry set reference = 'x'`,
  ])
    expect(() => file.exec(statement)).toThrow(/never changed/)
  file.close()
})

test('an entry that was damaged before stays told as damaged: erasing hides nothing', async () => {
  const shop = await aShop()
  await shop.close()
  const file = new SqliteFile(shop.path)
  file.exec('drop trigger log_keeps_its_entries')
  file.prepare(`update log set at_ms = at_ms + 1 where id = 4`).run()
  file.close()
  const again = await openShop(shop.path)
  await erase(again, true)
  await again.close()
  const after = new SqliteFile(shop.path)
  expect(brokenEntries(after)).toEqual([4])
  after.close()
})

test('what was done before can still be undone after erasing, and brings no name back', async () => {
  const shop = await aShop()
  await erase(shop, true)
  const entries = await latestEntries(shop.db, 100)
  for (const { id, action } of entries)
    if (['commission-handed-over', 'commission-changed'].includes(action)) valueOf(await takeBack(shop.db, id, later))
  expect((await commissionById(shop.db, 'w'))!.commission).toMatchObject({
    standing: 'agreed',
    customer: { name: ERASED_NAME },
  })
  await shop.wipeRemains()
  expect(tracesIn(shop.path)).toEqual([])
})

describe('papers', () => {
  test('invoices, credit notes and receipts stay as issued unless asked for; others lose name and address', async () => {
    const shop = await aShop()
    expect((await personInBook(shop.db, ['customer-w'])).papers).toEqual({ kept: 1, others: 1 })
    await erase(shop, false)
    const papers = new Map((await papersOf(shop.db, 'w')).map(({ id, paper }) => [id, paper]))
    expect(papers.get('p-invoice')?.to).toEqual({ name: 'Minnie Thackeray-Oyelaran', address: '41 Quince Street' })
    expect(papers.get('p-confirmation')?.to).toEqual({ name: ERASED_NAME, address: '' })
  })

  test('asked for, they lose them too, and keep their numbers and amounts', async () => {
    const shop = await aShop()
    const before = (await papersOf(shop.db, 'w')).find(({ id }) => id === 'p-invoice')!
    await erase(shop, true)
    const after = (await papersOf(shop.db, 'w')).find(({ id }) => id === 'p-invoice')!
    expect(after).toEqual({ ...before, paper: { ...before.paper, to: { name: ERASED_NAME, address: '' } } })
  })
})

test('what is erased is found beforehand: orders, drafts, papers, and orders of others that name the person', async () => {
  const shop = await aShop()
  await addCommission(shop.db, anOrder('friend', { notes: 'Like the one of Minnie Thackeray-Oyelaran' }), stamp)
  expect(await personInBook(shop.db, ['customer-w'])).toMatchObject({
    orders: [{ id: 'w', number: 2, isOpen: false }],
    draftIds: ['next'],
    namedIn: [3],
  })
})

test('an older copy that brings an erased person back is noted as to be done again, until it is done', async () => {
  const shop = await aShop()
  const backup = valueOf(await shop.backUp('by-hand'))
  await erase(shop, true)
  const erased = await erasedCustomers(shop.db)
  expect(erased).toEqual(['customer-w'])
  expect(await toEraseAgain(shop.db)).toEqual([])
  await shop.close()
  valueOf(restoreBackup(shop.path, backup.name, START_MS + 5000))
  const copy = await openShop(shop.path)
  await noteErased(copy.db, erased, START_MS + 6000)
  expect(await toEraseAgain(copy.db)).toEqual(['customer-w'])
  await erase(copy, true)
  expect(await toEraseAgain(copy.db)).toEqual([])
})

test('erasing is all or nothing: cut off at any of its writes, the book is as it was', async () => {
  const shop = await aShop()
  const before = await stateOf(shop.db)
  const found = await personInBook(shop.db, ['customer-w'])
  // The last write of all is refused.
  await sql
    .raw(`create trigger no_more before insert on upkeep begin select raise(abort, 'no room'); end`)
    .execute(shop.db)
  await expect(erasePerson(shop.db, found, { fromPapersKeptByLaw: true }, later)).rejects.toThrow(/no room/)
  expect(await stateOf(shop.db)).toEqual(before)
})

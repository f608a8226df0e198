import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { aDesk, aDraft, type TestDesk } from './support/a-desk.ts'

const order = (name: string) => ({
  draft: aDraft({ customer: { ...aDraft().customer, name } }),
  standing: 'agreed' as const,
  promisedFor: null,
})

/** A closed shop with orders of these customers and no backup at all. */
async function aFolderWith(...names: string[]): Promise<string> {
  const shop = await aDesk()
  for (const name of names) await shop.ask.takeOrder(order(name))
  await shop.desk.close()
  rmSync(join(shop.folder, 'backups'), { recursive: true })
  return shop.folder
}

const shopFile = (folder: string): string => join(folder, 'shop.sqlite')

/** Changes that SQLite itself would refuse. */
function edit(folder: string, ...statements: string[]): void {
  const file = new SqliteFile(shopFile(folder))
  file.pragma('ignore_check_constraints = on')
  file.pragma('foreign_keys = off')
  for (const statement of statements) file.exec(statement)
  file.close()
}

/** Overwrites pages of one table, as a failing disk does; `which` picks among its leaves. */
function spoilLeaf(folder: string, table: string, which: (leaves: number[]) => number[]): void {
  const file = new SqliteFile(shopFile(folder))
  file.pragma('wal_checkpoint(truncate)')
  const size = Number(file.pragma('page_size', { simple: true }))
  const leaves = file
    .prepare(`select pageno from dbstat where name = ? and pagetype = 'leaf' order by path`)
    .pluck()
    .all(table) as number[]
  file.close()
  const bytes = readFileSync(shopFile(folder))
  for (const page of which(leaves)) bytes.fill(0xff, (page - 1) * size, page * size)
  writeFileSync(shopFile(folder), bytes)
}

async function inTrouble(folder: string): Promise<TestDesk> {
  const shop = await aDesk({ folder })
  expect((await shop.ask.shopState()).trouble).not.toBeNull()
  return shop
}

const names = async ({ ask }: TestDesk): Promise<string[]> =>
  (await ask.orderBook()).open.map(({ customer }) => customer).sort()

describe('what can be read of a damaged file goes into a new book, with a list of what could not', () => {
  test('a page of steps is lost, every order is there, and the damaged file is kept with the list', async () => {
    const folder = await aFolderWith('Ada', 'Ben', 'Cleo')
    spoilLeaf(folder, 'step', (leaves) => leaves.slice(1, 2))
    const damaged = readFileSync(shopFile(folder))
    const shop = await inTrouble(folder)
    const found = await shop.ask.rescue()
    expect(found.orders).toBe(3)
    expect(found.lost.join('\n')).toMatch(/^Up to \d+ steps$/m)
    expect(readFileSync(shopFile(folder)).equals(damaged)).toBe(true)
    await shop.ask.openRescued()
    expect(await names(shop)).toEqual(['Ada', 'Ben', 'Cleo'])
    expect((await shop.ask.shopState()).inTheWay.map(({ code }) => code)).not.toContain('rows-damaged')
    const [aside] = readdirSync(join(folder, 'set-aside'))
    const kept = join(folder, 'set-aside', aside!)
    expect(readFileSync(join(kept, 'shop.sqlite')).equals(damaged)).toBe(true)
    expect(readFileSync(join(kept, 'what-was-lost.txt'), 'utf8').trim().split('\n')).toEqual(found.lost)
    expect(readdirSync(folder).filter((name) => name.includes('rescue'))).toEqual([])
  })

  test('half a spec takes its piece and its steps, which the list names by the order', async () => {
    const folder = await aFolderWith('Ada', 'Ben')
    edit(
      folder,
      `update piece set spec = '{"length": 3' where commission_id = (select id from commission where number = 1)`,
      'drop table announced_start',
    )
    const shop = await inTrouble(folder)
    const { orders, lost } = await shop.ask.rescue()
    expect(orders).toBe(2)
    expect(lost.join('\n')).toMatch(/^Order no\. 1 \(Ada\): 1 piece, \d+ steps/m)
    await shop.ask.openRescued()
    expect((await shop.ask.shopState()).trouble).toBeNull()
    expect(await names(shop)).toEqual(['Ada', 'Ben'])
  })

  test('an order whose customer is lost stays, marked as such', async () => {
    const folder = await aFolderWith('Ada', 'Ben')
    edit(folder, `delete from customer where name = 'Ada'`, 'drop table announced_start')
    const shop = await inTrouble(folder)
    const { orders, lost } = await shop.ask.rescue()
    expect([orders, lost]).toEqual([2, ['Order no. 1: who ordered it is lost']])
    await shop.ask.openRescued()
    expect(await names(shop)).toEqual(['(name lost)', 'Ben'])
  })

  test('a whole table that is gone is said, with no count made up', async () => {
    const folder = await aFolderWith('Ada')
    edit(folder, 'drop table board_flaw', 'drop table announced_start')
    const shop = await inTrouble(folder)
    expect((await shop.ask.rescue()).lost).toEqual(['An unknown number of board defects'])
  })

  test('work goes on in the rescued book, and its log is whole from there on', async () => {
    const folder = await aFolderWith('Ada', 'Ben')
    edit(folder, 'drop trigger log_loses_no_entry', 'delete from log where id = 2', 'drop table announced_start')
    const shop = await inTrouble(folder)
    await shop.ask.rescue()
    await shop.ask.openRescued()
    await shop.ask.takeOrder(order('Cleo'))
    await shop.ask.backupNow()
    expect((await shop.ask.shopState()).inTheWay.map(({ code }) => code)).not.toContain('rows-damaged')
    expect(await names(shop)).toEqual(['Ada', 'Ben', 'Cleo'])
  })
})

test('a file of which nothing is an order book is left as it is, and that is said', async () => {
  const folder = await aFolderWith('Ada')
  writeFileSync(shopFile(folder), 'Dear customer\n'.repeat(900))
  const shop = await inTrouble(folder)
  expect(await shop.call.rescue()).toMatchObject({ ok: false, problems: [{ code: 'nothing-rescued' }] })
  expect(await shop.call.openRescued()).toMatchObject({ ok: false, problems: [{ code: 'not-looked' }] })
  expect(readFileSync(shopFile(folder), 'utf8')).toMatch(/^Dear customer/)
})

test('an order book that is open is not rescued', async () => {
  const shop = await aDesk()
  expect(await shop.call.rescue()).toMatchObject({ ok: false, problems: [{ code: 'still-open' }] })
  expect(await shop.call.openRescued()).toMatchObject({ ok: false, problems: [{ code: 'still-open' }] })
})

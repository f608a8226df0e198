import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import SqliteFile from 'better-sqlite3'
import { describe, expect, onTestFinished, test } from 'vitest'
import { aDesk, aDraft, aFolder, type TestDesk } from './support/a-desk.ts'

const order = (name: string) => ({
  draft: aDraft({ customer: { ...aDraft().customer, name } }),
  standing: 'asked-about' as const,
  promisedFor: null,
})

/** A closed shop with one order, and a backup with it. */
async function aFilledFolder(): Promise<string> {
  const shop = await aDesk()
  await shop.ask.takeOrder(order('Ada Quist'))
  await shop.ask.backupNow()
  await shop.desk.close()
  return shop.folder
}

const names = async ({ ask }: TestDesk): Promise<string[]> =>
  (await ask.orderBook()).open.map(({ customer }) => customer)

/** Damage inside the text of fields and in the tables, which SQLite itself would refuse to write. */
function edit(folder: string, ...statements: string[]): void {
  const file = new SqliteFile(join(folder, 'shop.sqlite'))
  file.pragma('ignore_check_constraints = on')
  for (const statement of statements) file.exec(statement)
  file.close()
}

const shopFile = (folder: string): string => join(folder, 'shop.sqlite')
const asFolder = (path: string): void => {
  rmSync(path, { force: true })
  mkdirSync(path)
}

describe('whatever keeps the order book from being opened, the app opens, says what it found and opens a copy', () => {
  const faults: [string, string, (folder: string) => void][] = [
    ['text in the file', 'file-damaged', (folder) => writeFileSync(shopFile(folder), 'Dear customer\n'.repeat(900))],
    ['a folder in its place', 'file-unreadable', (folder) => asFolder(shopFile(folder))],
    ['the file gone', 'file-gone', (folder) => rmSync(shopFile(folder))],
    ['a bad byte in a spec', 'book-unreadable', (folder) => edit(folder, `update piece set spec = '{"length": 3'`)],
    ['a bad byte in cautions', 'book-unreadable', (folder) => edit(folder, `update step set cautions = '["dust'`)],
    ['a table missing', 'book-unreadable', (folder) => edit(folder, 'drop table announced_start')],
  ]

  test.each(faults)('%s', async (_, code, spoil) => {
    const folder = await aFilledFolder()
    spoil(folder)
    const shop = await aDesk({ folder })
    const { trouble } = await shop.ask.shopState()
    expect(trouble?.problem.code).toBe(code)
    expect(trouble?.folder).toBe(folder)
    expect(trouble?.problem.message).not.toMatch(/\bat .*\.ts:\d+/)
    expect(await shop.call.orderBook()).toMatchObject({ ok: false, problems: [{ code }] })
    const usable = trouble?.backups.filter(({ commissions }) => commissions === 1) ?? []
    expect(usable.length).toBeGreaterThan(0)
    await shop.ask.openBackup({ file: usable[0]!.file })
    expect(await names(shop)).toEqual(['Ada Quist'])
    expect((await shop.ask.shopState()).trouble).toBeNull()
  })

  test.each(faults)('%s: or begins anew, and what was there is kept', async (_, __, spoil) => {
    const folder = await aFilledFolder()
    spoil(folder)
    const before = readdirSync(folder).includes('shop.sqlite')
    const shop = await aDesk({ folder })
    await shop.ask.beginAnew()
    expect(await names(shop)).toEqual([])
    expect(readdirSync(folder).includes('set-aside')).toBe(before)
  })
})

describe('once what was in the way is put right, trying again opens the order book', () => {
  test('a folder in the place of the lock', async () => {
    const folder = await aFilledFolder()
    asFolder(join(folder, 'in-use.lock'))
    const shop = await aDesk({ folder })
    expect((await shop.ask.shopState()).trouble?.problem.code).toBe('folder-in-the-way')
    expect(await shop.call.openAgain()).toMatchObject({ ok: false })
    rmSync(join(folder, 'in-use.lock'), { recursive: true })
    await shop.ask.openAgain()
    expect(await names(shop)).toEqual(['Ada Quist'])
  })

  test('a file in the place of the data folder', async () => {
    const folder = join(aFolder(), 'shop')
    writeFileSync(folder, 'not a folder')
    const shop = await aDesk({ folder })
    expect((await shop.ask.shopState()).trouble?.problem.code).toBe('folder-in-the-way')
    rmSync(folder)
    await shop.ask.openAgain()
    expect(await names(shop)).toEqual([])
  })

  test('another program that holds the file', async () => {
    const folder = await aFilledFolder()
    const other = new SqliteFile(shopFile(folder))
    onTestFinished(() => void other.close())
    other.pragma('locking_mode = exclusive')
    other.exec('begin immediate; commit')
    const shop = await aDesk({ folder })
    const { trouble } = await shop.ask.shopState()
    expect(trouble?.problem.code).toMatch(/^file-(unreadable|busy)$/)
    expect(trouble?.backups.some(({ commissions }) => commissions === 1)).toBe(true)
    other.close()
    await shop.ask.openAgain()
    expect(await names(shop)).toEqual(['Ada Quist'])
  })
})

test('a lock file full of something else is put right without a word', async () => {
  const folder = await aFilledFolder()
  writeFileSync(join(folder, 'in-use.lock'), 'not a lock any more '.repeat(300))
  const shop = await aDesk({ folder })
  expect(await names(shop)).toEqual(['Ada Quist'])
})

test('a folder that had a shop in it, but no file and no backups any more, is no new shop without a question', async () => {
  const shop = await aDesk()
  await shop.desk.close()
  rmSync(shopFile(shop.folder))
  for (const name of readdirSync(join(shop.folder, 'backups'))) rmSync(join(shop.folder, 'backups', name))
  const again = await aDesk({ folder: shop.folder })
  expect((await again.ask.shopState()).trouble?.problem.code).toBe('file-gone')
  await again.ask.beginAnew()
  expect(await names(again)).toEqual([])
})

describe('opening a copy', () => {
  test('has a way back: the present book stays in the list and is opened like any other', async () => {
    const shop = await aDesk()
    await shop.ask.takeOrder(order('Ada Quist'))
    const copy = await shop.ask.backupNow()
    await shop.ask.takeOrder(order('Bo Lund'))
    await shop.ask.openBackup({ file: copy.file })
    expect(await names(shop)).toEqual(['Ada Quist'])
    const aside = (await shop.ask.backups()).find(({ reason }) => reason === 'set-aside')
    expect(aside?.commissions).toBe(2)
    await shop.ask.openBackup({ file: aside!.file })
    expect((await names(shop)).sort()).toEqual(['Ada Quist', 'Bo Lund'])
  })

  test('says before what the present book has that the copy lacks', async () => {
    const shop = await aDesk()
    await shop.ask.takeOrder(order('Ada Quist'))
    const copy = await shop.ask.backupNow()
    expect(await shop.ask.backupLacks({ file: copy.file })).toEqual({ orders: [], entries: 0 })
    await shop.ask.takeOrder(order('Bo Lund'))
    const lacking = { orders: [{ number: 2, customer: 'Bo Lund' }], entries: 1 }
    expect(await shop.ask.backupLacks({ file: copy.file })).toEqual(lacking)
    await shop.ask.openBackup({ file: copy.file })
    await shop.ask.takeOrder(order('Cy Marsh'))
    const aside = (await shop.ask.backups()).find(({ reason }) => reason === 'set-aside')
    // Both went on from the same copy: of each order the other one knows nothing.
    expect(await shop.ask.backupLacks({ file: aside!.file })).toEqual({
      orders: [{ number: 2, customer: 'Cy Marsh' }],
      entries: 1,
    })
  })

  test('asked for twice at once puts one after the other in place, and nothing that was entered is lost', async () => {
    const shop = await aDesk()
    await shop.ask.takeOrder(order('Ada Quist'))
    const copy = await shop.ask.backupNow()
    await shop.ask.takeOrder(order('Bo Lund'))
    const [first, second] = await Promise.all([
      shop.ask.openBackup({ file: copy.file }),
      shop.ask.openBackup({ file: copy.file }),
    ])
    expect([first, second]).toEqual([null, null])
    await shop.ask.takeOrder(order('Cy Marsh'))
    // What stands in the files alone, as it would after the power went.
    const written = new SqliteFile(shopFile(shop.folder), { readonly: true })
    onTestFinished(() => void written.close())
    expect(written.prepare('select name from customer order by name').pluck().all()).toEqual(['Ada Quist', 'Cy Marsh'])
    const aside = (await shop.ask.backups()).filter(({ reason }) => reason === 'set-aside')
    expect(aside.map(({ commissions }) => commissions).sort()).toEqual([1, 2])
  })

  test('keeps the ten newest files set aside', async () => {
    const shop = await aDesk()
    const copy = await shop.ask.backupNow()
    for (let at = 0; at < 12; at++) await shop.ask.openBackup({ file: copy.file })
    expect((await shop.ask.backups()).filter(({ reason }) => reason === 'set-aside')).toHaveLength(10)
  })

  // The copy is written to the device that is always full: no file system has to be made or filled for it.
  test.runIf(process.platform === 'linux')('without room for it leaves the book open as it was', async () => {
    const shop = await aDesk()
    await shop.ask.takeOrder(order('Ada Quist'))
    const copy = await shop.ask.backupNow()
    await shop.ask.takeOrder(order('Bo Lund'))
    const written = `${shopFile(shop.folder)}-restored-copying`
    symlinkSync('/dev/full', written)
    const reply = await shop.call.openBackup({ file: copy.file })
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'restore-failed' }] })
    expect((await names(shop)).sort()).toEqual(['Ada Quist', 'Bo Lund'])
    await shop.ask.takeOrder(order('Cy Marsh'))
  })

  test('a left-over of an exchange that is no shop, or older than the file, replaces nothing', async () => {
    const folder = await aFilledFolder()
    const left = `${shopFile(folder)}-restored`
    writeFileSync(left, 'half a copy')
    const shop = await aDesk({ folder })
    expect(await names(shop)).toEqual(['Ada Quist'])
    expect(readdirSync(folder)).not.toContain('shop.sqlite-restored')
    await shop.desk.close()
    renameSync(shopFile(folder), left)
    const fresh = await aDesk({ folder: aFolder() })
    await fresh.desk.close()
    writeFileSync(shopFile(folder), readFileSync(shopFile(fresh.folder)))
    const again = await aDesk({ folder })
    expect(await names(again)).toEqual([])
  })
})

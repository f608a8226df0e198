import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { namedBackups } from '../../db/backup.ts'
import { examineFile } from '../../db/examine-file.ts'
import { migrations } from '../../migrations/index.ts'
import { aDesk, aDraft, aFolder, type TestDesk, tuesdayMorning } from './support/a-desk.ts'

const DAY_MS = 24 * 3_600_000
const onDay = (day: number): string => new Date(Date.parse(tuesdayMorning) + day * DAY_MS).toISOString()
const takeOrder = ({ ask }: TestDesk) => ask.takeOrder({ draft: aDraft(), standing: 'asked-about', promisedFor: null })

/** Copies in the stick's folder of this shop, newest first. */
const copiesOn = (stick: string): string[] =>
  readdirSync(stick)
    .filter((name) => name.startsWith('out-of-clamps-'))
    .flatMap((name) => readdirSync(join(stick, name)))
    .sort()
    .reverse()

const said = async ({ ask }: TestDesk): Promise<string> =>
  (await ask.shopState()).inTheWay.map(({ code, message }) => `${code}: ${message}`).join('\n')

async function aShopWithStick(): Promise<TestDesk & { readonly stick: string }> {
  const [shop, stick] = [await aDesk(), aFolder()]
  await takeOrder(shop)
  await shop.ask.nameCopiesFolder({ folder: stick })
  return { ...shop, stick }
}

test('naming a folder copies the newest backup there at once, sound and byte for byte', async () => {
  const { folder, stick, ask } = await aShopWithStick()
  const [backup] = namedBackups(join(folder, 'shop.sqlite'))
  expect(copiesOn(stick)).toEqual([backup!.name])
  const [inside] = readdirSync(stick)
  const copy = join(stick, inside!, backup!.name)
  expect(readFileSync(copy).equals(readFileSync(backup!.path))).toBe(true)
  expect(examineFile(copy, Object.keys(migrations), 'whole')).toMatchObject({ kind: 'sound', commissions: 1 })
  expect(await ask.copiesElsewhere()).toMatchObject({ folder: stick, isThere: true, isUpToDate: true, problems: [] })
})

test('every backup made later is copied there, closing included, and thinned by the rule of the backups', async () => {
  const shop = await aShopWithStick()
  for (let day = 0; day < 20; day++) {
    await takeOrder(shop)
    await shop.setClock(onDay(day))
  }
  await takeOrder(shop)
  await shop.desk.close()
  const here = namedBackups(join(shop.folder, 'shop.sqlite')).map(({ name }) => name)
  expect(new Set(copiesOn(shop.stick))).toEqual(new Set(here))
  expect(here[0]).toMatch(/-closing/)
})

test('a stick that was away is told, and brought up to date by plugging it in', async () => {
  const shop = await aShopWithStick()
  const away = `${shop.stick}-away`
  renameSync(shop.stick, away)
  await takeOrder(shop)
  await shop.setClock(onDay(2))
  expect(await said(shop)).toContain(`copies-missing: The folder for copies is not there: ${shop.stick}`)
  expect(await said(shop)).not.toContain('over two weeks')
  renameSync(away, shop.stick)
  await shop.setClock(onDay(3))
  expect(await said(shop)).toBe('')
  expect(copiesOn(shop.stick)[0]).toBe(namedBackups(join(shop.folder, 'shop.sqlite'))[0]!.name)
})

test('a last good copy of more than two weeks ago is told, with its day', async () => {
  const shop = await aShopWithStick()
  rmSync(shop.stick, { recursive: true })
  await takeOrder(shop)
  await shop.setClock(onDay(13))
  expect(await said(shop)).toMatch(/^copies-missing/)
  await shop.setClock(onDay(15))
  expect(await said(shop)).toMatch(
    /^copies-old: Your last copy elsewhere is over two weeks old\..*Last good copy: .*Mar 3/,
  )
})

test('a stick that was plugged out with everything on it is no news', async () => {
  const shop = await aShopWithStick()
  rmSync(shop.stick, { recursive: true })
  await shop.setClock(onDay(30))
  expect(await said(shop)).toBe('')
})

test('a copy that fails is told and takes no older copy with it', async () => {
  const shop = await aShopWithStick()
  const before = copiesOn(shop.stick)
  const [inside] = readdirSync(shop.stick)
  // A folder in the place of the copy's name, in whichever second of a minute it is made: it cannot be put in place.
  await takeOrder(shop)
  for (let second = 0; second < 60; second++) {
    const blocked = new Date(Date.parse(onDay(2)) + second * 1000).toISOString().replace(/[-:]|\.\d+/g, '')
    mkdirSync(join(shop.stick, inside!, `shop-${blocked}-daily.sqlite`, 'in-the-way'), { recursive: true })
  }
  writeFileSync(join(shop.stick, inside!, 'notes.txt'), 'mine')
  await shop.setClock(onDay(2))
  expect(await said(shop)).toContain('No copy could be made in')
  expect(copiesOn(shop.stick)).toEqual(expect.arrayContaining([...before, 'notes.txt']))
  expect(copiesOn(shop.stick).some((name) => name.startsWith('unfinished'))).toBe(false)
})

test('copies of another shop in the same folder are left alone and can be opened on this computer', async () => {
  const first = await aShopWithStick()
  await first.desk.close()
  const other = await aDesk()
  await other.ask.nameCopiesFolder({ folder: first.stick })
  expect(readdirSync(first.stick)).toHaveLength(2)
  const view = await other.ask.copiesElsewhere()
  const theirs = view.folder === null ? undefined : view.copies.find(({ commissions }) => commissions === 1)
  await other.ask.openCopyElsewhere({ file: theirs!.file })
  expect((await other.ask.orderBook()).open).toHaveLength(1)
})

test('a damaged order book is replaced by a copy from the stick', async () => {
  const first = await aShopWithStick()
  await first.desk.close()
  rmSync(join(first.folder, 'backups'), { recursive: true })
  writeFileSync(join(first.folder, 'shop.sqlite'), 'Dear customer\n'.repeat(900))
  const again = await aDesk({ folder: first.folder })
  expect((await again.ask.shopState()).trouble).not.toBeNull()
  const view = await again.ask.copiesElsewhere()
  await again.ask.openCopyElsewhere({ file: view.folder === null ? '' : view.copies[0]!.file })
  expect((await again.ask.shopState()).trouble).toBeNull()
  expect((await again.ask.orderBook()).open).toHaveLength(1)
})

test.each([
  ['', 'too-small'],
  ['stick', 'bad-input'],
  ['/no/such/stick', 'folder-missing'],
])('the folder “%s” is refused at its field', async (folder, code) => {
  const shop = await aDesk()
  expect(await shop.call.nameCopiesFolder({ folder })).toMatchObject({
    ok: false,
    problems: [{ code, field: 'folder' }],
  })
})

test('the data folder itself, or one in it, is refused', async () => {
  const shop = await aDesk()
  for (const folder of [shop.folder, join(shop.folder, 'backups')])
    expect(await shop.call.nameCopiesFolder({ folder })).toMatchObject({ problems: [{ code: 'folder-inside' }] })
})

test('no path of a page’s own making is ever opened as a copy', async () => {
  const shop = await aShopWithStick()
  for (const file of ['../shop.sqlite', join(shop.folder, 'shop.sqlite'), 'out-of-clamps-00000000/shop.sqlite'])
    expect(await shop.call.openCopyElsewhere({ file })).toMatchObject({ problems: [{ code: 'backup-missing' }] })
})

test('what is kept of the folder survives closing, and forgetting it copies no more', async () => {
  const shop = await aShopWithStick()
  await shop.desk.close()
  const again = await aDesk({ folder: shop.folder })
  expect(await again.ask.copiesElsewhere()).toMatchObject({ folder: shop.stick, isUpToDate: true })
  await again.ask.forgetCopiesFolder()
  await takeOrder(again)
  await again.ask.backupNow()
  expect(copiesOn(shop.stick)).toHaveLength(1)
  expect(await again.ask.copiesElsewhere()).toMatchObject({ folder: null })
})

test('backups made while the clock was ahead stop no copies once it is put right', async () => {
  const shop = await aShopWithStick()
  await takeOrder(shop)
  await shop.setClock(onDay(3_650))
  expect(copiesOn(shop.stick)[0]).toMatch(/^shop-2036/)
  await shop.setClock(onDay(1))
  await takeOrder(shop)
  await shop.setClock(onDay(2))
  const [newest] = namedBackups(join(shop.folder, 'shop.sqlite')).filter(({ name }) => !name.startsWith('shop-2036'))
  // The clock runs on from where it was set.
  expect(newest?.madeAtMs).toBeGreaterThanOrEqual(Date.parse(onDay(2)))
  expect(newest?.madeAtMs).toBeLessThan(Date.parse(onDay(2)) + 60_000)
  expect(copiesOn(shop.stick)).toContain(newest!.name)
  expect(await shop.ask.copiesElsewhere()).toMatchObject({ isUpToDate: true, lastGoodAtMs: newest!.madeAtMs })
})

test('what the present book has that a copy there lacks is said before it is opened', async () => {
  const shop = await aShopWithStick()
  const { copies } = (await shop.ask.copiesElsewhere()) as { copies: readonly { file: string }[] }
  const { file } = copies[0]!
  expect(await shop.ask.copyElsewhereLacks({ file })).toEqual({ orders: [], entries: 0 })
  await takeOrder(shop)
  expect(await shop.ask.copyElsewhereLacks({ file })).toMatchObject({ orders: [{ number: 2 }], entries: 1 })
  expect(await shop.call.copyElsewhereLacks({ file: 'none' })).toMatchObject({
    ok: false,
    problems: [{ code: 'backup-missing' }],
  })
})

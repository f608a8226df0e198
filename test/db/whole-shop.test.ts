import { existsSync } from 'node:fs'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { type Kysely, sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { announcedStarts } from '../../db/announced.ts'
import { openBook } from '../../db/commissions.ts'
import { examineFile } from '../../db/examine-file.ts'
import { bringIn } from '../../db/whole-shop/bring-in.ts'
import { writeFormOfWholeShop, writeWholeShop } from '../../db/whole-shop/write.ts'
import { migrations } from '../../migrations/index.ts'
import { fillAsVersion } from './support/earlier-versions.ts'
import { everythingIn } from './support/everything.ts'
import { aShopPath, openShop, problemOf, valueOf } from './support/shop-files.ts'

const names = Object.keys(migrations)

/** A shop that has lived through these versions, with rows of each. */
async function aShopOf(count = names.length) {
  const path = aShopPath()
  for (let upTo = 1; upTo < count; upTo++) await (await filledAt(path, upTo)).close()
  return filledAt(path, count)
}

async function filledAt(path: string, count: number) {
  const shop = await openShop(path, { migrations: Object.fromEntries(Object.entries(migrations).slice(0, count)) })
  await fillAsVersion(shop.db as unknown as Kysely<unknown>, names[count - 1] ?? '')
  return shop
}

/** Brings a text in, where whoever opens it would read the book. */
const brought = (text: string, path: string) => bringIn(text, path, openBook)

/** The document with one thing changed, and without the checksum that would give it away. */
function changed(text: string, change: (shop: { tables: Record<string, Record<string, unknown>[]> }) => void): string {
  const shop = JSON.parse(text) as { tables: Record<string, Record<string, unknown>[]>; sha256?: string }
  delete shop.sha256
  change(shop)
  return JSON.stringify(shop)
}

describe('a whole shop as JSON', () => {
  test('is brought in with every row, and saved again it is the same to the last byte', async () => {
    const shop = await aShopOf()
    const text = await writeWholeShop(shop.db)
    const path = aShopPath()
    valueOf(await brought(text, path))
    const again = await openShop(path)
    expect(again.opened).toBe('as-it-was')
    expect(await writeWholeShop(again.db)).toBe(text)
    const leftOut = ['upkeep', 'kysely_migration', 'kysely_migration_lock']
    const rowsOf = async (db: typeof shop.db) =>
      Object.entries(await everythingIn(db)).filter(([table]) => !leftOut.includes(table))
    expect(await rowsOf(again.db)).toEqual(await rowsOf(shop.db))
    expect((await rowsOf(shop.db)).filter(([, rows]) => rows.length > 0).length).toBeGreaterThan(30)
  })

  test('that was saved without the starts that were planned is brought in all the same, and is planned anew', async () => {
    const shop = await aShopOf()
    const text = await writeWholeShop(shop.db)
    const path = aShopPath()
    valueOf(
      await brought(
        changed(text, ({ tables }) => delete tables['announced_start']),
        path,
      ),
    )
    const again = await openShop(path)
    expect(await announcedStarts(shop.db)).not.toEqual([])
    expect(await announcedStarts(again.db)).toEqual([])
  })

  test('fits its JSON Schema of draft 2020-12, by a validator that is not ours', async () => {
    const shop = await aShopOf()
    const schema = JSON.parse(await writeFormOfWholeShop(shop.db)) as { $schema: string }
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema')
    const fits = new Ajv2020({ strict: false, validateFormats: false }).compile(schema)
    const text = await writeWholeShop(shop.db)
    expect(fits(JSON.parse(text)), JSON.stringify(fits.errors)).toBe(true)
    for (const wrong of [
      changed(text, ({ tables }) => (tables['piece']![0]!['count'] = 'two')),
      changed(text, ({ tables }) => delete tables['customer']),
      changed(text, ({ tables }) => (tables['customer']![0]!['shoe_size'] = 9)),
    ])
      expect(fits(JSON.parse(wrong))).toBe(false)
  })

  test('of an earlier version is brought to this one', async () => {
    const earlier = await aShopOf(names.length - 1)
    const path = aShopPath()
    valueOf(await brought(await writeWholeShop(earlier.db), path))
    const { db } = await openShop(path)
    const { rows } = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db)
    expect(rows.map(({ name }) => name)).toEqual(names)
    expect(await db.selectFrom('customer').select('name').execute()).toEqual([{ name: 'Odile Marsh' }])
  })

  test.each([
    ['a photo', '\u0000\u0001PNG', 'import-foreign'],
    ['JSON of something else', '{"format":"address book"}', 'import-foreign'],
    ['nothing', '', 'import-foreign'],
  ])('%s is refused, and no file is left', async (_, text, code) => {
    const path = aShopPath()
    expect(problemOf(await brought(text, path)).code).toBe(code)
    expect(existsSync(path)).toBe(false)
  })

  test('what was damaged on the way is refused with the place, and no file is left', async () => {
    const text = await writeWholeShop((await aShopOf()).db)
    const cases: readonly (readonly [string, RegExp])[] = [
      [text.slice(0, text.length / 2), /breaks off/],
      [text.replace('Odile Marsh', 'Odile Marsj'), /not what was saved/],
      [changed(text, ({ tables }) => (tables['piece']![0]!['count'] = 1.5)), /tables › piece › 0 › count/],
      [changed(text, ({ tables }) => (tables['piece']![0]!['count'] = 0)), /CHECK/],
      [
        changed(text, ({ tables }) => (tables['piece']![0]!['spec'] = '{"a":')),
        /at tables › piece › 0 › spec: it is not/,
      ],
      [changed(text, ({ tables }) => (tables['log']![1]!['after'] = 'x')), /at tables › log › 1 › after: it is not/],
      [changed(text, ({ tables }) => (tables['customer'] = [])), /missing row of customer/],
      [changed(text, ({ tables }) => tables['paper']!.push(tables['paper']![0]!)), /UNIQUE/],
    ]
    for (const [wrong, said] of cases) {
      const path = aShopPath()
      const { code, message } = problemOf(await brought(wrong, path))
      expect(code).toBe('import-damaged')
      expect(message).toMatch(said)
      expect(existsSync(path)).toBe(false)
    }
  })

  test('one of a newer version is refused', async () => {
    const text = await writeWholeShop((await aShopOf()).db)
    const newer = text.replace(`"${names.at(-1)}"`, `"${names.at(-1)}","9999-next-year"`)
    expect(problemOf(await brought(newer, aShopPath())).code).toBe('import-newer')
  })

  test('a file that was brought in is a sound shop, checked whole', async () => {
    const path = aShopPath()
    valueOf(await brought(await writeWholeShop((await aShopOf()).db), path))
    expect(examineFile(path, names, 'whole')).toMatchObject({ kind: 'sound', commissions: 2 })
  })
})

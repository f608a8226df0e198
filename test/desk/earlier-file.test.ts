import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Kysely } from 'kysely'
import { expect, onTestFinished, test } from 'vitest'
import { openShopFile } from '../../db/connection.ts'
import { migrations } from '../../migrations/index.ts'
import { fillAsVersion } from '../db/support/earlier-versions.ts'
import { aDesk } from './support/a-desk.ts'

/** A shop's file as the version with the first nine migrations left it; its one piece has a spec that nobody can read today. */
async function anEarlierShop(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'out-of-clamps-earlier-'))
  onTestFinished(() => rm(folder, { recursive: true, force: true, maxRetries: 5 }))
  const known = Object.entries(migrations).slice(0, 9)
  for (const [at, [name]] of known.entries()) {
    const opened = await openShopFile(join(folder, 'shop.sqlite'), {
      clockMs: Date.now,
      migrations: Object.fromEntries(known.slice(0, at + 1)),
    })
    if (!opened.ok) throw new Error(opened.problems[0]?.message)
    await fillAsVersion(opened.value.db as unknown as Kysely<unknown>, name)
    await opened.value.close()
  }
  return folder
}

test('a piece whose spec cannot be read is shown by its title and steps, in the book and on its order', async () => {
  const { ask } = await aDesk({ folder: await anEarlierShop() })
  const [row] = (await ask.orderBook()).open
  expect(row).toMatchObject({ customer: 'Odile Marsh' })
  expect(row?.text).toContain('End-grain board')
  const order = await ask.commission({ id: row!.commissionId })
  expect(order.pieces[0]).toMatchObject({ input: {}, drawing: null })
  expect(order.pieces[0]?.steps.length).toBeGreaterThan(0)
  await ask.bench({ rows: 24 })
  await ask.rack()
  await ask.timber({ askedAbout: false, lines: 24 })
})

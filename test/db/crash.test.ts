import { closeSync, existsSync, openSync, statSync, writeSync } from 'node:fs'
import { dirname } from 'node:path'
import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { openBook } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { drafts } from '../../db/drafts.ts'
import { folderBytes } from './support/folder-bytes.ts'
import { anOrder } from './support/orders.ts'
import { runProgram } from './support/programs.ts'
import { aShopPath, openShop, problemOf, START_MS } from './support/shop-files.ts'

const KILLS = 15
const oneOrder = anOrder('x')

test(`killed in the middle of writing ${KILLS} times: nothing that was answered is lost, nothing is there by half`, async () => {
  const path = aShopPath()
  const answered: string[] = []
  let lastDraft = ''
  for (let run = 0; run < KILLS; run++) {
    const writer = runProgram('write-orders.ts', path, `run${run}`)
    await writer.line((line) => line.startsWith('order '))
    // Another moment each time, spread over more than one whole round of writing.
    await new Promise((resume) => setTimeout(resume, run * 3))
    await writer.kill()
    const lines = writer.lines()
    expect(lines[0]).toBe('open')
    answered.push(...lines.filter((line) => !line.startsWith('draft')))
    lastDraft =
      lines
        .filter((line) => line.startsWith('draft'))
        .at(-1)
        ?.slice('draft '.length) ?? ''

    const shop = await openShop(path)
    const check = await sql<{ integrity_check: string }>`pragma integrity_check`.execute(shop.db)
    expect(check.rows).toEqual([{ integrity_check: 'ok' }])
    expect((await sql`pragma foreign_key_check`.execute(shop.db)).rows).toEqual([])

    const book = await openBook(shop.db)
    const orders = new Map(book.commissions.map((one) => [one.id, one.number]))
    const started = new Set(book.log.map((entry) => entry.stepId))
    for (const line of answered) {
      const [what, id = '', number] = line.split(' ')
      if (what === 'order') expect(orders.get(id)).toBe(Number(number))
      if (what === 'step') expect(started).toContain(`${id}-piece-first-glue-up`)
    }
    // An order is there with all that belongs to it, or not at all.
    for (const id of orders.keys()) {
      expect(book.steps.filter((step) => step.commissionId === id)).toHaveLength(oneOrder.steps.length)
      expect(book.lags.filter((lag) => lag.pieceId === `${id}-piece`)).toHaveLength(oneOrder.lags.length)
    }
    const logged = await shop.db
      .selectFrom('log')
      .select('commission_id')
      .where('action', '=', 'commission-taken')
      .execute()
    expect(new Set(logged.map((row) => row.commission_id))).toEqual(new Set(orders.keys()))
    // Numbers have no gap and none is given twice: what was not committed used none up.
    expect([...orders.values()]).toEqual(Array.from(orders, (_, at) => at + 1))
    // The draft is the last one that was answered, or the one that was just being saved.
    const typed = (await drafts(shop.db)).map((draft) => (draft.content as { typed: string }).typed)
    const [name, count = ''] = lastDraft.split('-')
    expect([lastDraft, `${name}-${Number(count) + 1}`]).toContain(typed[0])
    await shop.close()
  }
  expect(answered.filter((line) => line.startsWith('order ')).length).toBeGreaterThanOrEqual(KILLS)
})

test('a file that was left with its write-ahead log and then damaged is refused, and neither is written to', async () => {
  const path = aShopPath()
  const writer = runProgram('write-orders.ts', path, 'run')
  await writer.line((line) => line.startsWith('step '))
  await writer.kill()
  expect(statSync(`${path}-wal`).size).toBeGreaterThan(0)
  // Both, as the log holds newer copies of most pages.
  for (const name of [path, `${path}-wal`]) {
    const file = openSync(name, 'r+')
    writeSync(file, Buffer.alloc(6000, 0x5a), 0, 6000, 30)
    closeSync(file)
  }
  const before = folderBytes(dirname(path))
  expect(problemOf(await openShopFile(path, { clockMs: () => START_MS })).code).toBe('file-damaged')
  const after = folderBytes(dirname(path))
  // The index of the log is shared memory, made anew by every reader.
  delete before['shop.sqlite-shm']
  delete after['shop.sqlite-shm']
  expect(after).toEqual(before)
  expect(existsSync(path)).toBe(true)
})

import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { announce, announcedStarts } from '../../db/announced.ts'
import { addCommission, changeCommission } from '../../db/commissions.ts'
import { draftById, drafts, dropDraft, saveDraft } from '../../db/drafts.ts'
import { forgetNoticesBefore, markShown, noticesShown } from '../../db/notices.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }

test('a draft is always the last thing typed, and knows when it was begun', async () => {
  const { db, path, close } = await openShop()
  for (const [at, name] of ['O', 'Od', 'Odi', 'Odile "Ö" \u2028😀'].entries())
    await saveDraft(db, { id: 'd1', content: { name, pieces: [null, { deep: [at] }] } }, START_MS + at)
  await saveDraft(db, { id: 'd2', content: null }, START_MS - 5)
  await close()
  const again = await openShop(path)
  expect(await drafts(again.db)).toEqual([
    {
      id: 'd1',
      begunAtMs: START_MS,
      savedAtMs: START_MS + 3,
      content: { name: 'Odile "Ö" \u2028😀', pieces: [null, { deep: [3] }] },
    },
    { id: 'd2', begunAtMs: START_MS - 5, savedAtMs: START_MS - 5, content: null },
  ])
  await dropDraft(again.db, 'd1')
  expect(await draftById(again.db, 'd1')).toBeNull()
  expect(await drafts(again.db)).toHaveLength(1)
})

test('a notice counts as shown after a restart, until it is long over', async () => {
  const { db, path, close } = await openShop()
  await markShown(db, ['a', 'b'], START_MS)
  await markShown(db, ['b', 'c'], START_MS + 10)
  await markShown(db, [], START_MS)
  await close()
  const again = await openShop(path)
  expect(await noticesShown(again.db, ['a', 'b', 'c', 'd'], START_MS + 10)).toEqual(new Set(['a', 'b', 'c']))
  expect(await noticesShown(again.db, [], START_MS)).toEqual(new Set())
  await markShown(again.db, ['d'], START_MS)
  await forgetNoticesBefore(again.db, START_MS + 1, ['d'])
  expect(await noticesShown(again.db, ['a', 'b', 'c', 'd'], START_MS + 10)).toEqual(new Set(['c', 'd']))
})

test('a notice that was shown while the clock was a week ahead comes again once it is right', async () => {
  const { db } = await openShop()
  const weekMs = 7 * 24 * 3_600_000
  await markShown(db, ['a'], START_MS + weekMs)
  expect(await noticesShown(db, ['a'], START_MS + weekMs)).toEqual(new Set(['a']))
  expect(await noticesShown(db, ['a'], START_MS)).toEqual(new Set())
  await markShown(db, ['a'], START_MS)
  expect(await noticesShown(db, ['a'], START_MS)).toEqual(new Set(['a']))
})

test('what was announced is replaced whole, and goes with its step', async () => {
  const { db } = await openShop()
  await addCommission(db, anOrder(), stamp)
  await announce(db, [
    { step: 'order-1-piece-coat', start: 20 },
    { step: 'order-1-piece-flatten', start: 10 },
    { step: 'gone-meanwhile', start: 5 },
  ])
  expect(await announcedStarts(db)).toEqual([
    { step: 'order-1-piece-flatten', start: 10 },
    { step: 'order-1-piece-coat', start: 20 },
  ])
  // What stays as it was is not written again.
  const writes = async () => (await sql<{ n: number }>`select total_changes() as n`.execute(db)).rows[0]!.n
  const written = await writes()
  await announce(db, [
    { step: 'order-1-piece-flatten', start: 10 },
    { step: 'order-1-piece-coat', start: 30 },
  ])
  expect((await writes()) - written).toBe(1)
  expect((await announcedStarts(db)).at(-1)).toEqual({ step: 'order-1-piece-coat', start: 30 })
  const withoutCoat = await changeCommission(
    db,
    'order-1',
    'commission-changed',
    (order) => ({ ...order, steps: order.steps.slice(0, 3), lags: order.lags.slice(0, 2) }),
    stamp,
  )
  valueOf(withoutCoat)
  expect(await announcedStarts(db)).toEqual([{ step: 'order-1-piece-flatten', start: 10 }])
  await announce(db, [])
  expect(await announcedStarts(db)).toEqual([])
})

import { forecastOf } from '../../desk/planner/forecast.ts'
import { sql } from 'kysely'
import { join } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { ok } from '../../core/problems.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { openShopFile } from '../../db/connection.ts'
import { settableClock } from '../../desk/clock.ts'
import { OpenShop } from '../../desk/open-shop.ts'
import { answer, type Reply } from '../../desk/procedure.ts'
import type { DeskContext } from '../../desk/in-shop.ts'
import { procedures } from '../../desk/procedures.ts'
import { aDraft, aFolder, aPiece, tuesdayMorning } from './support/a-desk.ts'

/**
 * The file may grow by so many pages and no further: SQLite then refuses as on a full disk (SQLITE_FULL), at exactly the
 * page that is wanted and on any machine, which a small file system mounted for the test would need rights for.
 */
async function aShopWithRoom() {
  const clock = settableClock(Date.parse(tuesdayMorning))
  const opened = await openShopFile(join(aFolder(), 'shop.sqlite'), { clockMs: () => clock.nowMs() })
  if (!opened.ok) throw new Error(opened.problems[0]?.message)
  const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
  const options = {
    clock,
    search: null,
    tell: () => undefined,
    demo: false,
    locale: 'en-US',
    starting,
    forecast: forecastOf,
  }
  const shop = await OpenShop.open(opened.value, options)
  onTestFinished(() => shop.close())
  const pragma = async (text: string): Promise<number> => {
    const { rows } = await sql.raw<Record<string, number>>(`pragma ${text}`).execute(shop.db)
    return Object.values(rows[0] ?? {})[0] ?? 0
  }
  const context = { shop: () => ok(shop) } as unknown as DeskContext
  return {
    shop,
    call: (name: string, input: unknown): Promise<Reply<unknown>> =>
      answer(procedures, context, name, input, { logFault: () => undefined }),
    room: async (pages: number) => pragma(`max_page_count = ${(await pragma('page_count')) + pages}`),
  }
}

const customers = async (shop: OpenShop) =>
  (await orderBookRows(shop.db)).map(({ commission }) => commission.customer.name)

test('at every level of a full disk an order is either taken and in the book, or told as not kept and not in it', async () => {
  const { shop, call, room } = await aShopWithRoom()
  let [taken, refused] = [0, 0]
  for (let pages = 0; pages < 24; pages++) {
    const name = `Customer ${pages}`
    const draft = aDraft({ customer: { ...aDraft().customer, name }, notes: 'n'.repeat(1900), pieces: [aPiece()] })
    await room(pages)
    const reply = await call('takeOrder', { draft, standing: 'agreed', promisedFor: null })
    await room(10_000)
    const there = (await customers(shop)).includes(name)
    if (reply.ok) taken++
    else {
      refused++
      expect(reply.problems.map(({ code }) => code)).toEqual(['disk-full'])
      expect(reply.problems[0]?.message).toContain('nothing of this was kept')
    }
    expect({ pages, there }).toEqual({ pages, there: reply.ok })
    expect(shop.book.commissions.some(({ customer }) => customer.name === name)).toBe(reply.ok)
  }
  expect(taken).toBeGreaterThan(0)
  expect(refused).toBeGreaterThan(0)
})

test('when the room runs out after the order is kept, the order is told as taken', async () => {
  const { shop, call, room } = await aShopWithRoom()
  const draft = aDraft()
  await room(10_000)
  // What is announced for today and tomorrow is written after the order; it is refused, as a full disk would.
  await sql`create trigger no_room before insert on announced_start begin select raise(abort, 'no room'); end`.execute(
    shop.db,
  )
  const reply = await call('takeOrder', { draft, standing: 'agreed', promisedFor: null })
  expect(reply).toMatchObject({ ok: true })
  expect(await customers(shop)).toEqual(['Ada Quist'])
  expect(shop.planned?.plan.steps.length).toBeGreaterThan(0)
})

test('a press that is kept and cannot be read back is told as kept, stands there until it can be', async () => {
  const { shop, call } = await aShopWithRoom()
  const draft = aDraft({ pieces: [aPiece()] })
  expect((await call('takeOrder', { draft, standing: 'agreed', promisedFor: null })).ok).toBe(true)
  const stepId = shop.book.steps[0]!.id
  onTestFinished(() => void vi.restoreAllMocks())
  vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const reading = vi.spyOn(shop, 'readAgain').mockRejectedValueOnce(new Error('disk I/O error'))
  expect(await call('stepStart', { stepId, makerId: null, anyway: true })).toMatchObject({
    ok: true,
    value: { datesFollow: true },
  })
  expect(await call('caughtUp', {})).toMatchObject({ ok: true })
  expect(reading).toHaveBeenCalledOnce()
  expect(shop.inTheWay()).toMatchObject([{ code: 'kept-but-not-shown' }])
  expect(await call('stepPause', { stepId })).toMatchObject({ ok: false, problems: [{ code: 'not-running' }] })
  // A few seconds later it is tried again.
  await shop.tick()
  expect(shop.inTheWay()).toEqual([])
  expect(await call('stepPause', { stepId })).toMatchObject({ ok: true })
})

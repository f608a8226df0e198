import SqliteFile from 'better-sqlite3'
import fc from 'fast-check'
import { Kysely } from 'kysely'
import { expect, onTestFinished, test } from 'vitest'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import type { SupplyUse } from '../../core/timber/consumables-used.ts'
import { addCommission, bookOfCommissions, changeCommission, type NewOrder } from '../../db/commissions.ts'
import type { Database, Db } from '../../db/schema.ts'
import { ShopDialect } from '../../db/shop-dialect.ts'
import { lastEntryAt, logStep } from '../../db/steps.ts'
import { takeBack } from '../../db/undo.ts'
import { suppliesTaken } from '../../desk/lumber/supplies-taken.ts'
import { suppliesUsed } from '../../desk/lumber/supplies-used.ts'
import { anOrder } from '../db/support/orders.ts'
import { openShop, START_MS, valueOf } from '../db/support/shop-files.ts'

const DAY_MS = 24 * 3_600_000
const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const board = constructionOf('end-grain-board')!
const spec = valueOf(board.read(board.starting('inch'), 'inch', shopFactsOf(almanac, START_MS / 60_000, null)))

/** An order whose steps take glue, feet and finish. */
function taking(name: string): NewOrder {
  const order = anOrder(name)
  const operations = ['glue-up-panel', 'release-clamps', 'glue-up-slices', 'flatten-end-grain']
  return {
    ...order,
    pieces: order.pieces.map((piece) => ({ ...piece, spec })),
    steps: order.steps.map((step, at) => ({ ...step, operation: operations[at]! })),
  }
}

const STEPS = taking('a').steps.map(({ key }) => key)

/** Everything that all orders have taken since then, read anew and all at once. */
async function readAnew(db: Db, facts: Almanac, sinceMs: number): Promise<readonly SupplyUse[]> {
  const ids = (await db.selectFrom('commission').select('id').execute()).map(({ id }) => id)
  return suppliesUsed(await bookOfCommissions(db, ids), facts).filter(({ atMin }) => atMin * 60_000 >= sinceMs)
}

const inOrder = (uses: readonly SupplyUse[], sinceMs: number) =>
  uses
    .filter(({ atMin }) => atMin * 60_000 >= sinceMs)
    .map(({ product, amount, atMin }) => [atMin, product, amount] as const)
    .sort((a, b) => a[0] - b[0] || a[1].localeCompare(b[1]) || a[2] - b[2])

interface Act {
  readonly what: 'done' | 'undo' | 'close' | 'order' | 'almanac'
  readonly order: string
  readonly step: string
  readonly days: number
  /** Since how many days ago is asked for; null: nobody asks. */
  readonly since: number | null
}

const acts = fc.array(
  fc.record<Act>({
    what: fc.constantFrom('done', 'done', 'done', 'done', 'undo', 'undo', 'close', 'order', 'almanac'),
    order: fc.constantFrom('a', 'b'),
    step: fc.constantFrom(...STEPS),
    days: fc.constantFrom(0, 0, 0, -40, -3),
    since: fc.constantFrom(null, 0, 1, 20, 400),
  }),
  { minLength: 8, maxLength: 24 },
)

test('what is kept of what steps have taken is what is read anew, whatever is done, undone, closed and changed', async () => {
  await fc.assert(
    fc.asyncProperty(acts, async (all: readonly Act[]) => {
      const { db, close } = await openShop()
      const shop = { db, almanac }
      for (const name of ['a', 'b']) await addCommission(db, taking(name), { atMs: START_MS, makerId: null })
      valueOf(await logStep(db, 'a-piece-first-glue-up', { kind: 'done' }, { atMs: START_MS, makerId: null }))
      expect((await suppliesTaken(shop, 0)).length).toBeGreaterThan(0)
      for (const [at, { what, order, step, days, since }] of all.entries()) {
        const stamp = { atMs: START_MS + at * 60_000, makerId: null }
        const stepId = `${order}-piece-${step}`
        const last = await lastEntryAt(db, stepId)
        if (what === 'done')
          valueOf(await logStep(db, stepId, { kind: 'done' }, { ...stamp, atMs: stamp.atMs + days * DAY_MS }))
        else if (what === 'undo') await (last === null ? null : takeBack(db, last, stamp))
        else if (what === 'order') await addCommission(db, taking(`more-${at}`), stamp)
        else if (what === 'almanac') shop.almanac = { ...shop.almanac }
        else
          await changeCommission(
            ...[db, order, 'commission-handed-over'],
            ({ commission, ...rest }) => ({ ...rest, commission: { ...commission, standing: 'handed-over' } }),
            stamp,
          )
        if (since === null) continue
        const sinceMs = START_MS - since * DAY_MS
        const taken = await suppliesTaken(shop, sinceMs)
        expect(inOrder(taken, sinceMs)).toEqual(inOrder(await readAnew(db, shop.almanac, sinceMs), sinceMs))
        expect(taken.map(({ atMin }) => atMin)).toEqual(taken.map(({ atMin }) => atMin).sort((a, b) => a - b))
      }
      await close()
    }),
    { numRuns: 12 },
  )
}, 300_000)

test('of fifty orders one is read again after a press at it, and none when nothing was written', async () => {
  const opened = await openShop()
  const stamp = { atMs: START_MS, makerId: null }
  for (let at = 0; at < 50; at++) {
    await addCommission(opened.db, taking(`o${at}`), stamp)
    valueOf(await logStep(opened.db, `o${at}-piece-first-glue-up`, { kind: 'done' }, stamp))
  }
  await opened.close()
  const asked: { readonly sql: string; readonly parameters: readonly unknown[] }[] = []
  const db = new Kysely<Database>({
    dialect: new ShopDialect(new SqliteFile(opened.path)),
    log: ({ query: { sql, parameters } }) => void asked.push({ sql, parameters }),
  })
  onTestFinished(() => db.destroy())
  /** Orders whose steps were read. */
  const ordersRead = (): number =>
    asked
      .splice(0)
      .filter(({ sql }) => /^select .* from "step" /.test(sql))
      .reduce(
        (most, { parameters }) => most + new Set(parameters.filter((each) => /^o\d+$/.test(String(each)))).size,
        0,
      )
  const shop = { db, almanac }
  const all = await suppliesTaken(shop, 0)
  expect(ordersRead()).toBe(50)
  expect(await suppliesTaken(shop, 0)).toBe(all)
  expect(ordersRead()).toBe(0)
  valueOf(await logStep(db, 'o3-piece-release', { kind: 'started' }, stamp))
  asked.splice(0)
  // It took nothing.
  expect(await suppliesTaken(shop, 0)).toBe(all)
  expect(ordersRead()).toBe(1)
  await takeBack(db, (await lastEntryAt(db, 'o4-piece-first-glue-up'))!, stamp)
  asked.splice(0)
  expect((await suppliesTaken(shop, 0)).length).toBeLessThan(all.length)
  expect(ordersRead()).toBe(1)
})

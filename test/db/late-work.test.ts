import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addCommission, changeCommission, openBook } from '../../db/commissions.ts'
import { erasePerson } from '../../db/erase-person.ts'
import { LateWork } from '../../db/late-work.ts'
import { lastEntryId, latestEntries, type Stamp } from '../../db/log.ts'
import { personInBook } from '../../db/person.ts'
import type { Db } from '../../db/schema.ts'
import { lastEntryAt, logStep } from '../../db/steps.ts'
import { takeBack } from '../../db/undo.ts'
import { workLogged } from '../../db/work-logged.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS, valueOf } from './support/shop-files.ts'

const DAY_MS = 24 * 3_600_000
const STEPS = anOrder('a')
  .steps.slice(0, 2)
  .map(({ key }) => key)
const ORDERS = ['a', 'b'] as const

interface Press {
  readonly what: 'work' | 'undo' | 'close' | 'open'
  readonly order: string
  readonly step: string
  /** The clock may have been put back, and what is entered later may be of long ago. */
  readonly days: number
  /** Whether the book is read after it, or not before another one. */
  readonly look: boolean
}

const presses = fc.array(
  fc.record<Press>({
    what: fc.constantFrom('work', 'work', 'work', 'undo', 'undo', 'close', 'open'),
    order: fc.constantFrom(...ORDERS),
    step: fc.constantFrom(...STEPS),
    days: fc.constantFrom(0, 0, 0, 0, -70, -1, 1, 70),
    look: fc.constantFrom(true, true, false),
  }),
  { minLength: 10, maxLength: 30 },
)

test('what is read on, press by press, is what is read anew, whatever is pressed, taken back, closed and opened again', async () => {
  await fc.assert(
    fc.asyncProperty(presses, async (all: readonly Press[]) => {
      const { db, close } = await openShop()
      const begun = { atMs: START_MS, makerId: null }
      await addCommission(db, anOrder('a'), begun)
      await addCommission(db, anOrder('b', { standing: 'handed-over' }), begun)
      const kept = new LateWork()
      await openBook(db, kept)
      for (const [at, { what, order, step, days, look }] of all.entries()) {
        const stamp = { atMs: START_MS + at * 60_000, makerId: null }
        const stepId = `${order}-piece-${step}`
        const last = await lastEntryAt(db, stepId)
        if (what === 'work')
          valueOf(await logStep(db, stepId, { kind: 'started' }, { ...stamp, atMs: stamp.atMs + days * DAY_MS }))
        else if (what === 'undo') await (last === null ? null : takeBack(db, last, stamp))
        else await stand(db, order, what === 'open' ? 'agreed' : 'handed-over', stamp)
        if (!look) continue
        const book = await openBook(db, kept)
        expect(book).toEqual(await openBook(db))
        const open = new Set(book.steps.map(({ id }) => id))
        const [{ atMs } = { atMs: 0 }] = await latestEntries(db, 1)
        const fromMin = (Math.floor(atMs / DAY_MS) - 62) * 1440
        const { entries } = await workLogged(db)
        expect(book.latelySince).toBe(fromMin)
        expect(book.lately).toEqual(entries.filter(({ stepId, atMin }) => !open.has(stepId) && atMin >= fromMin))
      }
      await close()
    }),
    { numRuns: 20 },
  )
})

test('a press at an open order leaves the late work of closed ones the same object; one at a closed order does not', async () => {
  const { db } = await openShop()
  const stamp = { atMs: START_MS, makerId: null }
  await addCommission(db, anOrder('open'), stamp)
  await addCommission(db, anOrder('closed', { standing: 'handed-over' }), stamp)
  valueOf(await logStep(db, 'closed-piece-first-glue-up', { kind: 'started' }, stamp))
  const kept = new LateWork()
  const { lately } = await openBook(db, kept)
  expect(lately).toHaveLength(1)
  valueOf(await logStep(db, 'open-piece-first-glue-up', { kind: 'started' }, stamp))
  expect((await openBook(db, kept)).lately).toBe(lately)
  await takeBack(db, await lastEntryId(db), stamp)
  expect((await openBook(db, kept)).lately).toBe(lately)
  valueOf(await logStep(db, 'closed-piece-first-glue-up', { kind: 'done' }, stamp))
  expect((await openBook(db, kept)).lately).toHaveLength(2)
})

test('what is written while it is read is in it once, then and the next time', async () => {
  const { db } = await openShop()
  const stamp = { atMs: START_MS, makerId: null }
  await addCommission(db, anOrder('closed', { standing: 'handed-over' }), stamp)
  const press = async (kind: 'started' | 'paused') =>
    valueOf(await logStep(db, 'closed-piece-first-glue-up', { kind }, stamp))
  const kept = new LateWork()
  // However far the reading is when it is written.
  for (let turns = 0; turns < 40; turns++) {
    await press('started')
    const reading = kept.besides(db, [])
    for (let turn = 0; turn < turns; turn++) await Promise.resolve()
    await Promise.all([press('paused'), reading])
    expect(await kept.besides(db, [])).toEqual(await new LateWork().besides(db, []))
  }
})

test('once a person was erased from the log, nothing of what was read before is gone on with', async () => {
  const { db } = await openShop()
  const stamp = { atMs: START_MS, makerId: null }
  await addCommission(db, anOrder('closed', { standing: 'handed-over' }), stamp)
  await addCommission(db, anOrder('open'), stamp)
  valueOf(await logStep(db, 'closed-piece-first-glue-up', { kind: 'started' }, stamp))
  const kept = new LateWork()
  const before = (await openBook(db, kept)).lately
  await erasePerson(db, await personInBook(db, ['closed-customer']), { fromPapersKeptByLaw: true }, stamp)
  const { lately } = await openBook(db, kept)
  expect(lately).toEqual(before)
  expect(lately?.[0]).not.toBe(before?.[0])
})

const stand = (db: Db, id: string, standing: 'agreed' | 'handed-over', stamp: Stamp) =>
  changeCommission(
    db,
    id,
    standing === 'agreed' ? 'commission-reopened' : 'commission-handed-over',
    ({ commission, ...rest }) => ({ ...rest, commission: { ...commission, standing } }),
    stamp,
  )

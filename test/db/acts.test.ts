import { expect, test } from 'vitest'
import { addCommission, changeCommission, openBook } from '../../db/commissions.ts'
import { entriesOf } from '../../db/log.ts'
import type { Db } from '../../db/schema.ts'
import { logStep } from '../../db/steps.ts'
import { lastRedoable, lastUndoable, takeBack } from '../../db/undo.ts'
import { everythingIn } from './support/everything.ts'
import { anOrder } from './support/orders.ts'
import { openShop, problemOf, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: 'maker' }
const GLUE_UP = 'order-1-piece-first-glue-up'

/** Two presses at two steps that are one act. */
async function anAct(db: Db): Promise<number> {
  const { steps } = await openBook(db)
  const other = steps.find(({ id }) => id !== GLUE_UP)!.id
  const first = valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp, { note: 'slipped' }))
  valueOf(await logStep(db, other, { kind: 'started' }, stamp, { act: first }))
  return first
}

test('entries of one act are taken back together and put back together, whichever is named', async () => {
  const { db } = await openShop()
  await addCommission(db, anOrder(), stamp)
  const before = (await openBook(db)).log
  const act = await anAct(db)
  const after = (await openBook(db)).log
  expect(after).toHaveLength(2)
  expect((await entriesOf(db, 'order-1')).find(({ id }) => id === act)).toMatchObject({ note: 'slipped', act })
  valueOf(await takeBack(db, (await lastUndoable(db))!.id, stamp))
  expect((await openBook(db)).log).toEqual(before)
  valueOf(await takeBack(db, (await lastRedoable(db))!.id, stamp))
  expect((await openBook(db)).log).toEqual(after)
  valueOf(await takeBack(db, act, stamp))
  expect((await openBook(db)).log).toEqual(before)
})

test('an act of which one entry cannot be taken back stays whole', async () => {
  const { db } = await openShop()
  await addCommission(db, anOrder(), stamp)
  const act = await anAct(db)
  valueOf(await logStep(db, GLUE_UP, { kind: 'paused' }, stamp))
  const before = await everythingIn(db)
  expect(problemOf(await takeBack(db, act, stamp)).code).toBe('changed-since')
  expect(await everythingIn(db)).toEqual(before)
})

test('a step whose result is lost is kept as such, and comes back with undo', async () => {
  const { db } = await openShop()
  await addCommission(db, anOrder(), stamp)
  valueOf(
    await changeCommission(
      ...([db, 'order-1', 'commission-changed'] as const),
      (order) => ({
        ...order,
        steps: order.steps.map((step) => (step.id === GLUE_UP ? { ...step, lost: true } : step)),
      }),
      stamp,
    ),
  )
  const lost = async () => (await openBook(db)).steps.filter((step) => step.lost).map(({ id }) => id)
  expect(await lost()).toEqual([GLUE_UP])
  valueOf(await takeBack(db, (await lastUndoable(db))!.id, stamp))
  expect(await lost()).toEqual([])
})

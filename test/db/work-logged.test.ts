import { expect, test } from 'vitest'
import { addCommission } from '../../db/commissions.ts'
import { logStep } from '../../db/steps.ts'
import { gluedAndLots, newestWorkLogged, piecesBegun, workLogged, workLoggedSince } from '../../db/work-logged.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS } from './support/shop-files.ts'

const HOUR_MS = 3_600_000
const at = (hour: number) => ({ atMs: START_MS + hour * HOUR_MS, makerId: null })
const between = () => Promise.resolve()
const glueUp = (order: number) => `o${order}-piece-first-glue-up`

/** Five orders; the glue-up of each is worked on for an hour, one after the other. */
async function worked() {
  const { db } = await openShop()
  for (let order = 0; order < 5; order++) {
    await addCommission(db, anOrder(`o${order}`), at(2 * order))
    await logStep(db, glueUp(order), { kind: 'started' }, at(2 * order))
    await logStep(db, glueUp(order), { kind: 'done' }, at(2 * order + 1))
  }
  return db
}

test('the newest work comes with every entry about its steps, and says since when', async () => {
  const db = await worked()
  const { steps, entries, since } = await newestWorkLogged(db, 3, between)
  // Two entries about the last glue-up, one about the one before it, which brings its start along.
  expect(steps.map(({ id }) => id)).toEqual([glueUp(3), glueUp(4)])
  expect(entries.map(({ stepId, action }) => [stepId, action.kind])).toEqual([
    [glueUp(3), 'started'],
    [glueUp(3), 'done'],
    [glueUp(4), 'started'],
    [glueUp(4), 'done'],
  ])
  expect(since).toBe((START_MS + 6 * HOUR_MS) / 60_000)
  expect(await piecesBegun(db, [glueUp(3), glueUp(4)], between)).toBe(2)
  expect([...(await gluedAndLots(db, [glueUp(3), glueUp(4)], between)).lotOf.keys()]).toEqual([glueUp(3), glueUp(4)])
})

test('all of it is everything, and has no day before which anything is left out', async () => {
  const db = await worked()
  const all = await workLogged(db)
  expect(all.since).toBeNull()
  expect(all.steps).toHaveLength(5)
  expect(await newestWorkLogged(db, 1000, between)).toEqual(all)
})

test('the work since an entry is whole steps that something was written about after it', async () => {
  const db = await worked()
  const all = await workLogged(db)
  const after = all.entries.find(({ stepId, action }) => stepId === glueUp(3) && action.kind === 'started')!.id
  const { steps, entries, since } = await workLoggedSince(db, after)
  expect(steps.map(({ id }) => id)).toEqual([glueUp(3), glueUp(4)])
  expect(entries).toEqual(all.entries.filter(({ stepId }) => [glueUp(3), glueUp(4)].includes(stepId)))
  expect(since).toBeNull()
})

test('the newest work of many steps is read in parts, between which others have their turn, and is the newest of everything', async () => {
  const { db } = await openShop()
  const order = anOrder('o')
  const [one] = order.steps
  const steps = Array.from({ length: 850 }, (_, at) => ({
    ...{ ...one!, id: `step-${at}`, key: `step-${at}`, name: `Step ${at}`, position: at, holds: [] },
  }))
  await addCommission(db, { ...order, steps, lags: [] }, at(0))
  for (const { id } of steps) await logStep(db, id, { kind: 'done' }, at(1))
  let turns = 0
  const read = await newestWorkLogged(db, 830, () => Promise.resolve(turns++))
  const all = await workLogged(db)
  const newest = new Set(steps.slice(20).map(({ id }) => id))
  expect(read.steps).toEqual(all.steps.filter(({ id }) => newest.has(id)))
  expect(read.entries).toEqual(all.entries.filter(({ stepId }) => newest.has(stepId)))
  expect(read.since).toBe((START_MS + HOUR_MS) / 60_000)
  // Their numbers once, then three times four hundred steps at most.
  expect(turns).toBe(4)
})

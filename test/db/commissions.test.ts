import { describe, expect, test } from 'vitest'
import {
  addCommission,
  changeCommission,
  commissionById,
  customers,
  nextNumber,
  openBook,
  type Order,
} from '../../db/commissions.ts'
import { orderBookRows } from '../../db/order-lists.ts'
import { draftById, saveDraft } from '../../db/drafts.ts'
import { entriesOf } from '../../db/log.ts'
import { logStep } from '../../db/steps.ts'
import { takeBack } from '../../db/undo.ts'
import { anOrder, aCustomer } from './support/orders.ts'
import { openShop, problemOf, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: 'maker' }

describe('the order book', () => {
  test('an order comes back from the file as it was taken, under the next number', async () => {
    const { db, path, close } = await openShop()
    const order = anOrder()
    expect(await nextNumber(db)).toBe(1)
    const commission = await addCommission(db, order, stamp)
    expect(commission).toEqual({ ...order.commission, number: 1 })
    expect(await nextNumber(db)).toBe(2)
    await close()

    const again = await openShop(path)
    expect(await commissionById(again.db, 'order-1')).toEqual({ ...order, commission })
    expect(await openBook(again.db)).toEqual({
      commissions: [commission],
      pieces: order.pieces,
      steps: order.steps,
      lags: order.lags,
      log: [],
      lately: [],
      // 62 days before the day of the order: September 24.
      latelySince: Date.UTC(2026, 8, 24) / 60_000,
      nextNumber: 2,
      promises: [],
    })
  })

  test('every kind of value of a step, hold and lag survives', async () => {
    const { db } = await openShop()
    const order = anOrder('odd', {
      neededBy: null,
      promisedFor: null,
      priceMinor: null,
      onHoldUntil: 'open-end',
      onHoldWhy: 'waiting for the slab',
      home: { driest: { celsius: 21.7, rh: 0.155 }, dampest: { celsius: 25, rh: 0.4 } },
      weight: 2.5,
      notes: `it's 18 3/4" — “quoted”; drop table log; ünïcödé 😀\nsecond line`,
    })
    await addCommission(db, order, stamp)
    expect((await commissionById(db, 'odd'))?.commission).toEqual({ ...order.commission, number: 1 })
  })

  test('the home of one order comes with it, goes with it, and comes back with undo', async () => {
    const { db } = await openShop()
    const home = { driest: { celsius: 22, rh: 0.15 }, dampest: { celsius: 25, rh: 0.4 } }
    await addCommission(db, anOrder('order-1', { home }), stamp)
    const homeNow = async () => (await commissionById(db, 'order-1'))?.commission.home
    expect(await homeNow()).toEqual(home)
    const usual = (order: Order) => ({ ...order, commission: { ...order.commission, home: null } })
    valueOf(await changeCommission(db, 'order-1', 'commission-changed', usual, stamp))
    expect(await homeNow()).toBeNull()
    const entry = (await entriesOf(db, 'order-1')).at(-1)
    valueOf(await takeBack(db, entry?.id ?? 0, stamp))
    expect(await homeNow()).toEqual(home)
  })

  test('half a home is refused by the file itself', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const half = db.updateTable('commission').set({ home_damp_rh: 0.6 }).where('id', '=', 'order-1').execute()
    await expect(half).rejects.toThrow(/CHECK/)
  })

  test('keys that repeat in every lot refer to the steps of their own lot', async () => {
    const { db } = await openShop()
    const one = anOrder()
    const secondLot = one.steps.map((step) => ({
      ...step,
      id: `${step.id}-2`,
      lot: 2,
      lots: 2,
      position: step.position + 4,
    }))
    const steps = [...one.steps.map((step) => ({ ...step, lots: 2 })), ...secondLot]
    await addCommission(db, { ...one, steps }, stamp)
    expect((await openBook(db)).steps).toEqual(steps)
    const hold = await db
      .selectFrom('step_hold')
      .select('until_step_id')
      .where('step_id', '=', 'order-1-piece-first-glue-up-2')
      .where('until_kind', '=', 'start-of')
      .executeTakeFirstOrThrow()
    expect(hold.until_step_id).toBe('order-1-piece-release-2')
  })

  test('the open book leaves out what was handed over or called off, but not when somebody worked on it lately', async () => {
    const { db } = await openShop()
    for (const standing of ['asked-about', 'agreed', 'handed-over', 'called-off'] as const)
      await addCommission(db, anOrder(standing, { standing }), stamp)
    const monthsAgo = { ...stamp, atMs: stamp.atMs - 63 * 24 * 3_600_000 }
    valueOf(await logStep(db, 'handed-over-piece-first-glue-up', { kind: 'started' }, monthsAgo))
    valueOf(await logStep(db, 'handed-over-piece-release', { kind: 'done' }, stamp))
    valueOf(await logStep(db, 'agreed-piece-first-glue-up', { kind: 'started' }, stamp))
    const book = await openBook(db)
    expect(book.commissions.map((one) => one.id)).toEqual(['asked-about', 'agreed'])
    expect(book.pieces.map((one) => one.id)).toEqual(['asked-about-piece', 'agreed-piece'])
    expect(new Set(book.steps.map((one) => one.commissionId))).toEqual(new Set(['asked-about', 'agreed']))
    expect(book.lags).toHaveLength(6)
    expect(book.log.map((one) => one.stepId)).toEqual(['agreed-piece-first-glue-up'])
    expect(book.lately?.map((one) => one.stepId)).toEqual(['handed-over-piece-release'])
    expect((await orderBookRows(db, 'closed')).map((row) => row.commission.id)).toEqual(['called-off', 'handed-over'])
    expect((await orderBookRows(db, 'all')).map((row) => row.commission.number)).toEqual([4, 3, 2, 1])
    expect((await orderBookRows(db, 'open'))[0]?.pieces).toMatchObject([
      { id: 'agreed-piece', title: 'End-grain board 18" x 18"', count: 1 },
    ])
  })

  test('a customer who comes back is one customer, with what is new about them', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder('first', { customer: aCustomer() }), stamp)
    await addCommission(db, anOrder('second', { customer: aCustomer({ reach: '555 0199' }) }), stamp)
    expect(await customers(db)).toEqual([aCustomer({ reach: '555 0199' })])
  })

  test('an order that is not consistent leaves nothing behind, not even its number', async () => {
    const { db } = await openShop()
    const order = anOrder()
    const lags = [...order.lags, { ...order.lags[0]!, toStep: 'nowhere' }]
    await expect(addCommission(db, { ...order, lags }, stamp)).rejects.toThrow(/FOREIGN KEY/)
    await expect(addCommission(db, { ...order, pieces: [] }, stamp)).rejects.toThrow(/FOREIGN KEY/)
    expect(await openBook(db)).toEqual({
      ...{
        commissions: [],
        pieces: [],
        steps: [],
        lags: [],
        log: [],
        lately: [],
        latelySince: -Infinity,
        nextNumber: 1,
        promises: [],
      },
    })
    expect(await nextNumber(db)).toBe(1)
    expect(await customers(db)).toEqual([])
    expect(await entriesOf(db, 'order-1')).toEqual([])
  })

  test('the draft goes when its order is taken and comes back when the order is taken back', async () => {
    const { db } = await openShop()
    const draft = { id: 'draft-1', content: { customer: 'Odile', pieces: [{ size: '18 x 1' }] } }
    await saveDraft(db, draft, START_MS)
    await addCommission(db, anOrder(), stamp, { draftId: 'draft-1' })
    expect(await draftById(db, 'draft-1')).toBeNull()
    const [entry] = await entriesOf(db, 'order-1')
    valueOf(await takeBack(db, entry!.id, stamp))
    expect(await draftById(db, 'draft-1')).toMatchObject(draft)
    expect(await commissionById(db, 'order-1')).toBeNull()
    expect(await nextNumber(db)).toBe(2)
  })

  test('a change writes what differs and nothing else', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const changed = await changeCommission(
      db,
      'order-1',
      'commission-changed',
      (order) => ({ ...order, commission: { ...order.commission, notes: 'Oiled only', promisedFor: '2026-12-19' } }),
      stamp,
    )
    expect(valueOf(changed).commission.notes).toBe('Oiled only')
    expect(await commissionById(db, 'order-1')).toEqual(valueOf(changed))
    const entries = await entriesOf(db, 'order-1')
    expect(entries).toHaveLength(2)
    expect(entries[1]?.event).toEqual({
      kind: 'rows',
      changes: [
        {
          table: 'commission',
          key: { id: 'order-1' },
          before: { notes: anOrder().commission.notes, promised_for: '2026-12-18' },
          after: { notes: 'Oiled only', promised_for: '2026-12-19' },
        },
      ],
    })
  })

  test('with a lag less, after an earlier act was taken back, the order is changed as it is in the file', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const waits = async () => (await commissionById(db, 'order-1'))!.lags.map(({ name }) => name)
    const without = (name: string) => (order: Order) => ({
      ...order,
      lags: order.lags.filter((lag) => lag.name !== name),
    })
    const withOne = (name: string) => (order: Order) => ({
      ...order,
      lags: [...order.lags, { ...order.lags[0]!, name }],
    })
    const write = async (changed: (order: Order) => Order) => {
      valueOf(await changeCommission(db, 'order-1', 'commission-changed', changed, stamp))
      return (await entriesOf(db, 'order-1')).at(-1)!.id
    }
    const first = await write(withOne('away at the engraver'))
    const second = await write(withOne('away at the carver'))
    valueOf(await takeBack(db, first, stamp))
    const start = ['glue in clamps', 'glue curing', 'sanded surface']
    expect(await waits()).toEqual([...start, 'away at the carver'])

    const third = await write(withOne('away at the turner'))
    const fourth = await write(without('glue curing'))
    expect(await waits()).toEqual(['glue in clamps', 'sanded surface', 'away at the carver', 'away at the turner'])
    // Neither touched what the others wrote: each can still be taken back by itself.
    for (const entry of [second, fourth, third]) valueOf(await takeBack(db, entry, stamp))
    expect(await waits()).toEqual(start)
  })

  test('a change that changes nothing is not logged', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    valueOf(await changeCommission(db, 'order-1', 'commission-changed', (order) => order, stamp))
    expect(await entriesOf(db, 'order-1')).toHaveLength(1)
  })

  test('pieces and steps may be replaced in any sequence', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const other = anOrder('other')
    const replaced = await changeCommission(
      db,
      'order-1',
      'commission-changed',
      (order) => ({
        commission: order.commission,
        pieces: other.pieces.map((piece) => ({ ...piece, commissionId: 'order-1' })),
        steps: other.steps.map((step) => ({ ...step, commissionId: 'order-1' })),
        lags: other.lags,
      }),
      stamp,
    )
    expect(await commissionById(db, 'order-1')).toEqual(valueOf(replaced))
    expect((await openBook(db)).pieces).toHaveLength(1)
  })

  test('a commission that is not there is a problem, not a crash', async () => {
    const { db } = await openShop()
    expect(problemOf(await changeCommission(db, 'x', 'commission-changed', (o) => o, stamp)).code).toBe(
      'commission-missing',
    )
    expect(problemOf(await logStep(db, 'x', { kind: 'done' }, stamp)).code).toBe('step-missing')
    expect(await commissionById(db, 'x')).toBeNull()
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import type { StepAction } from '../../core/book/book.ts'
import { loadAlmanac, saveAlmanac } from '../../db/almanac.ts'
import { addCommission, changeCommission, commissionById, openBook, type Order } from '../../db/commissions.ts'
import { saveDraft } from '../../db/drafts.ts'
import { entriesOf, latestEntries, record } from '../../db/log.ts'
import type { Db } from '../../db/schema.ts'
import { logStep } from '../../db/steps.ts'
import { lastRedoable, lastUndoable, takeBack } from '../../db/undo.ts'
import { everythingIn, stateOf } from './support/everything.ts'
import { aCustomer, anOrder } from './support/orders.ts'
import { openShop, problemOf, START_MS, valueOf } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: 'maker' }
const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

async function undo(db: Db) {
  const entry = await lastUndoable(db)
  if (entry === null) throw new Error('nothing to take back')
  return valueOf(await takeBack(db, entry.id, stamp))
}

async function redo(db: Db) {
  const entry = await lastRedoable(db)
  if (entry === null) throw new Error('nothing to put back')
  return valueOf(await takeBack(db, entry.id, stamp))
}

const GLUE_UP = 'order-1-piece-first-glue-up'
const change = (db: Db, id: string, changed: (order: Order) => Order) =>
  changeCommission(db, id, 'commission-changed', changed, stamp)
const withNotes = (notes: string) => (order: Order) => ({ ...order, commission: { ...order.commission, notes } })

describe('taking back', () => {
  test('a step counts as done only as long as its entry is not taken back', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp))
    valueOf(await logStep(db, GLUE_UP, { kind: 'still-tacky', untilMin: 29_500_000 }, stamp))
    const kinds = async () => (await openBook(db)).log.map((entry) => entry.action.kind)
    expect(await kinds()).toEqual(['started', 'still-tacky'])
    await undo(db)
    expect(await kinds()).toEqual(['started'])
    await undo(db)
    expect(await kinds()).toEqual([])
    await redo(db)
    await redo(db)
    expect((await openBook(db)).log.map((entry) => entry.action)).toEqual([
      { kind: 'started' },
      { kind: 'still-tacky', untilMin: 29_500_000 },
    ])
    expect(await lastRedoable(db)).toBeNull()
  })

  test('a press that was made up for later keeps both instants', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    valueOf(
      await logStep(db, GLUE_UP, { kind: 'started', setUpMin: 10 }, { ...stamp, pressedAtMs: stamp.atMs + 3_600_000 }),
    )
    const [entry] = (await openBook(db)).log
    expect(entry?.pressedAtMin).toBe((entry?.atMin ?? 0) + 60)
    expect(entry?.action).toEqual({ kind: 'started', setUpMin: 10 })
  })

  test('the log keeps what was done, what was taken back and what was put back', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    await change(db, 'order-1', withNotes('Oiled only'))
    await undo(db)
    await redo(db)
    const entries = await entriesOf(db, 'order-1')
    expect(entries.map(({ id, action, undoes, counts }) => [id, action, undoes, counts])).toEqual([
      [1, 'commission-taken', null, true],
      [2, 'commission-changed', null, true],
      [3, 'taken-back', 2, false],
      [4, 'put-back', 3, true],
    ])
    const texts = entries
      .slice(1)
      .map(({ event }) => (event.kind === 'rows' ? event.changes[0]?.after?.['notes'] : null))
    expect(texts).toEqual(['Oiled only', anOrder().commission.notes, 'Oiled only'])
  })

  test('only within one commission or step, when that is asked for', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder('a'), stamp)
    await addCommission(db, anOrder('b'), stamp)
    valueOf(await logStep(db, 'a-piece-first-glue-up', { kind: 'started' }, stamp))
    await change(db, 'b', withNotes('x'))
    expect((await lastUndoable(db))?.action).toBe('commission-changed')
    expect((await lastUndoable(db, { commissionId: 'a' }))?.action).toBe('step-started')
    expect((await lastUndoable(db, { stepId: 'a-piece-first-glue-up' }))?.action).toBe('step-started')
    expect(await lastUndoable(db, { stepId: 'b-piece-first-glue-up' })).toBeNull()
  })

  test('an earlier change may be taken back when nothing later touched the same', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    await change(db, 'order-1', withNotes('Oiled only'))
    await change(db, 'order-1', (order) => ({
      ...order,
      commission: { ...order.commission, promisedFor: '2027-01-09' },
    }))
    const [, notes] = await entriesOf(db, 'order-1')
    valueOf(await takeBack(db, notes!.id, stamp))
    expect((await commissionById(db, 'order-1'))?.commission).toMatchObject({
      notes: anOrder().commission.notes,
      promisedFor: '2027-01-09',
    })
  })

  const refusals: [string, (db: Db) => Promise<number>][] = [
    [
      'a change whose value was changed again',
      async (db) => {
        await change(db, 'order-1', withNotes('first'))
        const entry = (await lastUndoable(db))!
        await change(db, 'order-1', withNotes('second'))
        return entry.id
      },
    ],
    [
      'an order at whose steps something was done',
      async (db) => {
        valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp))
        return 1
      },
    ],
    [
      'an order whose customer has ordered again',
      async (db) => {
        await addCommission(db, anOrder('order-2', { customer: aCustomer({ id: 'order-1-customer' }) }), stamp)
        return 1
      },
    ],
    [
      'a step that was gone on with',
      async (db) => {
        const started = valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp))
        valueOf(await logStep(db, GLUE_UP, { kind: 'done' }, stamp))
        return started
      },
    ],
    [
      'putting back what was done at a step that has been gone on with otherwise',
      async (db) => {
        valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp))
        const { id } = await undo(db)
        valueOf(await logStep(db, GLUE_UP, { kind: 'done' }, stamp))
        return id
      },
    ],
    [
      'putting back what was done at a step whose order is gone',
      async (db) => {
        valueOf(await logStep(db, GLUE_UP, { kind: 'started' }, stamp))
        const { id } = await undo(db)
        await undo(db)
        return id
      },
    ],
  ]

  test.each(refusals)('%s is refused, and nothing is written', async (_, prepare) => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const id = await prepare(db)
    const before = await everythingIn(db)
    expect(problemOf(await takeBack(db, id, stamp)).code).toBe('changed-since')
    expect(await everythingIn(db)).toEqual(before)
  })

  test('what a later entry builds on is refused also where the value came round again, else nothing could be taken back any more', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    const noteAs = async (notes: string) => {
      valueOf(await change(db, 'order-1', withNotes(notes)))
      return (await latestEntries(db, 1))[0]!.id
    }
    const notesNow = async () => (await commissionById(db, 'order-1'))?.commission.notes
    const start = await notesNow()
    const first = await noteAs('Oiled')
    await noteAs('Bare')
    await noteAs('Oiled')
    expect(problemOf(await takeBack(db, first, stamp)).code).toBe('changed-since')
    for (const notes of ['Bare', 'Oiled', start]) {
      await undo(db)
      expect(await notesNow()).toBe(notes)
    }
    // Put back, it is the newest again, whatever its number.
    await redo(db)
    expect(await notesNow()).toBe('Oiled')
    valueOf(await takeBack(db, first, stamp))
    expect(await notesNow()).toBe(start)
  })

  test('twice, or of an entry that is not there, is refused', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    await undo(db)
    const before = await everythingIn(db)
    expect(problemOf(await takeBack(db, 1, stamp)).code).toBe('already-taken-back')
    expect(problemOf(await takeBack(db, 99, stamp)).code).toBe('entry-missing')
    expect(await everythingIn(db)).toEqual(before)
  })

  test('a remark is passed over: there is nothing to put right', async () => {
    const { db } = await openShop()
    await addCommission(db, anOrder(), stamp)
    await change(db, 'order-1', withNotes('x'))
    await undo(db)
    const event = { kind: 'remark' as const, detail: { paper: 'receipt' } }
    await record(db, { ...stamp, commissionId: 'order-1', action: 'paper-printed', event })
    expect((await latestEntries(db, 1))[0]?.event).toEqual(event)
    expect((await lastUndoable(db))?.action).toBe('commission-taken')
    expect((await lastRedoable(db))?.action).toBe('taken-back')
  })
})

/** One thing that somebody may do; numbers choose among what there is at that moment. */
type Deed =
  | { readonly kind: 'take'; readonly draft: boolean; readonly knownCustomer: boolean }
  | { readonly kind: 'change'; readonly which: number; readonly what: number; readonly value: number }
  | { readonly kind: 'step'; readonly which: number; readonly did: StepAction }
  | { readonly kind: 'almanac'; readonly what: number; readonly value: number }
  | { readonly kind: 'undo' }
  | { readonly kind: 'redo' }

const deeds = fc.array(
  fc.oneof(
    {
      weight: 2,
      arbitrary: fc.record({ kind: fc.constant('take' as const), draft: fc.boolean(), knownCustomer: fc.boolean() }),
    },
    {
      weight: 5,
      arbitrary: fc.record({
        kind: fc.constant('change' as const),
        which: fc.nat(20),
        what: fc.nat(5),
        value: fc.nat(3),
      }),
    },
    {
      weight: 5,
      arbitrary: fc.record({
        kind: fc.constant('step' as const),
        which: fc.nat(50),
        did: fc.oneof(
          fc.constantFrom<StepAction>({ kind: 'started' }, { kind: 'paused' }, { kind: 'done' }),
          fc.nat(3).map((n): StepAction => ({ kind: 'still-tacky', untilMin: 29_500_000 + n })),
          fc.constantFrom<StepAction>({ kind: 'pinned', day: '2026-12-01' }, { kind: 'pinned', day: null }),
        ),
      }),
    },
    { weight: 2, arbitrary: fc.record({ kind: fc.constant('almanac' as const), what: fc.nat(5), value: fc.nat(3) }) },
    { weight: 6, arbitrary: fc.constant({ kind: 'undo' as const }) },
    { weight: 3, arbitrary: fc.constant({ kind: 'redo' as const }) },
  ),
  { minLength: 5, maxLength: 20, size: 'max' },
)

const FIRST: Deed = { kind: 'take', draft: true, knownCustomer: true }

let nextName = 0

async function takeOrder(db: Db, deed: Deed & { kind: 'take' }): Promise<void> {
  const name = `taken-${nextName++}`
  if (deed.draft) await saveDraft(db, { id: name, content: { for: name } }, START_MS)
  const given = deed.knownCustomer ? { customer: aCustomer({ id: 'regular', reach: name }) } : {}
  await addCommission(db, anOrder(name, given), stamp, deed.draft ? { draftId: name } : {})
}

async function changeSomething(db: Db, deed: Deed & { kind: 'change' }): Promise<void> {
  const ids = await db.selectFrom('commission').select('id').orderBy('number').execute()
  const id = ids[deed.which % Math.max(ids.length, 1)]?.id
  if (id === undefined) return
  const { value } = deed
  valueOf(
    await change(db, id, ({ commission, pieces, steps, lags }) => {
      const order = { commission, pieces, steps, lags }
      const standing = (['asked-about', 'agreed', 'handed-over', 'called-off'] as const)[value] ?? 'agreed'
      switch (deed.what) {
        case 0:
          return { ...order, commission: { ...commission, notes: `notes ${value}`, weight: 1 + value / 4 } }
        case 1:
          return {
            ...order,
            commission: { ...commission, standing, promisedFor: value === 0 ? null : `2027-01-0${value}` },
          }
        case 2:
          return { ...order, commission: { ...commission, customer: { ...commission.customer, address: `${value}` } } }
        case 3:
          return { ...order, commission: { ...commission, customer: aCustomer({ id: `other-${value}` }) } }
        case 4:
          return {
            ...order,
            steps: steps.map((step) => ({ ...step, minutes: 40 + value, pessimisticMin: 90, cautions: [`c${value}`] })),
          }
        default:
          return { ...order, lags: lags.slice(0, value) }
      }
    }),
  )
}

async function doAStep(db: Db, deed: Deed & { kind: 'step' }): Promise<void> {
  const ids = await db.selectFrom('step').select('id').orderBy('id').execute()
  const id = ids[deed.which % Math.max(ids.length, 1)]?.id
  if (id !== undefined) valueOf(await logStep(db, id, deed.did, stamp))
}

async function changeAlmanac(db: Db, { what, value }: Deed & { kind: 'almanac' }): Promise<void> {
  const almanac = await loadAlmanac(db, starting)
  const parts: Partial<Almanac>[] = [
    { shop: { ...almanac.shop, name: `Shop ${value}` } },
    {
      makers:
        value === 0
          ? starting.makers
          : [{ id: `m${value}`, name: 'Abel', attendance: 1, weeklyHours: { 3: [{ from: value, to: 60 }] } }],
    },
    { stations: almanac.stations.map((station) => ({ ...station, capacity: value + 1 })) },
    {
      glues: almanac.glues
        .slice(value)
        .map((glue) => ({ ...glue, label: { open: { min: 1, typical: 2, max: 3 + value } } })),
    },
    { allowances: { ...almanac.allowances, sawKerfNm: 1_000_000 * value } },
    { standardTimes: almanac.standardTimes.map((time) => ({ ...time, perUnitMin: time.perUnitMin + value })) },
  ]
  await saveAlmanac(db, { ...almanac, ...parts[what] }, starting, stamp)
}

async function act(db: Db, deed: Exclude<Deed, { kind: 'undo' | 'redo' }>): Promise<void> {
  switch (deed.kind) {
    case 'take':
      return takeOrder(db, deed)
    case 'change':
      return changeSomething(db, deed)
    case 'step':
      return doAStep(db, deed)
    case 'almanac':
      return changeAlmanac(db, deed)
  }
}

/** As text, which compares quickly. Drafts are saved outside the log: one is there before the order that it becomes. */
const stateText = async (db: Db) => JSON.stringify({ ...(await stateOf(db)), draft: null }, null, 1)

describe('whatever is done in whatever order', () => {
  test('undo leads to exactly the state before, redo to exactly the state after', async () => {
    const shop = await openShop()
    const { db } = shop
    let [undone, redone] = [0, 0]
    await fc.assert(
      fc.asyncProperty(deeds, async (sequence) => {
        // What an unbroken line of undoing and redoing must come through, with where we are on it.
        const line = [await stateText(db)]
        let at = 0
        for (const deed of [FIRST, ...sequence]) {
          if (deed.kind === 'undo') {
            if (at === 0) continue
            await undo(db)
            expect(await stateText(db)).toBe(line[--at])
            undone += 1
          } else if (deed.kind === 'redo') {
            if (at === line.length - 1) continue
            await redo(db)
            expect(await stateText(db)).toBe(line[++at])
            redone += 1
          } else {
            const entries = (await latestEntries(db, 1))[0]?.id
            await act(db, deed)
            if ((await latestEntries(db, 1))[0]?.id === entries) continue
            line.splice(++at, Infinity, await stateText(db))
          }
        }
        // At the very beginning the run before may have left something to put back.
        if (line.length > 1) expect((await lastRedoable(db)) === null).toBe(at === line.length - 1)
        const back = async () => {
          while (at > 0) {
            await undo(db)
            expect(await stateText(db)).toBe(line[--at])
            undone += 1
          }
        }
        await back()
        while (at < line.length - 1) {
          await redo(db)
          expect(await stateText(db)).toBe(line[++at])
          redone += 1
        }
        await back()
      }),
      { numRuns: 25, seed: 20261125 },
    )
    expect(undone).toBeGreaterThan(250)
    expect(redone).toBeGreaterThan(100)
  })

  test('any entry is either refused without a trace, or taken back and put back to the same', async () => {
    const { db } = await openShop()
    const seen = { refused: 0, done: 0 }
    await fc.assert(
      fc.asyncProperty(deeds, fc.array(fc.nat(40), { minLength: 1, maxLength: 8 }), async (sequence, choices) => {
        for (const deed of [FIRST, ...sequence]) if (deed.kind !== 'undo' && deed.kind !== 'redo') await act(db, deed)
        for (const choice of choices) {
          const entries = await latestEntries(db, 40)
          const entry = entries[choice % Math.max(entries.length, 1)]
          if (entry === undefined) continue
          const [before, state] = [await everythingIn(db), await stateOf(db)]
          const answer = await takeBack(db, entry.id, stamp)
          if (answer.ok) {
            seen.done += 1
            valueOf(await takeBack(db, answer.value.id, stamp))
            expect(await stateOf(db)).toEqual(state)
          } else {
            seen.refused += 1
            expect(await everythingIn(db)).toEqual(before)
          }
        }
      }),
      { numRuns: 25, seed: 20261126 },
    )
    expect(seen.refused).toBeGreaterThan(20)
    expect(seen.done).toBeGreaterThan(20)
  })
})

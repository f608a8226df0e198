import { cpSync } from 'node:fs'
import { expect, onTestFinished, test, vi } from 'vitest'
import { daysLater, localDay } from '../../core/time/local-day.ts'
import type { DeskEvent } from '../../desk/desk-event.ts'
import { Thread } from '../../desk/planner/planning-thread.ts'
import { aDesk, aDraft, aFolder, aPiece, type TestDesk } from './support/a-desk.ts'

/** A few schedules, however long they take: what is found depends on the book alone. */
const aFewSchedules = { placements: 20_000, schedules: 200, seconds: Infinity }
/** More than is ever used up. */
const withoutEnd = { placements: Infinity, schedules: 1e9, seconds: Infinity }

/**
 * Orders that compete for the same evenings, so that the first plan is not the best one.
 * @param weeksLater of the promises: without, they are far too many for the evenings until then
 */
async function aBusyBook({ ask }: TestDesk, weeksLater = 0): Promise<void> {
  for (const [construction, finish, day] of [
    ['end-grain-board', 'wiping_oil_varnish', '2026-03-20'],
    ['edge-grain-board', 'hardwax_oil', '2026-03-14'],
    ['end-grain-board', 'hardwax_oil', '2026-03-18'],
    ['end-grain-board', 'wiping_oil_varnish', null],
    ['box', 'shellac', '2026-03-21'],
    ['edge-grain-board', 'wiping_oil_varnish', '2026-03-13'],
    ['end-grain-board', 'hardwax_oil', '2026-03-25'],
  ] as const) {
    const draft = aDraft({ pieces: [aPiece({ finish }, construction, '2')] })
    const promisedFor = day && daysLater(day, 7 * weeksLater)
    await ask.takeOrder({ draft, standing: 'agreed', promisedFor })
  }
}

/** Waits for the search to be over and gives what it came to. */
function overOf({ desk }: TestDesk): Promise<string> {
  return new Promise((resolve) => {
    const stop = desk.onEvent((event) => {
      if (event.kind !== 'better-dates' || event.betterDates.kind === 'looking') return
      stop()
      resolve(event.betterDates.kind)
    })
  })
}

/** What the desk tells right after it says that a better plan was found: other things make screens ask again as well. */
const foundAt = (events: readonly DeskEvent[]): readonly (DeskEvent | undefined)[] =>
  events.flatMap((event, at) =>
    event.kind === 'better-dates' && event.betterDates.kind === 'found' ? [events[at + 1]] : [],
  )

/** When each order is done by the plan. A plan that is better has one of them done earlier: no aim of the search grows by that. */
const doneTimes = async ({ ask }: TestDesk): Promise<readonly number[]> =>
  (await ask.orderBook()).open.map(({ doneAt }) => doneAt ?? Infinity)

test('a better plan takes the place of the first one, once, and says so', async () => {
  const one = await aDesk()
  // Where all are weeks late whatever is done, what is better by its days may be worse as it is lived, and does not pass.
  await aBusyBook(one, 2)
  const before = await doneTimes(one)
  expect((await one.ask.shopState()).betterDates).toEqual({ kind: 'not-looked' })

  const over = overOf(one)
  await one.ask.lookForBetterDates()
  expect((await one.ask.shopState()).betterDates.kind).toBe('looking')
  expect(await doneTimes(one)).toEqual(before)
  expect(await over).toBe('found')
  expect(foundAt(one.events)).toEqual([{ kind: 'changed' }])
  const now = await doneTimes(one)
  expect(now).toHaveLength(before.length)
  expect(now.some((done, order) => done < before[order]!)).toBe(true)
  expect((await one.ask.shopState()).betterDates).toEqual({ kind: 'found' })
})

test('what is found depends on the book alone', async () => {
  const found = []
  const written = await aDesk()
  await aBusyBook(written)
  await written.desk.close()
  for (let times = 0; times < 2; times++) {
    const folder = aFolder()
    cpSync(written.folder, folder, { recursive: true })
    const one = await aDesk({ folder, search: aFewSchedules })
    await expect.poll(async () => (await one.ask.shopState()).betterDates.kind).toMatch(/found$/)
    found.push((await one.ask.orderBook()).open.map(({ number, doneAt }) => [number, doneAt]))
  }
  expect(found[1]).toEqual(found[0])
})

test('looking begins by itself after every change, and a newer change ends an older search', async () => {
  const one = await aDesk({ search: withoutEnd })
  await aBusyBook(one)
  expect((await one.ask.shopState()).betterDates.kind).toBe('looking')
  // Far more than could be looked through meanwhile: the search of the last change still runs, earlier ones never ended.
  // What is proved to be best needs no looking: a book of one or two orders may be, and is not taken where a promise would lose by it.
  const ended = one.events.flatMap((event) => (event.kind === 'better-dates' ? [event.betterDates.kind] : []))
  expect(ended.filter((kind) => kind !== 'looking' && kind !== 'best' && kind !== 'none-found')).toEqual([])

  const over = overOf(one)
  await one.ask.stopLooking()
  expect(await over).toMatch(/^(stopped|found)$/)
  expect(foundAt(one.events).length).toBeLessThanOrEqual(1)
})

test('dates and odds are answered while better ones are looked for', async () => {
  const one = await aDesk({ search: withoutEnd })
  await aBusyBook(one)
  const { offers } = await one.ask.draftQuote({ draft: aDraft(), asked: 'dates' })
  expect(offers[0]!.doneAt).toBeGreaterThan(0)
  const odds = await one.ask.draftQuote({ draft: aDraft(), asked: 'odds' })
  expect(odds.offers[0]!.odds).not.toBeNull()
  expect((await one.ask.shopState()).betterDates.kind).toBe('looking')
})

test('what is agreed on is planned for no later than the date that was offered, which stands in its promise', async () => {
  const one = await aDesk()
  await aBusyBook(one)
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'end-grain-board', '2')] })
  const [atOnce] = (await one.ask.draftQuote({ draft, asked: 'dates' })).offers
  const [offer] = (await one.ask.draftQuote({ draft, asked: 'odds' })).offers
  expect(offer!.kind).toBe('keeps-every-promise')
  expect(offer!.doneAt).toBeLessThanOrEqual(atOnce!.doneAt)
  const { commissionId } = await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: offer!.safeDay })
  const { open } = await one.ask.orderBook()
  // Sooner where the guard held the offer back: ids are drawn, and with them the luck that the guard weighs.
  expect(open.find((row) => row.commissionId === commissionId)!.doneAt).toBeLessThanOrEqual(offer!.doneAt)
  const [promise] = (await one.ask.commission({ id: commissionId })).promises
  expect(promise).toMatchObject({ day: offer!.safeDay, plannedDay: localDay(offer!.doneAt, 'America/Chicago') })
})

test('a book with nothing in it has nothing to look for; a small one is proved to be planned as well as can be', async () => {
  const one = await aDesk({ search: aFewSchedules })
  expect((await one.ask.shopState()).betterDates).toEqual({ kind: 'nothing-to-look-for' })
  const row = {
    name: 'Plane it',
    minutes: '30',
    kind: 'hand',
    wait: '',
    atMost: '',
    after: '',
    dusty: false,
    units: '',
  }
  const draft = aDraft({ pieces: [aPiece({ title: 'Shelf', rows: [row] }, 'free-list')] })
  await one.ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await expect.poll(async () => (await one.ask.shopState()).betterDates.kind).toBe('best')
})

test('the desk closes at once although better dates are looked for', async () => {
  const one = await aDesk({ search: withoutEnd })
  await aBusyBook(one)
  expect((await one.ask.shopState()).betterDates.kind).toBe('looking')
  await one.desk.close()
})

test('a search whose chances are not known yet waits for them: no promise pays for what it finds meanwhile', async () => {
  const written = await aDesk()
  await aBusyBook(written)
  await written.desk.close()
  const threadAsk = Thread.prototype.ask
  const { promise: released, resolve: release } = Promise.withResolvers<void>()
  const asked = vi.spyOn(Thread.prototype, 'ask').mockImplementation(async function (this: Thread, ...question) {
    if (question[1].kind === 'all-odds') await released
    return threadAsk.apply(this, question)
  })
  onTestFinished(() => asked.mockRestore())
  const one = await aDesk({ folder: written.folder, search: { placements: 1, schedules: 50, seconds: Infinity } })
  const looking = async () => (await one.ask.shopState()).betterDates.kind
  // Long enough for it to be over, had it begun.
  for (let look = 0; look < 1_000; look++) {
    expect(await looking()).not.toMatch(/found$/)
    await new Promise(setImmediate)
  }
  const over = overOf(one)
  release()
  expect(await over).toMatch(/found$/)
})

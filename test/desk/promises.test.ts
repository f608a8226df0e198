import { expect, test } from 'vitest'
import { daysLater, isoWeekday, localDay } from '../../core/time/local-day.ts'
import { sayChance } from '../../core/book/chance.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'

const zone = 'America/Chicago'
const small = aDraft({ pieces: [aPiece({ length: '12', width: '8' }, 'edge-grain-board')] })
const large = aDraft({ pieces: [aPiece({}, 'end-grain-board', '6')] })

/** The order as it is once the chances of the present plan are worked out. */
async function workedOut({ ask, events }: TestDesk, id: string) {
  await expect.poll(async () => (await ask.commission({ id })).outlook.fresh).toBe(true)
  expect(events.some(({ kind }) => kind === 'odds')).toBe(true)
  return ask.commission({ id })
}

test('an order taken before its odds were on the screen is promised the day that its own odds give, with that chance', async () => {
  const { ask } = await aDesk()
  // What a screen would still show: the day of what was typed before.
  const [before] = (await ask.draftQuote({ draft: small, asked: 'odds' })).offers
  const taken = await ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: 'as-quoted' })
  const order = await ask.commission({ id: taken.commissionId })
  expect(order.promisedFor).not.toBeNull()
  expect((order.promisedFor ?? '') > (before?.dayToSay ?? '')).toBe(true)
  expect((order.promisedFor ?? '') >= localDay(order.doneAt ?? Infinity, zone)).toBe(true)
  const [promise] = order.promises
  expect(promise).toMatchObject({ kind: 'promise', day: order.promisedFor, wantedBy: 'customer', times: 'book' })
  expect(promise?.offer?.kind).toBe('keeps-every-promise')
  expect(promise?.chance).toBeGreaterThanOrEqual(0.8)
  expect(promise?.days?.fourInFive).toBe(order.promisedFor)
  expect((promise?.plannedDay ?? '9') <= (order.promisedFor ?? '')).toBe(true)
  expect(taken.said).toContain(sayChance(promise?.chance ?? 0))
})

test('a day of one’s own with a low chance is taken, with its chance said and stored', async () => {
  const { ask } = await aDesk()
  const taken = await ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: '2026-03-05' })
  expect(taken).toMatchObject({ day: '2026-03-05', chance: 0 })
  expect(taken.said).toContain('hardly a chance')
  const [promise] = (await ask.commission({ id: taken.commissionId })).promises
  expect(promise).toMatchObject({ day: '2026-03-05', chance: 0, offer: { kind: 'own-day' } })
})

/** An order that the offer of one more long day brings nearer, in a shop that is busy already. */
async function withMoreHours(shop: TestDesk) {
  await shop.ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: 'as-quoted' })
  const { offers } = await shop.ask.draftQuote({ draft: large, asked: 'all-offers' })
  const offer = offers.find(({ had }) => had === 'by-itself')!
  return { offer, asItIs: offers[0]!, chosen: { kind: offer.kind, takes: offer.takes } }
}

test('an offer with more hours that is taken puts these into the Almanac, named, and is given with its own chance; one undo takes all back', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const { offer, asItIs, chosen } = await withMoreHours(shop)
  expect(offer.dayToSay < asItIs.dayToSay).toBe(true)
  const daysBefore = (await ask.almanac()).almanac.specialDays
  const taking = { draft: large, standing: 'agreed', promisedFor: offer.dayToSay, offer: chosen } as const
  const taken = await ask.takeOrder(taking)
  expect(taken.said).toMatch(/^Order taken: No\. 2, .* The hours are in the Almanac\.$/)
  const [promise] = (await ask.commission({ id: taken.commissionId })).promises
  expect(promise).toMatchObject({ day: offer.dayToSay, offer: chosen })
  expect(promise?.chance).toBeGreaterThanOrEqual(0.8)
  const added = (await ask.almanac()).almanac.specialDays.slice(daysBefore.length)
  expect(added.length).toBeGreaterThan(0)
  expect(added.every(({ kind, note }) => kind === 'extra' && note === 'For no. 2')).toBe(true)
  // The plan of the shop as it is now is the one that was offered.
  const order = await ask.commission({ id: taken.commissionId })
  expect(order.doneAt).toBeLessThanOrEqual(offer.doneAt)

  await ask.undo({ entryId: taken.entryId! })
  expect((await ask.almanac()).almanac.specialDays).toEqual(daysBefore)
  expect((await ask.orderBook()).open).toHaveLength(1)
})

test('an offer with more hours that is not there any more is not taken: nothing is given that nobody can keep', async () => {
  const shop = await aDesk()
  const { offer } = await withMoreHours(shop)
  const chosen = { kind: 'with-more', takes: 'A thousand more hours' } as const
  const taking = { draft: large, standing: 'agreed', promisedFor: offer.dayToSay, offer: chosen } as const
  expect(await shop.call.takeOrder(taking)).toMatchObject({
    ok: false,
    problems: [{ code: 'offer-gone', field: 'promisedFor' }],
  })
  expect((await shop.ask.orderBook()).open).toHaveLength(1)
})

test('an inquiry keeps the day that was quoted and how long it is good for, and is quoted anew when it is taken', async () => {
  const { ask, setClock } = await aDesk()
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'asked-about', promisedFor: 'as-quoted' })
  const quoted = (await ask.commission({ id })).promises[0]
  expect(quoted).toMatchObject({ kind: 'quote', goodUntil: '2026-03-17' })
  expect((await ask.commission({ id })).promisedFor).toBeNull()

  await ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: 'as-quoted' })
  await setClock('2026-03-10T15:00:00Z')
  const now = await ask.inquiryQuote({ id })
  expect((now.day ?? '') > (quoted?.day ?? '')).toBe(true)
  expect(now.chance ?? 0).toBeGreaterThan(now.chanceOfQuoted ?? 1)
  await ask.commissionAgree({ id, promisedFor: 'as-quoted' })
  const agreed = await ask.commission({ id })
  expect(agreed.promisedFor).toBe(now.day)
  expect(agreed.promises.map(({ kind, day }) => [kind, day])).toEqual([
    ['promise', now.day],
    ['quote', quoted?.day],
  ])
})

test('what an inquiry would be quoted now is answered, whatever is typed on other pages at the same time', async () => {
  const { ask } = await aDesk()
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'asked-about', promisedFor: 'as-quoted' })
  const alone = await ask.inquiryQuote({ id })
  await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const typed = (): Promise<unknown> => ask.draftQuote({ draft: large, asked: 'all-offers' }).catch(() => undefined)
  const odds = (): Promise<unknown> => ask.draftQuote({ draft: large, asked: 'odds' }).catch(() => undefined)
  const [, first, , second] = await Promise.all([typed(), ask.inquiryQuote({ id }), odds(), ask.inquiryQuote({ id })])
  expect(second).toEqual(first)
  expect(first.why).toBe('')
  expect((first.day ?? '') >= (alone.day ?? '')).toBe(true)
})

test('another promise day is another record, with who wanted it, why, and its own chance', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  await workedOut(shop, id)
  const changes = { promisedFor: '2026-06-30', promiseWantedBy: 'maker', promiseWhy: 'Away in May' } as const
  const { said } = await ask.commissionChange({ id, changes })
  expect(said).toContain('nearly certain')
  const { promises } = await ask.commission({ id })
  expect(promises).toHaveLength(2)
  expect(promises[0]).toMatchObject({ day: '2026-06-30', chance: 1, wantedBy: 'maker', why: 'Away in May' })
  expect(promises[1]?.offer?.kind).toBe('keeps-every-promise')
})

test('another promise day is given with its chance though the book is planned anew at the same time', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const changes = { promisedFor: '2026-06-30', promiseWantedBy: 'maker', promiseWhy: '' } as const
  await Promise.all([
    ask.commissionChange({ id, changes }),
    ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: null }),
  ])
  const [promise] = (await ask.commission({ id })).promises
  expect(promise).toMatchObject({ day: '2026-06-30' })
  expect(promise?.chance).toBeGreaterThan(0.8)
})

test('the chance that stands beside the date is the one that is stated when it is promised', async () => {
  const { ask } = await aDesk()
  const draft = aDraft({ pieces: [aPiece()] })
  const [offer] = (await ask.draftQuote({ draft, asked: 'odds' })).offers
  expect(offer!.chance).toBeGreaterThanOrEqual(0.8)
  const { said, commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: 'as-quoted' })
  expect(said).toContain(sayChance(offer!.chance!))
  const order = await ask.commission({ id: commissionId })
  expect(order.promises[0]).toMatchObject({ day: offer!.dayToSay, chance: offer!.chance })
  // So do the figures below the rule of days.
  const days = offer!.odds!.days
  expect(days.find(({ day }) => day === offer!.dayToSay)).toEqual({ day: offer!.dayToSay, chance: offer!.chance })
  expect(days.map(({ chance }) => chance)).toEqual(
    days.map(({ chance }) => chance).toSorted((one, other) => one - other),
  )
  expect(days.at(-1)!.chance).toBeGreaterThanOrEqual(0.95)
})

test('an order is agreed with no promise where none is wanted, and then has the day of 4 chances in 5', async () => {
  const shop = await aDesk()
  const { commissionId: id } = await shop.ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: null })
  const order = await workedOut(shop, id)
  expect(order).toMatchObject({ promisedFor: null, promises: [] })
  expect(order.outlook).toMatchObject({ chance: null, danger: 'none' })
  expect(order.outlook.days?.fourInFive).not.toBeUndefined()
})

test('the mark of a promise follows its chance on every screen, and what moved is told in chances', async () => {
  const shop = await aDesk()
  const { ask, events } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const first = await workedOut(shop, id)
  expect(first.outlook.danger).toBe('none')
  // Forty shop hours of work that is due earlier.
  for (let orders = 0; orders < 3; orders++)
    await ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: '2026-03-06' })
  const then = await workedOut(shop, id)
  const row = (await ask.orderBook()).open.find(({ commissionId }) => commissionId === id)
  const lane = (await ask.weeksAhead({ weeks: 4 })).lanes.find(({ piece }) => piece.commissionId === id)
  expect(row?.outlook).toEqual(then.outlook)
  expect(lane?.outlook).toEqual(then.outlook)
  const chance = then.outlook.chance ?? -1
  expect(then.outlook.danger).toBe(chance >= 0.75 ? 'none' : chance >= 0.5 ? 'tight' : 'late')
  expect(
    events.flatMap((event) => (event.kind === 'odds' ? event.moved : [])).every((line) => !/done/.test(line)),
  ).toBe(true)
})

test('a chance that falls before it was ever on a screen is told beside the one that was stated', async () => {
  const shop = await aDesk()
  const { ask, events } = shop
  const { commissionId: id, chance } = await ask.takeOrder({
    draft: small,
    standing: 'agreed',
    promisedFor: 'as-quoted',
  })
  // At once, before anybody has seen its chance, an hour a week is left of all evenings.
  const { id: maker, name } = (await ask.almanac()).almanac.makers[0]!
  const hours = [{ weekday: 6, from: '9:00', to: '10:00' }]
  await ask.almanacSave({ list: 'makers', item: { id: maker, name, attendance: '90 %', hours } })
  const now = (await workedOut(shop, id)).outlook.chance ?? 1
  expect(now).toBeLessThan((chance ?? 0) - 0.1)
  const told = () => events.flatMap((event) => (event.kind === 'odds' ? event.moved : []))
  await expect.poll(told).toContainEqual(expect.stringMatching(/^No\. 1, .*: now .*, was /) as string)
})

test('the chance of a later day that the maker gave is not told as a move of the one before it', async () => {
  const shop = await aDesk()
  const { ask, events } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: large, standing: 'agreed', promisedFor: '2026-03-07' })
  const before = await workedOut(shop, id)
  const news = () => events.flatMap((event) => (event.kind === 'odds' ? [event.moved] : []))
  const told = news().length
  await ask.commissionChange({ id, changes: { promisedFor: '2026-06-30', promiseWantedBy: 'maker' } })
  const after = await workedOut(shop, id)
  expect(after.outlook.chance).toBeGreaterThan(before.outlook.chance! + 0.5)
  await expect.poll(() => news().length).toBeGreaterThan(told)
  expect(news().slice(told).flat()).toEqual([])
})

test('a chance that fell by two tenths since the promise says what came between', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const { promisedFor } = await workedOut(shop, id)
  // Nobody has come to the shop since.
  await setClock(`${promisedFor ?? ''}T15:00:00Z`)
  const order = await workedOut(shop, id)
  expect(order.outlook.hasFallen).toBe(true)
  expect(order.outlook.danger).toBe('late')
  expect(order.whyFallen.join(' ')).toMatch(/No work logged on \d+ shop days?\./)
})

test('what a chance lost as time passed, and a screen has shown since, is not told as the doing of the next press', async () => {
  const shop = await aDesk()
  const { ask, setClock, events } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const { commissionId: other } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: '2026-06-30' })
  const { promisedFor, outlook: first } = await workedOut(shop, id)
  // Nobody has come to the shop since.
  await setClock(`${promisedFor ?? ''}T15:00:00Z`)
  const { outlook: shown } = await workedOut(shop, id)
  expect(shown.chance).toBeLessThan(first.chance! - 0.2)
  const before = events.filter(({ kind }) => kind === 'odds').length
  await ask.stepsAllDone({ id: other, day: '2026-03-04' })
  const told = () => events.flatMap((event) => (event.kind === 'odds' ? [event.moved] : [])).slice(before)
  await expect.poll(() => told().length).toBeGreaterThan(0)
  expect((await workedOut(shop, id)).outlook.chance).toBeCloseTo(shown.chance!, 1)
  expect(told().flat()).toEqual([])
})

test('steps that took as long as they were estimated with their set-ups ran over nothing', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const { promisedFor, pieces } = await workedOut(shop, id)
  const setUps = new Map(
    (await ask.bench({ rows: 24 })).canStart.map(({ stepId, setUpMinutes }) => [stepId, setUpMinutes]),
  )
  expect([...setUps.values()].some((minutes) => minutes > 0)).toBe(true)
  await setClock('2026-03-04T01:00:00Z')
  for (const { stepId, handsOnMinutes } of pieces[0]!.steps.slice(0, 3))
    await ask.stepDone({ stepId, anyway: true, workedMin: handsOnMinutes })
  await setClock(`${promisedFor ?? ''}T15:00:00Z`)
  const { whyFallen } = await workedOut(shop, id)
  expect(whyFallen).toEqual([expect.stringMatching(/^No work logged on \d+ shop days?\.$/)])
})

test('steps that ran over are told, and how many are not among them because nobody knows how long they took', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const { promisedFor, pieces } = await workedOut(shop, id)
  const [first, second, third] = pieces[0]!.steps
  await setClock('2026-03-04T01:00:00Z')
  await ask.stepDone({ stepId: first!.stepId, anyway: true, workedMin: first!.handsOnMinutes + 120 })
  await ask.stepDone({ stepId: second!.stepId, anyway: true, workedMin: null })
  await ask.stepDone({ stepId: third!.stepId, anyway: true, workedMin: null })
  await setClock(`${promisedFor ?? ''}T15:00:00Z`)
  expect((await workedOut(shop, id)).whyFallen).toContain(
    'Steps ran 2 h over their estimates, not counting 2 steps without a time.',
  )
})

test('without odds no chance is shown, and none is made up', async () => {
  const { ask } = await aDesk()
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: '2026-05-30' })
  await ask.commissionHold({ id, until: 'open-end', why: 'No wood' })
  const { outlook } = await ask.commission({ id })
  expect(outlook).toMatchObject({ chance: null, danger: 'unknown', days: null })
})

test('a promise after the day that the customer needs it is taken and kept, and says both', async () => {
  const shop = await aDesk()
  const { ask } = shop
  const needed = { ...small, neededBy: '2026-03-04' }
  const taken = await ask.takeOrder({ draft: needed, standing: 'agreed', promisedFor: 'as-quoted' })
  expect(taken.said).toMatch(/, after the day they need it \(Wed, Mar 4\)\.$/)
  const order = await workedOut(shop, taken.commissionId)
  expect(order.outlook).toMatchObject({ danger: 'none', missesNeed: true })
  expect((await ask.orderBook()).open[0]).toMatchObject({ neededBy: '2026-03-04', outlook: { missesNeed: true } })
  const { said } = await ask.commissionChange({ id: taken.commissionId, changes: { promisedFor: '2026-06-30' } })
  expect(said).toContain('after the day they need it (Wed, Mar 4)')

  const inTime = { ...small, neededBy: '2026-06-30' }
  const other = await ask.takeOrder({ draft: inTime, standing: 'agreed', promisedFor: '2026-06-30' })
  expect(other.said).not.toContain('need it')
  expect((await workedOut(shop, other.commissionId)).outlook.missesNeed).toBe(false)
})

/** The local days before `until` from `from` on that fall on one of these ISO weekdays. */
function daysOn(weekdays: readonly number[], from: string, until: string): number {
  let count = 0
  for (let day = from; day < until; day = daysLater(day, 1)) if (weekdays.includes(isoWeekday(day))) count += 1
  return count
}

test('a day counts once as missed, whoever had hours on it and however many', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const hours = (times: readonly (readonly [string, string])[]) =>
    [2, 3, 4].flatMap((weekday) => times.map(([from, to]) => ({ weekday, from, to })))
  const evening = ['19:00', '22:00'] as const
  const two = { id: 'maker', name: 'Me', attendance: '90%', hours: hours([['10:00', '11:00'], evening]) }
  await ask.almanacSave({ list: 'makers', item: two })
  await ask.almanacSave({ list: 'makers', item: { id: '', name: 'Wren', attendance: '90%', hours: hours([evening]) } })
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  const promisedFor = (await workedOut(shop, id)).promisedFor!
  await setClock(`${promisedFor}T15:00:00Z`)
  const days = daysOn([2, 3, 4], '2026-03-03', promisedFor)
  expect(days).toBeGreaterThan(1)
  expect((await workedOut(shop, id)).whyFallen).toEqual([`No work logged on ${days} shop days.`])
})

test('of the time before work at closed orders is read no day is told as missed', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: 'as-quoted' })
  await workedOut(shop, id)
  await setClock('2026-06-20T15:00:00Z')
  // Two months are read back from the newest entry.
  await ask.commissionRemind({ id, day: '2026-06-30' })
  const days = daysOn([1, 2, 3, 4, 6], '2026-04-19', '2026-06-20')
  expect((await workedOut(shop, id)).whyFallen).toEqual([`No work logged on ${days} shop days since Sun, Apr 19.`])
})

test('a failure, lumber that came later than was said, and other hours are told with their days', async () => {
  const shop = await aDesk()
  const { ask, setClock } = shop
  const { commissionId: id } = await ask.takeOrder({ draft: small, standing: 'agreed', promisedFor: '2026-03-21' })
  await ask.lumberFrom({ id, from: 'yard', expectedOn: '2026-03-04' })
  await setClock('2026-03-04T15:00:00Z')
  await ask.lumberNotYet({ id, on: '2026-03-06' })
  await setClock('2026-03-07T15:00:00Z')
  await ask.lumberHere({ id })
  await ask.lumberRested({ id })
  const [first] = (await ask.commission({ id })).pieces.flatMap(({ steps }) => steps)
  await ask.stepDone({ stepId: first!.stepId, anyway: true, workedMin: first!.handsOnMinutes })
  await ask.stepFailed({
    ...{ stepId: first!.stepId, count: 1, fromStepId: first!.stepId, reason: 'mistake', note: '' },
  })
  const hours = [1, 2, 3, 4].map((weekday) => ({ weekday, from: '19:00', to: '21:30' }))
  await ask.almanacSave({ list: 'makers', item: { id: 'maker', name: 'Me', attendance: '90%', hours } })
  await setClock('2026-03-21T15:00:00Z')
  const { whyFallen } = await workedOut(shop, id)
  expect(whyFallen).toEqual([
    `Failed on Sat, Mar 7: ${first!.name.toLowerCase()}.`,
    'Lumber came on Sat, Mar 7, expected on Wed, Mar 4.',
    // By the hours of now, since they are so: two weeks of Monday to Thursday.
    'No work logged on 8 shop days.',
    'Shop hours changed on Sat, Mar 7.',
  ])
})

import { expect, test } from 'vitest'
import { replications } from '../../desk/planner/odds-view.ts'
import { aDesk, aDraft, aPiece, type TestDesk } from './support/a-desk.ts'
import { workUntil } from './support/work-until.ts'

const at = (minute: number): string => new Date(minute * 60_000).toISOString()

const titles = ({ events }: TestDesk): string[] =>
  events.flatMap((event) => (event.kind === 'notice' ? [event.notice.title] : []))

test('a coat is told when it may be recoated, once, and again when its window is about to close', async () => {
  const one = await aDesk()
  const { ask, setClock } = one
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First coat')
  const row = (await ask.rack()).waiting.find(({ state }) => state === 'drying')
  // Recoat opens after 24 h; a coat older than a week is scuffed first (waits.csv, wiping_oil_varnish recoat_min, recoat_max).
  expect(row!.readyAt! - row!.sinceAt).toBe(24 * 60)
  expect(row!.window!.closesAt - row!.sinceAt).toBe(7 * 24 * 60)

  await setClock(at(row!.readyAt! - 1))
  expect(titles(one).filter((title) => title.startsWith('Ready for'))).toHaveLength(0)
  await setClock(at(row!.readyAt!))
  await setClock(at(row!.readyAt! + 60))
  expect(titles(one).filter((title) => title.startsWith('Ready for'))).toHaveLength(1)

  await setClock(at(row!.window!.closesAt - 60))
  expect(titles(one).filter((title) => title.startsWith('Recoat by'))).toHaveLength(1)
})

test('a notice put to sleep is told again when it wakes, and is due no more once its work is done', async () => {
  const one = await aDesk()
  const { ask, setClock } = one
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First coat')
  const row = (await ask.rack()).waiting.find(({ state }) => state === 'drying')
  const told = () => titles(one).filter((title) => title.startsWith('Ready for'))
  await setClock(at(row!.readyAt!))
  const id = one.events.flatMap((event) => (event.kind === 'notice' ? [event.notice.id] : [])).at(-1)!
  await ask.noticeSleep({ id, wakesAtMin: row!.readyAt! + 60 })
  await setClock(at(row!.readyAt! + 59))
  expect(told()).toHaveLength(1)
  await setClock(at(row!.readyAt! + 60))
  await setClock(at(row!.readyAt! + 90))
  expect(told()).toHaveLength(2)
  expect(await ask.noticesDue({ ids: [id, 'ready/of/nothing'] })).toEqual([id])
  await ask.stepStart({ stepId: row!.next!.stepId, anyway: true })
  expect(await ask.noticesDue({ ids: [id] })).toEqual([])
})

test('in a shop that is too cold a wait stands still, with the reason, and no date is invented', async () => {
  const one = await aDesk()
  const { ask } = one
  const { commissionId } = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  expect((await ask.commission({ id: commissionId })).doneAt).not.toBeNull()
  await workUntil(one, 'First glue-up')
  // Type I PVA: 7 C at least (waits.csv, pva_type1 min_temp).
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '5 C' })
  const [row] = (await ask.rack()).waiting
  expect(row).toMatchObject({ readyAt: null, advice: { kind: 'stands-still' } })
  const cold = await ask.commission({ id: commissionId })
  expect(cold.doneAt).toBeNull()
  expect((await ask.whyDate({ id: commissionId })).join(' ')).toMatch(/stands still/)
  expect(new Set((await ask.shopState()).inTheWay.map((each) => each.code))).toEqual(new Set(['stands-still']))
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '20 C' })
  expect((await ask.shopState()).inTheWay).toEqual([])
  expect((await ask.commission({ id: commissionId })).doneAt).not.toBeNull()
})

test('in a shop with cold nights the glue stands still until it is heated again, and Rack and plan agree', async () => {
  const one = await aDesk({ at: '2026-01-13T15:00:00Z' })
  const { ask, setClock } = one
  await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  const draft = aDraft({ pieces: [aPiece({ glue: 'epoxy_slow' }, 'edge-grain-board')] })
  await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'Glue-up')
  const curing = (await ask.rack()).waiting[0]!
  // Long after closing (21:30) the room is down to January's 3 C; the glue needs 16 C (waits.csv, epoxy_slow min_temp).
  await setClock(at(curing.sinceAt + 12 * 60))
  const [row] = (await ask.rack()).waiting
  expect(row).toMatchObject({
    advice: { kind: 'stands-still', reason: 'Too cold, will not cure now' },
  })
  const advice = row!.advice as { goesOnAt: number }
  // An evening or a Saturday is the next that the shop is open; its first hour warms it.
  const opens = (await ask.bench({ rows: 24 })).session!.fromAt
  expect(advice.goesOnAt).toBeGreaterThanOrEqual(opens)
  expect(advice.goesOnAt).toBeLessThanOrEqual(opens + 60)
  expect(row!.readyAt!).toBeGreaterThan(advice.goesOnAt)
  // 15 h at reference; an evening of two and a half hours and its cooling room give at most four or so.
  expect(row!.readyAt! - row!.sinceAt).toBeGreaterThan(3 * 24 * 60)
  expect(row!.still.reduce((sum, { from, to }) => sum + to - from, 0)).toBeGreaterThan(2 * 24 * 60)
  expect(row!.why.join(' ')).toMatch(/Too cold: Slow epoxy does not set at \d+ °F/)
  expect(row!.why.join(' ')).toMatch(/heated only while somebody works: for .* it stands still/)
  expect(row!.next!.plannedAt).toBeGreaterThanOrEqual(row!.readyAt!)
  // When it goes on, nothing is said of the cold any more.
  await setClock(at(advice.goesOnAt + 5))
  expect((await ask.rack()).waiting[0]!.advice.kind).toBe('wait')
})

// Siau (1984), from memory: at 3 C water leaves wood at 0.4 of its speed at 21 C, so a cure of a day takes two or so.
test('a joint that has set goes on curing in cold nights, only more slowly', async () => {
  const one = await aDesk({ at: '2026-01-13T15:00:00Z' })
  const { ask } = one
  await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  await workUntil(one, 'Take off the clamps (first glue-up)')
  const [row] = (await ask.rack()).waiting
  expect(row!.readyAt! - row!.sinceAt).toBeGreaterThan(1.3 * 24 * 60)
  expect(row!.readyAt! - row!.sinceAt).toBeLessThan(3 * 24 * 60)
  expect(row!.still).toEqual([])
  expect(row!.spoiled).toBeNull()
})

test('water-based glue that gets cold while it is wet is spoiled: the Rack says to check it, not that it is late', async () => {
  const one = await aDesk()
  const { ask } = one
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First glue-up')
  expect((await ask.rack()).waiting[0]!.spoiled).toBeNull()
  // Type I PVA chalks below 7 C (waits.csv, pva_type1 min_temp).
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '5 C' })
  expect((await ask.rack()).waiting[0]!.spoiled).toMatch(/^Check it or redo it.*41 °F.*chalky/)
})

test('glue is not put on in the cold: the plan waits for the warm hours, and the Bench says from when', async () => {
  const one = await aDesk({ at: '2026-01-13T15:00:00Z' })
  const { ask, setClock } = one
  await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const ripped = await workUntil(one, 'Rip the strips')
  await setClock(at(ripped + 12 * 60))
  // January's rest is 3 C; somebody who comes in an hour early finds the shop cold.
  const evening = (await ask.bench({ rows: 24 })).session!
  await setClock(at(evening.fromAt - 60))
  const glueUp = (await ask.bench({ rows: 24 })).comingUp.find(({ name }) => name.startsWith('First glue-up'))
  expect(glueUp?.hindrance).toMatch(/^Too cold: Waterproof PVA glue should not be put on at \d+ °F.*OK from /)
})

test('what is in clamps has cured on in an hour that the almanac does not have, because work was logged then', async () => {
  const one = await aDesk({ at: '2026-01-13T15:00:00Z' })
  const { ask, setClock } = one
  await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const freed = await workUntil(one, 'Take off the clamps (first glue-up)')
  const strip = aDraft({ pieces: [aPiece({}, 'edge-grain-board')] })
  const other = await ask.takeOrder({ draft: strip, standing: 'agreed', promisedFor: null })
  const readyAt = async () => (await ask.rack()).waiting[0]!.readyAt!

  // In the evening the clamps came off; from 10:00 to 13:00 of the next day the almanac has shop closed.
  const nextNoon = Math.floor(freed / 1440) * 1440 + 16 * 60
  await setClock(at(nextNoon))
  const before = await readyAt()
  const [mill] = (await ask.commission({ id: other.commissionId })).pieces[0]!.steps
  await ask.stepStart({ stepId: mill!.stepId, anyway: true })
  await setClock(at(nextNoon + 180))
  await ask.stepDone({ stepId: mill!.stepId, anyway: true })
  const after = await readyAt()
  expect(after).toBeLessThan(before)
  // It was warm then, whatever becomes of the order that was worked on.
  await ask.commissionCallOff({ id: other.commissionId })
  expect(await readyAt()).toBe(after)
})

test('a recoat window keeps its width in the cold, on the Rack as in the plan', async () => {
  const one = await aDesk({ at: '2026-01-13T15:00:00Z' })
  const { ask } = one
  const draft = aDraft({ pieces: [aPiece({ finish: 'wiping_oil_varnish' }, 'edge-grain-board')] })
  await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First coat')
  await ask.almanacChangeFact({ key: 'air.heated', input: 'for-work' })
  const row = (await ask.rack()).waiting.find(({ state }) => state === 'drying')!
  // 24 h until recoat and a week until it closes at reference (waits.csv, wiping_oil_varnish): six days open.
  expect(row.readyAt! - row.sinceAt).toBeGreaterThan(1.5 * 24 * 60)
  expect(row.window!.closesAt - row.readyAt!).toBe(6 * 24 * 60)
  expect(row.next!.plannedAt).toBeGreaterThanOrEqual(row.readyAt!)
  expect(row.next!.plannedAt).toBeLessThanOrEqual(row.window!.closesAt)
})

test('what becomes due in the night is told in the morning', async () => {
  const one = await aDesk()
  const { ask, setClock } = one
  await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  await workUntil(one, 'First glue-up')
  const { readyAt } = (await ask.rack()).waiting[0]!
  const midnight = readyAt! - (readyAt! % 1440) + 1440 + 6 * 60
  await setClock(at(midnight))
  expect(titles(one)).toEqual([])
  await setClock(at(midnight + 7 * 60))
  expect(titles(one)).toContain('Clamps can come off')
})

test('still tacky pushes back what follows and is remembered', async () => {
  const one = await aDesk()
  const { ask } = one
  const draft = aDraft({ pieces: [aPiece({ finish: 'oil_polyurethane', food: false }, 'edge-grain-board')] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  const coated = await workUntil(one, 'First coat')
  const before = (await ask.rack()).waiting.find(({ state }) => state === 'drying')
  await ask.stepStillTacky({ stepId: before!.tackyStepId!, minutes: 24 * 60 })
  const after = (await ask.rack()).waiting.find(({ state }) => state === 'drying')
  expect(after!.readyAt).toBe(coated + 24 * 60)
  const { history } = await ask.commission({ id: commissionId })
  expect(history[0]!.text).toMatch(/^Still tacky, pushed back 1 day/)
})

test('an asked-about order gets a date and odds that say how often it is kept', async () => {
  const { ask } = await aDesk()
  const answer = await ask.draftQuote({ draft: aDraft({ neededBy: '2026-03-04' }), asked: 'odds' })
  expect(answer.problems).toEqual([])
  const [offer] = answer.offers
  expect(offer!.kind).toBe('keeps-every-promise')
  expect(offer!.odds!.p50At).toBeLessThanOrEqual(offer!.odds!.p80At)
  expect(offer!.odds!.p80At).toBeLessThanOrEqual(offer!.odds!.p95At)
  expect(offer!.odds!.replications).toBe(replications)
  expect(offer!.why.length).toBeGreaterThan(0)
  // The same question gets the same answer: the luck of each replication is common to all.
  expect((await ask.draftQuote({ draft: aDraft({ neededBy: '2026-03-04' }), asked: 'odds' })).offers[0]!.odds).toEqual(
    offer!.odds,
  )
})

test('a commission that cannot be planned is named with what would do, and the others keep their dates', async () => {
  const { ask } = await aDesk()
  const other = await ask.takeOrder({ draft: aDraft(), standing: 'agreed', promisedFor: null })
  const row = {
    name: 'Bend it round the form',
    minutes: '2 h',
    kind: 'glue-up',
    wait: '',
    atMost: '',
    after: '',
    dusty: false,
    units: '',
  }
  const draft = aDraft({ pieces: [aPiece({ title: 'Bent chair back', rows: [row] }, 'free-list')] })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  expect((await ask.commission({ id: commissionId })).doneAt).not.toBeNull()
  // From now on nobody is in the shop for two hours at a time.
  const { almanac } = await ask.almanac()
  const maker = almanac.makers[0]!
  const hours = [1, 2, 3, 4, 5].map((weekday) => ({ weekday, from: '19:00', to: '20:30' }))
  await ask.almanacSave({ list: 'makers', item: { id: maker.id, name: maker.name, attendance: '90 %', hours } })
  expect((await ask.commission({ id: commissionId })).doneAt).toBeNull()
  expect((await ask.shopState()).inTheWay[0]!.message).toContain('Bend it round the form')
  expect((await ask.commission({ id: other.commissionId })).doneAt).not.toBeNull()
})

test('a commission says what decides its date and the one change that would bring it nearest', async () => {
  const { ask } = await aDesk()
  const draft = aDraft({ pieces: [aPiece({}, 'edge-grain-board', '4')] })
  for (let orders = 0; orders < 4; orders++) await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  const { commissionId } = await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  const slow = await ask.commission({ id: commissionId })
  expect((await ask.whyDate({ id: commissionId })).length).toBeGreaterThan(0)
  // Five such orders are fought over by one pair of hands in the evenings: hours are what helps.
  expect(await ask.whatWouldHelp({ id: commissionId })).toMatch(/^.+(more hour|long day).*: done .+ sooner\.$/)

  // Asked by three screens at once, none is told less than the others.
  const asked = await Promise.all([1, 2, 3].map(() => ask.whatWouldHelp({ id: commissionId })))
  expect(new Set(asked)).toEqual(new Set([expect.stringMatching(/^.+(more hour|long day)/)]))

  // Hours round the clock: only the waits are left, and no hours bring those nearer.
  const maker = (await ask.almanac()).almanac.makers[0]!
  const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, from: '0:00', to: '24:00' }))
  await ask.almanacSave({ list: 'makers', item: { id: maker.id, name: maker.name, attendance: '90 %', hours } })
  const quick = await ask.commission({ id: commissionId })
  expect(quick.doneAt!).toBeLessThan(slow.doneAt!)
  expect((await ask.whatWouldHelp({ id: commissionId })) ?? '').not.toMatch(/more hour|long day/)
})

test('in a warm hour a glue-up says that its glue sets before the joints are closed, and can be started all the same', async () => {
  const one = await aDesk()
  const { ask } = one
  const draft = aDraft({ pieces: [aPiece({ glue: 'pva_type1', width: '20' }, 'edge-grain-board')] })
  await ask.takeOrder({ draft, standing: 'agreed', promisedFor: null })
  await workUntil(one, 'Rip the strips')
  const glueUp = async () => (await ask.bench({ rows: 24 })).canStart.find(({ name }) => name === 'Glue-up')
  expect((await glueUp())?.hindrance).toBeNull()
  // Type I PVA: 20-25 min from spreading to full pressure at 21 °C (waits.csv, pva_type1 total_assembly), half for every 5.6 °C more.
  await ask.almanacChangeFact({ key: 'shop.temperature', input: '35 C' })
  expect((await glueUp())?.hindrance).toMatch(
    /^Waterproof PVA glue gives 4 min at 95 °F, spreading and closing take about \d+\. Wait for a cooler hour/,
  )
})

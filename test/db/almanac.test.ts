import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { isoCurrency } from '../../core/money/currency.ts'
import { isNewShop, loadAlmanac, saveAlmanac } from '../../db/almanac.ts'
import { hoursHeld } from '../../db/hours-held.ts'
import { entryById, latestEntries } from '../../db/log.ts'
import { takeBack } from '../../db/undo.ts'
import { openShop, START_MS, valueOf } from './support/shop-files.ts'

const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const elsewhere = startingAlmanac({ timeZone: 'Europe/Berlin', units: 'millimetre', currency: 'EUR' })
const stamp = { atMs: START_MS, makerId: null }

/** Everything in it is unlike the built-in one. */
const changedEverywhere: Almanac = {
  clampForceN: 3000,
  goBy: 'bold',
  countRecord: 'no',
  places: [{ id: 'p', name: 'Box', kind: 'warm-box', celsius: 24, rh: 0.4, capacity: 2, carryMin: 5, inPlans: true }],
  finishSchedules: [
    {
      ...{ id: 'rubbed', name: 'Brushed and rubbed out', rubOut: '0000 pad', wax: 'wax' },
      layers: [{ finish: 'oil', coats: 2, method: 'brush', sandGrit: 320 }],
    },
  ],
  ownWaits: [{ product: 'oil', wait: 'drying', use: 'own', factor: 1.5, count: 3 }],
  usual: { wood: 'w', finish: 'g' },
  firstStart: { greeted: true, hoursSaid: true },
  buyingDay: 3,
  restDays: 10,
  keepCustomersYears: 10,
  countLumber: 'never',
  shop: {
    name: 'Heron Lane Woodwork',
    timeZone: 'Australia/Lord_Howe',
    units: 'millimetre',
    currency: isoCurrency('AUD'),
    temperatureC: 12.5,
    humidityRh: 0.62,
  },
  air: {
    heated: 'for-work',
    unheatedC: starting.air.unheatedC.map((celsius) => celsius - 4.5),
    unheatedRh: starting.air.unheatedRh.map((rh) => rh + 0.125),
    warmUpMin: 45,
    coolDownMin: 0,
  },
  home: { driest: { celsius: 19, rh: 0.25 }, dampest: { celsius: 27.5, rh: 0.75 } },
  makers: [
    {
      id: 'm2',
      name: 'Ines',
      attendance: 0.75,
      weeklyHours: {
        2: [
          { from: 480, to: 720 },
          { from: 780, to: 1440 },
        ],
        7: [{ from: 0, to: 60 }],
      },
    },
    { id: 'm1', name: 'Abel', attendance: 1, weeklyHours: {} },
  ],
  specialDays: [
    { id: 'd1', day: '2026-12-24', kind: 'closed', hours: [], maker: null, note: '' },
    {
      id: 'd2',
      day: '2026-12-19',
      kind: 'extra',
      hours: [{ from: 540, to: 600 }],
      maker: 'm1',
      note: 'before the fair',
    },
    { id: 'd3', day: '2026-12-20', kind: 'fair', hours: [], maker: 'm2', note: 'Winter market' },
  ],
  stations: [{ id: 's', name: 'Long rack', kind: 'rack', capacity: 30 }],
  glues: [
    {
      id: 'g',
      class: 'pva_type2',
      name: 'The yellow one',
      label: { clampsOff: { min: 30, typical: 45, max: 60 }, coldestC: { min: -2.5, typical: 10, max: 10 } },
    },
  ],
  // Ids are unique on their own shelf only.
  finishes: [{ id: 'g', class: 'shellac', name: 'Own cut', label: {} }],
  woods: [{ id: 'w', name: 'Old beam', species: 'Oak, white' }],
  constructions: [
    {
      id: 'own-knife-block',
      name: 'Knife block',
      about: 'Stands on the counter.',
      units: 'millimetre',
      fields: [{ key: 'slots', label: 'Slots', kind: 'count', start: '5', least: 1, most: null, choices: [] }],
      parts: [],
      steps: [
        {
          name: 'Plane',
          kind: 'machine',
          minutes: '10 + slots',
          wait: { kind: 'minutes', minutes: 60 },
          atMostMin: 90,
          after: [],
          dusty: true,
          units: '0',
          when: '',
          stops: 'one-go',
          takes: 'glueUpBench',
          until: 'end',
          setUp: { family: 'drum-sander', minutes: '10' },
        },
      ],
    },
  ],
  standardTimes: starting.standardTimes.map((time, at) => ({ ...time, perUnitMin: time.perUnitMin + at + 0.25 })),
  times: {
    follow: 'when-accepted',
    decisions: [
      { operation: 'rip-strips', use: { kind: 'mine', perUnitMin: 1.75 }, decidedAtMin: 29_400_000 },
      { operation: 'sand', use: { kind: 'book' }, decidedAtMin: 29_400_060 },
    ],
    entries: [{ stepId: 's1', choice: 'count' }],
    asked: [{ operation: 'mill-stock', minutes: 90, units: 10, askedAtMin: 29_300_000 }],
  },
  allowances: { ...starting.allowances, sawKerfNm: 2_381_250, mitreTrimNm: 0 },
  glueUpWithinMin: 720,
  yard: { thicknessesNm: [27_000_000, 52_000_000], widthsNm: [180_000_000], lengthsNm: [2_500_000_000], waste: 0.25 },
  money: {
    ...starting.money,
    payPerHourMinor: 2800,
    payOfMaker: { a: 3100 },
    taxes: [{ id: 'tax-1', name: 'Sales tax', rate: 72_500 }],
    pricesIncludeTax: true,
    terms: 'Half down.\nThe rest when it is fetched.',
  },
  machines: ['saw'],
  leftToOthers: { w: ['saw', 'glue-ups'] },
  session: { warmUpMin: 10, putAwayMin: 15, breakMin: 30, breakOverMin: 360 },
  woodWaste: { walnut: { grade: 'fas', share: 1 / 6, byThickness: [{ thicknessNm: 52_000_000, share: 0.3 }] } },
  woodPrices: { w: { minor: 1150, per: 'board-foot' }, ash: { minor: 0, per: 'cubic-metre' } },
}

describe('the almanac', () => {
  test('a new shop has the built-in one, and only its place is stored', async () => {
    const { db } = await openShop()
    expect(await isNewShop(db)).toBe(true)
    expect(await loadAlmanac(db, starting)).toEqual(starting)
    await saveAlmanac(db, starting, starting, stamp)
    expect(await isNewShop(db)).toBe(false)
    for (const table of [
      'unheated_month',
      'own_list',
      'maker',
      'station',
      'product',
      'wood',
      'own_construction',
      'standard_time',
      'allowance',
      'yard_size',
      'shop_figure',
      'drying_place',
      'own_wait',
      'wood_price',
    ] as const)
      expect(await db.selectFrom(table).selectAll().execute()).toEqual([])
  })

  test('time zone, units and currency stay those of the shop when the computer is elsewhere', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, starting, starting, stamp)
    expect((await loadAlmanac(db, elsewhere)).shop).toEqual(starting.shop)
  })

  test('an almanac that differs everywhere comes back from the file as it was', async () => {
    const { db, path, close } = await openShop()
    await saveAlmanac(db, starting, starting, stamp)
    await saveAlmanac(db, changedEverywhere, starting, stamp)
    await close()
    const again = await openShop(path)
    expect(await loadAlmanac(again.db, starting)).toEqual(changedEverywhere)
    // Sizes that were never changed are those of the starting almanac, which the desk gives in the shop's own units.
    const there = { ...elsewhere, allowances: starting.allowances }
    expect(await loadAlmanac(again.db, there)).toEqual(changedEverywhere)
  })

  test('one changed figure is one changed row in the log', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, starting, starting, stamp)
    const kerf = { ...starting, allowances: { ...starting.allowances, sawKerfNm: 2_381_250 } }
    const id = await saveAlmanac(db, kerf, starting, stamp)
    expect((await entryById(db, id!))?.event).toEqual({
      kind: 'rows',
      changes: [
        {
          table: 'allowance',
          key: { name: 'sawKerfNm' },
          before: null,
          after: { name: 'sawKerfNm', length_nm: 2_381_250 },
        },
      ],
    })
    expect(await saveAlmanac(db, kerf, starting, stamp)).toBeNull()
    expect(await latestEntries(db, 10)).toHaveLength(2)
  })

  test('a figure put back to the built-in one is no row any more', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, changedEverywhere, starting, stamp)
    await saveAlmanac(db, { ...starting, shop: changedEverywhere.shop }, starting, stamp)
    expect(await db.selectFrom('own_list').selectAll().execute()).toEqual([])
    expect(await db.selectFrom('maker_hours').selectAll().execute()).toEqual([])
    expect(await db.selectFrom('standard_time').selectAll().execute()).toEqual([])
  })

  test('one size of the yard more is the whole list of that kind, and no other', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, starting, starting, stamp)
    const yard = { ...starting.yard, widthsNm: [100_000_000, ...starting.yard.widthsNm] }
    await saveAlmanac(db, { ...starting, yard }, starting, stamp)
    const rows = await db.selectFrom('yard_size').selectAll().execute()
    expect(rows.map(({ kind }) => kind)).toEqual(['width', 'width', 'width'])
    expect((await loadAlmanac(db, starting)).yard).toEqual(yard)
    await saveAlmanac(db, starting, starting, stamp)
    expect(await db.selectFrom('yard_size').selectAll().execute()).toEqual([])
  })

  test('an empty list of the maker is not the built-in list', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, { ...starting, woods: [] }, starting, stamp)
    expect((await loadAlmanac(db, starting)).woods).toEqual([])
  })

  test('lists keep the order in which the maker has put them', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, { ...starting, woods: starting.woods.slice(1) }, starting, stamp)
    const turned = { ...starting, woods: starting.woods.slice(1).reverse(), stations: starting.stations.toReversed() }
    const id = await saveAlmanac(db, turned, starting, stamp)
    expect(await loadAlmanac(db, starting)).toEqual(turned)
    valueOf(await takeBack(db, id!, stamp))
    expect(await loadAlmanac(db, starting)).toEqual({ ...starting, woods: starting.woods.slice(1) })
  })

  test('changes are taken back and put back whole', async () => {
    const { db } = await openShop()
    await saveAlmanac(db, starting, starting, stamp)
    const id = await saveAlmanac(db, changedEverywhere, starting, stamp)
    const undone = valueOf(await takeBack(db, id!, stamp))
    const there = { ...elsewhere, allowances: starting.allowances, yard: starting.yard }
    expect(await loadAlmanac(db, there)).toEqual({ ...starting, shop: starting.shop })
    valueOf(await takeBack(db, undone.id, stamp))
    expect(await loadAlmanac(db, starting)).toEqual(changedEverywhere)
  })

  test('two makers of one id, or two stretches that begin together, are refused whole', async () => {
    const { db } = await openShop()
    const [maker] = starting.makers
    const twice = [maker!, { ...maker!, name: 'Somebody else' }]
    await expect(saveAlmanac(db, { ...starting, makers: twice }, starting, stamp)).rejects.toThrow(/Two rows of maker/)
    const hours = [
      { from: 480, to: 500 },
      { from: 480, to: 700 },
    ]
    const doubled = [{ ...maker!, weeklyHours: { 1: hours } }]
    await expect(saveAlmanac(db, { ...starting, makers: doubled }, starting, stamp)).rejects.toThrow(/maker_hours/)
    expect(await isNewShop(db)).toBe(true)
    expect(await latestEntries(db, 10)).toEqual([])
  })
})

test('hours are what they are since the entry that changed them last, not since one that stored them unchanged', async () => {
  const { db } = await openShop()
  const minute = START_MS / 60_000
  const at = (later: number) => ({ atMs: START_MS + later * 60_000, makerId: null })
  const held = () => hoursHeld(db, starting.makers)
  const since = (later: number) => [{ from: minute + later, to: Infinity }]
  const [me] = starting.makers
  const wren = { ...me!, id: 'wren', name: 'Wren' }
  await saveAlmanac(db, starting, starting, at(0), 'shop-begun')
  await saveAlmanac(db, { ...starting, makers: [{ ...me!, name: 'Ines' }] }, starting, at(1))
  expect(await held()).toEqual(new Map())
  const both = { ...starting, makers: [{ ...me!, name: 'Ines' }, wren] }
  await saveAlmanac(db, both, starting, at(2))
  expect(await held()).toEqual(new Map([['wren', since(2)]]))
  const later = { ...me!, name: 'Ines', weeklyHours: { 1: [{ from: 600, to: 720 }] } }
  const entry = await saveAlmanac(db, { ...both, makers: [later, wren] }, starting, at(3))
  expect(await held()).toEqual(
    new Map([
      ['wren', since(2)],
      ['maker', since(3)],
    ]),
  )
  valueOf(await takeBack(db, entry!, at(4)))
  expect(await held()).toEqual(new Map([['wren', since(2)]]))
  // As a new shop has it: its rows go, its hours stay.
  await saveAlmanac(db, starting, starting, at(5))
  expect((await held()).get('maker')).toBeUndefined()
})

test('hours that were changed and changed back by hand held before as well, and not between', async () => {
  const { db } = await openShop()
  const minute = START_MS / 60_000
  const at = (later: number) => ({ atMs: START_MS + later * 60_000, makerId: null })
  const [me] = starting.makers
  const withEnd = (to: number) => ({ ...starting, makers: [{ ...me!, weeklyHours: { 1: [{ from: 600, to }] } }] })
  await saveAlmanac(db, starting, starting, at(0), 'shop-begun')
  await saveAlmanac(db, withEnd(720), starting, at(10))
  // The row keeps its key and changes its end.
  await saveAlmanac(db, withEnd(780), starting, at(20))
  await saveAlmanac(db, withEnd(720), starting, at(30))
  const between = { from: minute + 10, to: minute + 20 }
  expect((await hoursHeld(db, starting.makers)).get('maker')).toEqual([between, { from: minute + 30, to: Infinity }])
  // As a new shop has them: from the beginning to the first change, and again from now.
  await saveAlmanac(db, starting, starting, at(40))
  expect((await hoursHeld(db, starting.makers)).get('maker')).toEqual([
    { from: -Infinity, to: minute + 10 },
    { from: minute + 40, to: Infinity },
  ])
})

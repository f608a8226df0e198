import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { withListed, withoutListed } from '../../../core/almanac/lists.ts'
import { readMaker, type MakerInput } from '../../../core/almanac/read-maker.ts'
import { readFinish, readGlue } from '../../../core/almanac/read-product.ts'
import { readSpecialDay, type SpecialDayInput } from '../../../core/almanac/read-special-day.ts'
import { readStation } from '../../../core/almanac/read-station.ts'
import { readWood } from '../../../core/almanac/read-wood.ts'
import type { Result } from '../../../core/problems.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

const fields = (result: Result<unknown>) => (result.ok ? [] : result.problems.map((one) => one.field))
const first = (result: Result<unknown>) => (result.ok ? 'taken' : (result.problems[0]?.message ?? ''))

describe('makers', () => {
  const input: MakerInput = {
    id: '',
    name: 'Second Hand',
    attendance: '80 %',
    hours: [
      { weekday: 6, from: '9:00', to: '12:00' },
      { weekday: 6, from: '1 pm', to: '17:00' },
    ],
  }

  test('are read with an id of their own', () => {
    expect(readMaker(input, almanac)).toEqual({
      ok: true,
      value: {
        id: 'second-hand',
        name: 'Second Hand',
        attendance: 0.8,
        weeklyHours: {
          6: [
            { from: 540, to: 720 },
            { from: 780, to: 1020 },
          ],
        },
      },
    })
  })

  test('hours that overlap are named', () => {
    const result = readMaker({ ...input, hours: [...input.hours, { weekday: 6, from: '11:00', to: '14:00' }] }, almanac)
    expect(fields(result)).toEqual(['hours.2.from'])
    expect(first(result)).toBe('Saturday: 11:00-14:00 overlaps 9:00-12:00. Make them one stretch, or move one.')
  })

  test('everything wrong is said at once, each with its field', () => {
    const result = readMaker(
      {
        id: '',
        name: ' ',
        attendance: '0',
        hours: [
          { weekday: 9, from: '', to: '' },
          { weekday: 1, from: '21:00', to: '19:00' },
          { weekday: 2, from: '25:00', to: 'late' },
        ],
      },
      almanac,
    )
    expect(fields(result)).toEqual([
      'name',
      'attendance',
      'hours.0.weekday',
      'hours.1.to',
      'hours.2.from',
      'hours.2.to',
    ])
  })

  test('two of one name are refused, one renamed to itself is not', () => {
    expect(fields(readMaker({ ...input, name: 'me' }, almanac))).toEqual(['name'])
    expect(fields(readMaker({ ...input, id: 'maker', name: 'Me' }, almanac))).toEqual([])
  })
})

describe('special days', () => {
  const input: SpecialDayInput = {
    id: '',
    day: '2026-12-05',
    kind: 'fair',
    maker: '',
    note: ' Winter fair ',
    hours: [],
  }

  test('a fair takes everybody out', () => {
    expect(readSpecialDay(input, almanac)).toEqual({
      ok: true,
      value: { id: '2026-12-05-fair', day: '2026-12-05', kind: 'fair', hours: [], maker: null, note: 'Winter fair' },
    })
  })

  test('extra hours need hours', () => {
    expect(fields(readSpecialDay({ ...input, kind: 'extra' }, almanac))).toEqual(['hours'])
    expect(fields(readSpecialDay({ ...input, kind: 'extra', hours: [{ from: '9', to: '12' }] }, almanac))).toEqual([])
  })

  test('a day that does not exist and a maker nobody knows', () => {
    expect(fields(readSpecialDay({ ...input, day: '2026-02-30', maker: 'nobody', kind: 'party' }, almanac))).toEqual([
      'day',
      'kind',
      'maker',
    ])
  })
})

describe('stations', () => {
  test('one of each kind', () => {
    expect(first(readStation({ id: '', name: 'More clamps', kind: 'clamps', capacity: '4' }, almanac))).toBe(
      '“Clamps” is that already: change its number instead.',
    )
    expect(fields(readStation({ id: 'clamps', name: 'Pipe clamps', kind: 'clamps', capacity: '4' }, almanac))).toEqual(
      [],
    )
  })
  test('with room for at least one', () => {
    expect(fields(readStation({ id: '', name: 'Vacuum bag', kind: 'other', capacity: '0' }, almanac))).toEqual([
      'capacity',
    ])
  })
})

describe('products', () => {
  test('what the label says is kept, what it leaves empty comes from the class', () => {
    const read = readFinish(
      {
        id: '',
        class: 'oil_polyurethane',
        name: 'Floor poly',
        label: { recoatOpens: '4 h, 6 h, 12 h', mayPack: '', coldestC: '55', coats: '3', dampestRh: '80 %' },
      },
      almanac,
    )
    expect(read).toEqual({
      ok: true,
      value: {
        id: 'floor-poly',
        class: 'oil_polyurethane',
        name: 'Floor poly',
        label: {
          recoatOpens: { min: 240, typical: 360, max: 720 },
          coldestC: { min: 12.78, typical: 12.78, max: 12.78 },
          coats: { min: 3, typical: 3, max: 3 },
          dampestRh: { min: 0.8, typical: 0.8, max: 0.8 },
        },
      },
    })
  })
  test('a class nobody knows and a figure no label has', () => {
    expect(
      fields(readGlue({ id: '', class: 'spit', name: 'Spit', label: { clampsOff: 'soon', colour: 'green' } }, almanac)),
    ).toEqual(['class', 'label.clampsOff', 'label.colour'])
  })
  test('a finish class is no glue', () =>
    expect(fields(readGlue({ id: '', class: 'shellac', name: 'S', label: {} }, almanac))).toEqual(['class']))
})

describe('woods', () => {
  test('lean on a species of the table', () => {
    expect(fields(readWood({ id: '', name: 'Soft maple', species: 'Maple, red' }, almanac))).toEqual([])
    expect(fields(readWood({ id: '', name: 'Soft maple', species: 'Maple, soft' }, almanac))).toEqual(['species'])
  })
  test('of a new shop are all in the table', () => {
    for (const wood of almanac.woods) expect(fields(readWood(wood, almanac))).toEqual([])
  })
  test('take their price with them', () => {
    const price = { minor: 1150, per: 'board-foot' } as const
    const gone = withoutListed({ ...almanac, woodPrices: { ash: price, walnut: price } }, 'woods', 'ash')
    expect(gone.ok ? gone.value.woodPrices : null).toEqual({ walnut: price })
  })
})

describe('lists', () => {
  const read = readStation({ id: '', name: 'Vacuum bag', kind: 'other', capacity: '1' }, almanac)
  const bag = read.ok ? read.value : undefined

  test('take a new thing at the end, a known one in its place, and give it back', () => {
    if (bag === undefined) throw new Error('the station does not read')
    const more = withListed(almanac, 'stations', bag)
    expect(more.stations.at(-1)).toEqual(bag)
    const renamed = withListed(more, 'stations', { ...bag, name: 'Vacuum press' })
    expect(renamed.stations.map((one) => one.name)).toEqual([
      ...almanac.stations.map((one) => one.name),
      'Vacuum press',
    ])
    expect(withoutListed(renamed, 'stations', bag.id)).toEqual({ ok: true, value: almanac })
  })

  test('the last maker stays, and days of one who leaves go along', () => {
    expect(first(withoutListed(almanac, 'makers', 'maker'))).toMatch(/at least one maker/)
    const day = { id: 'd', day: '2026-12-05', kind: 'closed' as const, hours: [], maker: 'second', note: '' }
    const two = {
      ...almanac,
      makers: [...almanac.makers, { id: 'second', name: 'B', weeklyHours: {}, attendance: 1 }],
      specialDays: [day],
    }
    const left = withoutListed(two, 'makers', 'second')
    expect(left.ok ? left.value.specialDays : null).toEqual([])
  })
})

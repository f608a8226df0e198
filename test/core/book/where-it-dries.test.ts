import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { BookLag, BookStep } from '../../../core/book/book.ts'
import { carriedBy, dryingHolds, staysOf } from '../../../core/book/carrying.ts'
import { alongStays, placeAt } from '../../../core/book/stays.ts'
import { progressOf } from '../../../core/book/step-progress.ts'
import { placesOfWaits, placeStation, type AirOfPlaces, type PlaceForWaits } from '../../../core/book/where-it-dries.ts'
import { progressBetween } from '../../../core/waits/cure-clock.ts'
import { placeHold } from '../../../core/waits/drying-place.ts'
import { FINISH_CLASSES } from '../../../core/waits/finish-classes.ts'
import { GLUE_CLASSES } from '../../../core/waits/glue-classes.ts'

const HALL: PlaceForWaits = {
  ...{ id: 'hall', name: 'Hall', capacity: 4, carryMin: 5, inPlans: true, dustFree: true },
  holdOf: () => null,
}

const step = (key: string, position: number, holds: BookStep['holds'] = []): BookStep => ({
  ...{ id: key, key, name: key, operation: 'wipe-coat', note: '', pieceId: 'p', commissionId: 'c', position },
  ...{ lot: 1, lots: 1, lotCount: 2, minutes: 20, units: null, hands: 1, interruptible: false, smallestStretchMin: 0 },
  ...{
    optimisticMin: 15,
    pessimisticMin: 30,
    holds,
    dusty: false,
    tackyMin: 60,
    tackyProduct: 'oil',
    setUp: null,
    cautions: [],
  },
})

const RACK = { station: 'rack', units: 2, until: { kind: 'start-of', step: 'second' } } as const
const STEPS = [step('first', 0, [RACK]), step('second', 1)]

const drying: BookLag = {
  ...{
    pieceId: 'p',
    from: 'first',
    to: 'second',
    fromStep: 'first',
    toStep: 'second',
    wait: 'drying',
    name: 'first coat drying',
    product: 'oil',
  },
  ...{ minMin: 1440, optimisticMin: 1200, pessimisticMin: 2000, maxMin: null, remedy: null, source: 'a test' },
}

/** A shop in which it dries at a rate, and places at full speed. */
const air = (rate: number, places: readonly PlaceForWaits[]): AirOfPlaces => ({
  ...{ now: 1000, places },
  clockOf: (_, __, stays = []) => ({ id: 'clock', segments: [{ from: 0, rate: stays.length === 0 ? rate : 1 }] }),
  applicationOf: () => null,
})

const planned = (rate: number, place: Partial<PlaceForWaits>): string | undefined =>
  placesOfWaits(STEPS, [drying], new Map(), air(rate, [{ ...HALL, ...place }])).get('first')?.id

describe('plans carry a piece', () => {
  test('where it is ready half a day sooner, and not for less', () => {
    expect(planned(1, {})).toBeUndefined()
    // 1440 min at this rate take 2160, and 720 less in the hall; two walks of 5 min make that too little.
    expect(planned(2 / 3, {})).toBeUndefined()
    expect(planned(2 / 3, { carryMin: 0 })).toBe('hall')
    expect(planned(0, {})).toBe('hall')
  })

  test('only where the maker allows it, all of its pieces have room, and nothing speaks against its fumes', () => {
    expect(planned(0, { inPlans: false })).toBeUndefined()
    expect(planned(0, { capacity: 1 })).toBeUndefined()
    expect(planned(0, { holdOf: () => ({ code: 'not-in-the-house', message: 'Solvent.' }) })).toBeUndefined()
  })

  test('at the price of a walk there and one back, and off the rack', () => {
    const carrying = carriedBy(STEPS, [drying], new Map([['first', HALL]]))
    expect([...carrying.minutes]).toEqual([
      ['first', 5],
      ['second', 5],
    ])
    expect(dryingHolds(STEPS[0]!, carrying, 'rack')).toEqual([{ ...RACK, station: placeStation('hall') }])
    expect(dryingHolds(STEPS[1]!, carrying, 'rack')).toEqual([])
  })

  test('with its clamps, which stay on it, where it is glued up', () => {
    const clamps = { station: 'clamps', units: 4, until: { kind: 'start-of', step: 'second' } } as const
    const steps = [step('first', 0, [clamps]), STEPS[1]!]
    const carrying = carriedBy(steps, [{ ...drying, wait: 'in-clamps' }], new Map([['first', HALL]]))
    expect(dryingHolds(steps[0]!, carrying, 'rack')).toEqual([
      clamps,
      { station: placeStation('hall'), units: 2, until: { kind: 'start-of', step: 'second' } },
    ])
  })
})

test('a piece is where the log has it, and back in the shop when it was carried back', () => {
  const press = (id: number, atMin: number, action: Parameters<typeof progressOf>[0][number]['action']) => ({
    ...{ id, atMin, stepId: 'first', makerId: null, action },
  })
  const progress = progressOf([
    press(1, 100, { kind: 'done', to: 'hall' }),
    press(2, 400, { kind: 'moved', place: null }),
    press(3, 700, { kind: 'moved', place: 'hall' }),
  ])
  const stays = staysOf('first', progress, { place: new Map() })
  expect([50, 100, 399, 400, 699, 700, 9999].map((at) => placeAt(stays, at))).toEqual([
    ...[null, 'hall', 'hall', null, null, 'hall', 'hall'],
  ])
})

test('what a wait gains in places and in the shop adds up to what it gained', () => {
  const segments = fc
    .array(fc.record({ from: fc.integer({ min: 1, max: 5000 }), rate: fc.integer({ min: 0, max: 4 }) }), {
      maxLength: 8,
    })
    .map((some) => [{ from: 0, rate: 1 }, ...some.toSorted((a, b) => a.from - b.from)])
    .map((some) => some.filter(({ from }, index) => from !== some[index + 1]?.from))
  fc.assert(
    fc.property(
      segments,
      segments,
      fc.integer({ min: 0, max: 5000 }),
      fc.integer({ min: 1, max: 5000 }),
      (shop, hall, to, more) => {
        const stays = [
          { from: to, place: 'hall' },
          { from: to + more, place: null },
        ]
        const along = alongStays(shop, stays, () => hall)
        const end = to + more + 3000
        expect(progressBetween(0, end, along)).toBeCloseTo(
          progressBetween(0, to, shop) + progressBetween(to, to + more, hall) + progressBetween(to + more, end, shop),
        )
        expect(along.every(({ from }, index) => from < (along[index + 1]?.from ?? Infinity))).toBe(true)
      },
    ),
  )
})

// Makers' labels and 29 CFR 1910.94(c), 1910.107: solvent away from flames, heaters and people (reference/cautions.md).
describe('fumes', () => {
  const products = [...FINISH_CLASSES, ...GLUE_CLASSES].map(({ id, name, cautions }) => ({
    ...{ product: { class: id, name, label: {} }, cautions: cautions as readonly string[] },
  }))

  test('keep every solvent out of the house and away from a heater, and nothing out of a heated room', () => {
    for (const { product, cautions } of products) {
      const solvent = cautions.includes('vapour') || cautions.includes('spray')
      if (solvent)
        expect([placeHold(product, 'house')?.code, placeHold(product, 'warm-box')?.code]).toEqual([
          'not-in-the-house',
          'not-near-a-heater',
        ])
      if (cautions.includes('catalysed')) expect(placeHold(product, 'house')).not.toBeNull()
      expect(placeHold(product, 'room')).toBeNull()
    }
  })

  test('leave water-based glue and finish, pure oils and mineral oil to the house', () => {
    const inHouse = products
      .filter(({ product }) => placeHold(product, 'house') === null)
      .map(({ product }) => product.class)
    expect(inHouse).toEqual(
      expect.arrayContaining([
        'pva_type1',
        'pva_type2',
        'hide_liquid',
        'water_polyurethane',
        'tung_pure',
        'mineral_oil_wax',
      ]),
    )
    expect(inHouse).not.toContain('oil_polyurethane')
  })
})

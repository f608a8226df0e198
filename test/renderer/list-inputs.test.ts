import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import type { Almanac, Maker, ProductOnShelf, SpecialDay } from '../../core/almanac/almanac.ts'
import { readMaker } from '../../core/almanac/read-maker.ts'
import { readFinish, readGlue } from '../../core/almanac/read-product.ts'
import { readSpecialDay } from '../../core/almanac/read-special-day.ts'
import type { DayHours } from '../../core/time/shop-calendar.ts'
import { makerInput, productInput, specialDayInput } from '../../renderer/almanac/list-inputs.ts'

const almanac: Almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

/** Stretches of a day that neither touch nor overlap. */
const dayHours: fc.Arbitrary<DayHours[]> = fc
  .uniqueArray(fc.integer({ min: 0, max: 288 }), { minLength: 0, maxLength: 6 })
  .map((marks) => {
    const sorted = marks.toSorted((a, b) => a - b)
    return Array.from({ length: Math.floor(sorted.length / 2) }, (_, index) => ({
      from: (sorted[2 * index] ?? 0) * 5,
      to: (sorted[2 * index + 1] ?? 0) * 5,
    }))
  })

describe('a form that is opened and saved without a change', () => {
  test('leaves every maker of a new shop as it was', () => {
    for (const maker of almanac.makers) {
      expect(readMaker(makerInput(maker), almanac)).toEqual({ ok: true, value: maker })
    }
  })

  test('leaves any weekly hours as they were', () => {
    fc.assert(
      fc.property(fc.array(dayHours, { minLength: 7, maxLength: 7 }), (week) => {
        const weeklyHours = Object.fromEntries(
          week.flatMap((hours, index) => (hours.length === 0 ? [] : [[index + 1, hours]])),
        ) as Maker['weeklyHours']
        const maker: Maker = { id: 'maker', name: 'Me', attendance: 0.85, weeklyHours }
        expect(readMaker(makerInput(maker), almanac)).toEqual({ ok: true, value: maker })
      }),
    )
  })

  test('leaves every glue and finish of a new shop as it was', () => {
    for (const glue of almanac.glues) {
      expect(readGlue(productInput(glue, ''), almanac)).toEqual({ ok: true, value: glue })
    }
    for (const finish of almanac.finishes) {
      expect(readFinish(productInput(finish, ''), almanac)).toEqual({ ok: true, value: finish })
    }
  })

  // In a shop that writes degrees Fahrenheit a whole number of them would move the figure.
  test('leaves what a label says as it was, to the degree', () => {
    const [first] = almanac.finishes
    if (first === undefined) throw new Error('A new shop has finishes.')
    const labelled: ProductOnShelf = {
      ...first,
      label: {
        coldestC: { min: 12.78, typical: 12.78, max: 12.78 },
        warmestC: { min: 31, typical: 31, max: 31 },
        dampestRh: { min: 0.85, typical: 0.85, max: 0.85 },
        coats: { min: 4, typical: 4, max: 4 },
        recoatOpens: { min: 120, typical: 180, max: 2880 },
      },
    }
    expect(readFinish(productInput(labelled, ''), almanac)).toEqual({ ok: true, value: labelled })
  })

  test('leaves special days as they were', () => {
    const days: readonly SpecialDay[] = [
      { id: 'fair', day: '2026-12-12', kind: 'fair', hours: [], maker: null, note: 'Winter fair' },
      { id: 'long', day: '2026-12-19', kind: 'extra', hours: [{ from: 480, to: 750 }], maker: 'maker', note: '' },
    ]
    for (const day of days) expect(readSpecialDay(specialDayInput(day), almanac)).toEqual({ ok: true, value: day })
  })
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { applicationHold, applicationWindows, spoiledSince, spoilingOf } from '../../../core/waits/application.ts'
import { rateAt } from '../../../core/waits/cure-rate.ts'
import { FINISH_CLASSES } from '../../../core/waits/finish-classes.ts'
import { GLUE_CLASSES } from '../../../core/waits/glue-classes.ts'
import type { Product } from '../../../core/waits/product.ts'

const product = (className: string): Product => ({ class: className, name: className, label: {} })
const reasonAt = (name: string, celsius: number, rh = 0.5) =>
  applicationHold(product(name), { celsius, rh })?.reason ?? 'may'

describe('what should not be put on', () => {
  // The limits of the research table: labels and data sheets by class.
  it.each([
    ['oil_polyurethane', 12, 0.5, 'too-cold'],
    ['oil_polyurethane', 33, 0.5, 'too-warm'],
    ['oil_polyurethane', 20, 0.9, 'too-damp'],
    ['wiping_oil_varnish', 15, 0.5, 'too-cold'],
    ['water_polyurethane', 12, 0.5, 'too-cold'],
    ['shellac', 20, 0.8, 'too-damp'],
    // A turners' club note: above 60 % white haze is likely.
    ['lacquer_nc', 20, 0.61, 'too-damp'],
    ['lacquer_nc', 20, 0.6, 'may'],
    // WoodWeb (2008): 70 F.
    ['lacquer_precat', 20, 0.5, 'too-cold'],
    ['lacquer_precat', 21, 0.5, 'may'],
    ['conversion_varnish', 21, 0.5, 'may'],
    ['mineral_oil_wax', 33, 0.9, 'may'],
    ['pva_type2', 12, 0.5, 'too-cold'],
    ['urea_formaldehyde_powder', 20, 0.5, 'may'],
    ['resorcinol', 21, 0.5, 'may'],
  ])('%s at %d C and %d humidity: %s', (name, celsius, rh, reason) => {
    expect(reasonAt(name, celsius, rh)).toBe(reason)
  })

  it('is said with what would do', () => {
    expect(applicationHold(product('pva_type2'), { celsius: 5, rh: 0.5 })?.message('millimetre')).toBe(
      'Too cold: pva_type2 should not be put on at 5 °C. It needs 13 °C in wood, glue and air, or what its label says.',
    )
  })
})

describe('a joint or coat that is still wet', () => {
  const evening = [
    { from: 0, celsius: 20, rh: 0.5 },
    { from: 100, celsius: 4, rh: 0.5 },
  ]

  // Using Glue and Epoxy in a Cold Shop: below the chalk point the joint chalks.
  it('of PVA glue that gets cold is spoiled, not late', () => {
    expect(spoiledSince(product('pva_type2'), 80, 1000, evening)).toMatchObject({ at: 100 })
    expect(spoiledSince(product('pva_type2'), 80, 1000, evening)?.message('inch')).toMatch(
      /^Check it or redo it.*chalky/,
    )
  })

  it('is safe once the clamps may come off, and before it gets cold', () => {
    expect(spoiledSince(product('pva_type2'), 30, 1000, evening)).toBeNull()
    expect(spoiledSince(product('pva_type2'), 80, 99, evening)).toBeNull()
  })

  it('of oil only dries more slowly', () => {
    expect(spoilingOf(product('oil_polyurethane'))).toBeNull()
    expect(spoiledSince(product('oil_polyurethane'), 80, 1000, evening)).toBeNull()
  })

  // WoodWeb (2008): keep it at 70 F for 72 h.
  it('of conversion varnish wants three warm days', () => {
    const days = [
      { from: 0, celsius: 22, rh: 0.5 },
      { from: 71 * 60, celsius: 15, rh: 0.5 },
    ]
    expect(spoiledSince(product('conversion_varnish'), 0, 5000, days)).not.toBeNull()
    expect(applicationWindows(product('conversion_varnish'), days, 0)).toEqual([])
  })
})

describe('the windows of a step that puts it on', () => {
  const anyProduct = fc.constantFrom(...[...GLUE_CLASSES, ...FINISH_CLASSES].map((one) => product(one.id)))
  const anyAir = fc
    .array(
      fc.record({
        minutes: fc.integer({ min: 30, max: 3000 }),
        celsius: fc.integer({ min: -5, max: 35 }),
        rh: fc.constantFrom(0.4, 0.7, 0.9),
      }),
      { minLength: 1, maxLength: 12 },
    )
    .map((parts) => {
      let from = 0
      return parts.map(({ minutes, celsius, rh }) => {
        const segment = { from, celsius, rh }
        from += minutes
        return segment
      })
    })

  it('hold every minute that may be worked in, and no other: as counted minute by minute', () => {
    fc.assert(
      fc.property(anyProduct, anyAir, (of, air) => {
        const windows = applicationWindows(of, air, 0)
        const spoiling = spoilingOf(of)
        const airAt = (minute: number) => air.findLast((one) => one.from <= minute)!
        /** Whether a step that ends at this minute is safe while it is wet. */
        const endsWell = (end: number): boolean => {
          if (spoiling === null) return true
          let dry = 0
          for (let minute = end; dry < spoiling.wetMin - 1e-6 && minute < end + 20_000; minute++) {
            const { celsius, rh } = airAt(minute)
            if (spoiling.belowC !== null && celsius < spoiling.belowC) return false
            if (spoiling.aboveRh !== null && rh > spoiling.aboveRh) return false
            dry += spoiling.clock === null ? 1 : rateAt(of, spoiling.clock, celsius, rh)
          }
          return true
        }
        for (const start of air.flatMap(({ from }) => [from, from + 17, from + 200])) {
          const mayRun = [start, start + 9].every((minute) => applicationHold(of, airAt(minute)) === null)
          const dryStart = spoiling === null || airAt(start).celsius >= (spoiling.belowC ?? -99)
          const expected = mayRun && dryStart && endsWell(start) && endsWell(start + 10)
          if (air.some(({ from }) => from > start && from < start + 10)) continue
          expect(windows.some(({ from, to }) => from <= start && start + 10 <= to)).toBe(expected)
        }
      }),
    )
  })
})

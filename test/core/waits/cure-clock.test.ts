import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cureClock, progressBetween, readyAt } from '../../../core/waits/cure-clock.ts'
import type { Product } from '../../../core/waits/product.ts'
import { climateProfile, UNHEATED_TEMPERATE, type ShopClimate } from '../../../core/waits/temperature-profile.ts'
import { waitMinutes } from '../../../core/waits/wait-minutes.ts'

const product = (className: string): Product => ({ class: className, name: className, label: {} })
const minute = (iso: string) => Date.parse(iso) / 60_000
const shop: ShopClimate = { kind: 'heated-for-work', celsius: 20, rh: 0.5, ...UNHEATED_TEMPERATE }

/** Evenings from 19:00 to 21:30 UTC. */
const evenings = (firstDay: string, days: number) =>
  Array.from({ length: days }, (_, day) => {
    const from = minute(`${firstDay}T19:00:00Z`) + day * 1440
    return { from, to: from + 150 }
  })

describe('a shop heated while somebody works', () => {
  const january = climateProfile(
    shop,
    evenings('2026-01-11', 10),
    minute('2026-01-12T00:00:00Z'),
    minute('2026-01-19T00:00:00Z'),
  )
  const at = (iso: string) => january.findLast((air) => air.from <= minute(iso))

  it('is warm in the evening, cools after it, and rests at the month’s value by morning', () => {
    expect(at('2026-01-12T20:30:00Z')?.celsius).toBe(20)
    expect(at('2026-01-12T22:30:00Z')?.celsius).toBeLessThan(20)
    expect(at('2026-01-12T22:30:00Z')?.celsius).toBeGreaterThan(10)
    expect(at('2026-01-13T04:00:00Z')?.celsius).toBeCloseTo(3, 0)
  })

  it('warms up over the first hour instead of at once', () => {
    expect(at('2026-01-12T19:00:00Z')?.celsius).toBeCloseTo((20 + 3) / 2, 0)
  })

  it('is never heated below what the season gives', () => {
    const july = climateProfile(
      shop,
      evenings('2026-07-12', 3),
      minute('2026-07-13T00:00:00Z'),
      minute('2026-07-15T00:00:00Z'),
    )
    for (const air of july.slice(0, -1)) expect(air.celsius).toBeGreaterThanOrEqual(22)
  })

  it('is piecewise constant with whole hours between changes', () => {
    for (const air of january) expect(air.from % 60).toBe(0)
    for (const [index, air] of january.slice(1).entries())
      expect(air.from).toBeGreaterThan(january[index]?.from ?? Infinity)
  })
})

describe('a glue-up on a January evening in an unheated shop', () => {
  const from = minute('2026-01-12T21:00:00Z')
  const ready = (month: string, glue: string, clock: 'clampsOff' | 'mayMachine') => {
    const start = minute(`2026-${month}-12T21:00:00Z`)
    const work = evenings(`2026-${month}-11`, 40)
    const profile = climateProfile(shop, work, start - 1440, start + 40 * 1440)
    return (readyAt(start, waitTypical(glue, clock), cureClock(product(glue), profile, clock)) ?? Infinity) - start
  }

  it('is in clamps longer than in July', () => {
    expect(ready('07', 'pva_type2', 'clampsOff')).toBe(60)
    expect(ready('01', 'pva_type2', 'clampsOff')).toBeGreaterThan(60)
  })

  it('may be machined two days later instead of one, as its water goes on leaving in cold nights', () => {
    expect(ready('07', 'pva_type2', 'mayMachine')).toBe(24 * 60)
    expect(ready('01', 'pva_type2', 'mayMachine')).toBeGreaterThan(1.5 * 24 * 60)
    expect(ready('01', 'pva_type2', 'mayMachine')).toBeLessThan(3 * 24 * 60)
  })

  it('adds up to the very progress it needs', () => {
    const profile = climateProfile(shop, evenings('2026-01-11', 40), from - 1440, from + 40 * 1440)
    const segments = cureClock(product('pva_type2'), profile, 'mayMachine')
    const done = readyAt(from, 1440, segments) ?? Infinity
    expect(progressBetween(from, done, segments)).toBeGreaterThanOrEqual(1440 - 1e-6)
    expect(progressBetween(from, done - 1, segments)).toBeLessThan(1440)
  })
})

const waitTypical = (glue: string, clock: 'clampsOff' | 'mayMachine'): number => {
  const wait = waitMinutes(product(glue), clock, { celsius: 21, rh: 0.5 })
  return wait.kind === 'wait' ? wait.typical : Number.NaN
}

describe('a wait on a clock', () => {
  const rates = fc.array(
    fc.record({ hours: fc.integer({ min: 1, max: 30 }), rate: fc.constantFrom(0, 0.25, 0.37, 1, 1.7) }),
    {
      minLength: 1,
      maxLength: 20,
    },
  )
  const segmentsOf = (parts: readonly { hours: number; rate: number }[]) => {
    let from = 0
    const segments = parts.map(({ hours, rate }) => {
      const segment = { from, rate }
      from += hours * 60
      return segment
    })
    return [...segments, { from, rate: 1 }]
  }

  it('in steady air is as long as the closed form says', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('pva_type1', 'epoxy_fast', 'oil_polyurethane'),
        fc.integer({ min: 13, max: 31 }),
        (name, celsius) => {
          const clock = name === 'oil_polyurethane' ? 'recoatOpens' : 'clampsOff'
          const wait = waitMinutes(product(name), clock, { celsius, rh: 0.5 })
          const segments = cureClock(
            product(name),
            climateProfile({ kind: 'steady', celsius, rh: 0.5 }, [], 0, 100),
            clock,
          )
          const expected = wait.kind === 'wait' ? wait.typical : Number.NaN
          const reference = wait.kind === 'wait' ? wait.reference.typical : Number.NaN
          expect(readyAt(5000, reference, segments)).toBe(5000 + expected)
        },
      ),
    )
  })

  it('is over at the first minute at which minute-by-minute progress reaches it', () => {
    fc.assert(
      fc.property(
        rates,
        fc.integer({ min: 0, max: 3000 }),
        fc.integer({ min: 0, max: 4000 }),
        (parts, start, reference) => {
          const segments = segmentsOf(parts)
          let at = start
          for (let progress = 0; progress < reference - 1e-6; at++) {
            progress += segments.findLast((segment) => segment.from <= at)?.rate ?? 0
          }
          expect(readyAt(start, reference, segments)).toBe(at)
        },
      ),
    )
  })

  it('that begins later is never over sooner, and one that is longer never sooner', () => {
    fc.assert(
      fc.property(
        rates,
        fc.nat(3000),
        fc.nat(500),
        fc.nat(4000),
        fc.nat(500),
        (parts, start, later, reference, longer) => {
          const segments = segmentsOf(parts)
          const ready = readyAt(start, reference, segments) ?? Infinity
          expect(readyAt(start + later, reference, segments) ?? Infinity).toBeGreaterThanOrEqual(ready)
          expect(readyAt(start, reference + longer, segments) ?? Infinity).toBeGreaterThanOrEqual(ready)
        },
      ),
    )
  })

  it('never loses progress', () => {
    fc.assert(
      fc.property(rates, fc.nat(3000), fc.nat(3000), fc.nat(3000), (parts, from, first, second) => {
        const segments = segmentsOf(parts)
        const early = progressBetween(from, from + first, segments)
        const late = progressBetween(from, from + first + second, segments)
        expect(late).toBeGreaterThanOrEqual(early)
        expect(early + progressBetween(from + first, from + first + second, segments)).toBeCloseTo(late, 6)
      }),
    )
  })

  it('that stands still for ever is never over, and says so', () => {
    expect(readyAt(0, 10, [{ from: 0, rate: 0 }])).toBeNull()
    expect(readyAt(0, 0, [{ from: 0, rate: 0 }])).toBe(0)
  })
})

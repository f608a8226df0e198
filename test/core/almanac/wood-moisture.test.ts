import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { hoursWorked } from '../../../core/almanac/shop-air.ts'
import { woodMoisture } from '../../../core/almanac/wood-moisture.ts'
import { startOfLocalDay } from '../../../core/time/local-day.ts'
import { equilibriumMoisture } from '../../../core/wood/moisture.ts'

const steady = startingAlmanac({ timeZone: 'America/Chicago', units: 'millimetre', currency: 'USD' })
const january = startOfLocalDay('2026-01-21', 'America/Chicago')
const july = startOfLocalDay('2026-07-21', 'America/Chicago')
/** Left to the season in between: the same air in every month, so that the mean can be worked out by hand. */
const left = (celsius: number, rh: number): Almanac => ({
  ...steady,
  air: { ...steady.air, heated: 'for-work', unheatedC: Array(12).fill(celsius), unheatedRh: Array(12).fill(rh) },
})

describe('wood in the shop', () => {
  // Wood Handbook Table 4-2: 70 F and 50 % are 9.2 %.
  test('in steady air is at rest in that air, whatever the month', () => {
    const shop = { ...steady, shop: { ...steady.shop, temperatureC: 21.1 } }
    expect(woodMoisture(shop, january).buildPct).toBeCloseTo(9.2, 0)
    expect(woodMoisture(shop, july).buildPct).toBe(woodMoisture(shop, january).buildPct)
  })

  test('left to the season has the mean of two weeks, heated hours and cold ones by their length', () => {
    // Whole hours, neither warming up nor cooling down, so that an hour is either heated or cold.
    const shop = left(5, 0.8)
    const makers = shop.makers.map((maker) => ({ ...maker, weeklyHours: { 2: [{ from: 1140, to: 1260 }] } }))
    const sharp = { ...shop, makers, air: { ...shop.air, warmUpMin: 0, coolDownMin: 0 } }
    const [from, to] = ['2026-01-08', '2026-01-22'].map((day) => startOfLocalDay(day, 'America/Chicago')) as [
      number,
      number,
    ]
    const worked = hoursWorked(sharp, from, to)
      .filter((session) => session.to > from)
      .reduce((sum, session) => sum + session.to - Math.max(from, session.from), 0)
    const share = worked / (to - from)
    const expected = share * equilibriumMoisture(21, 0.5) + (1 - share) * equilibriumMoisture(5, 0.8)
    expect(worked).toBe(2 * 120)
    expect(woodMoisture(sharp, january).buildPct).toBeCloseTo(expected, 9)
  })

  test('is the wetter the damper the unheated air', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 25 }),
        fc.integer({ min: 20, max: 85 }),
        fc.integer({ min: 1, max: 10 }),
        (celsius, percent, more) => {
          const pct = (rh: number): number => woodMoisture(left(celsius, rh / 100), january).buildPct
          expect(pct(percent + more)).toBeGreaterThan(pct(percent))
        },
      ),
      { numRuns: 30 },
    )
  })

  test('says month, rule, air and home, and doubts what was not checked', () => {
    const { because, source } = woodMoisture(left(-4, 0.6), january)
    expect(because).toMatch(/^Wood at \d+\.\d% when built, in January: the mean of the shop’s air over two weeks/)
    expect(because).toMatch(/from -4 °C, 60% at rest to 21 °C, 50% at work/)
    expect(because).toMatch(/In the customer’s home it goes from 6\.2% \(21 °C, 30%\) to 10\.9% \(24 °C, 60%\)/)
    expect(because).toMatch(/checked for air between 0 and 50/)
    expect(source).toMatch(/Wood Handbook.*Franklin.*Wengert/)
  })

  test('goes to the home that the almanac has', () => {
    const shop = { ...steady, home: { driest: { celsius: 20, rh: 0.45 }, dampest: { celsius: 26, rh: 0.75 } } }
    expect(woodMoisture(shop, january)).toMatchObject({
      dryPct: equilibriumMoisture(20, 0.45),
      dampPct: equilibriumMoisture(26, 0.75),
    })
  })
})

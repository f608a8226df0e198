import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airAhead } from '../../../core/almanac/air-ahead.ts'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { cureClockOf } from '../../../core/almanac/cure-clock.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { hoursWorked, shopAirBetween } from '../../../core/almanac/shop-air.ts'
import type { HoursLogged } from '../../../core/book/hours-logged.ts'
import { startOfLocalDay } from '../../../core/time/local-day.ts'
import { progressBetween, readyAt, standstills } from '../../../core/waits/cure-clock.ts'
import { rateAt } from '../../../core/waits/cure-rate.ts'
import { airOf } from '../../../core/waits/temperature-profile.ts'

const DAY = 24 * 60
const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
/** Open four evenings and Saturday, and as cold as the season in between. */
const cold: Almanac = { ...starting, air: { ...starting.air, heated: 'for-work' } }
const colderBy = (degrees: number): Almanac => ({
  ...cold,
  air: { ...cold.air, unheatedC: cold.air.unheatedC.map((celsius) => celsius - degrees) },
})
const dayOf = (day: string): number => startOfLocalDay(day, 'America/Chicago')
const clockOf = (almanac: Almanac, product: string, today: number) =>
  cureClockOf(almanac, product, glues.includes(product) ? 'in-clamps' : 'drying', airAhead(almanac, today)).segments

const january = dayOf('2026-01-12')
const july = dayOf('2026-07-13')
const glues = ['pva_type1', 'pva_type2', 'epoxy_slow', 'polyurethane_1c', 'hide_liquid']
const products = [...glues, 'wiping_oil_varnish', 'water_polyurethane', 'shellac']

describe('the clock of a glue or finish in a shop that is heated for work', () => {
  test('is the sum, minute by minute, of its rate in the air of each hour', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...products),
        fc.constantFrom(january, july),
        fc.integer({ min: -20 * DAY, max: 60 * DAY }),
        fc.integer({ min: 1, max: 2000 }),
        (id, today, after, minutes) => {
          const product = [...cold.glues, ...cold.finishes].find((one) => one.id === id)!
          const start = today + after
          const ready = readyAt(start, minutes, clockOf(cold, id, today))!
          const clock = glues.includes(id) ? 'clampsOff' : 'recoatOpens'
          const hours = shopAirBetween(cold, start - 2 * DAY, ready + 2 * DAY)
          let progress = 0
          let hour = 0
          for (let minute = start; minute < ready; minute++) {
            while ((hours[hour + 1]?.from ?? Infinity) <= minute) hour++
            // A minute before it is said to be ready it is not.
            if (minute === ready - 1) expect(progress).toBeLessThan(minutes)
            progress += rateAt(product, clock, hours[hour]!.celsius, hours[hour]!.rh)
          }
          expect(progress).toBeGreaterThanOrEqual(minutes - 1e-6)
        },
      ),
      { numRuns: 40 },
    )
  })

  test('in a colder year never runs faster, and no wait is over sooner', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...products),
        fc.constantFrom(january, july),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 0, max: 300 * DAY }),
        fc.integer({ min: 1, max: 4000 }),
        (id, today, degrees, after, minutes) => {
          // A cooler summer may come out of the heat in which a finish must not be put on: only what cold does is claimed.
          const here = readyAt(today + after, minutes, clockOf(cold, id, today)) ?? Infinity
          const there = readyAt(today + after, minutes, clockOf(colderBy(degrees), id, today)) ?? Infinity
          expect(there).toBeGreaterThanOrEqual(here)
        },
      ),
      { numRuns: 40 },
    )
  })

  test('stands still in winter nights and hardly in summer', () => {
    const still = (today: number): number =>
      standstills(today, today + 7 * DAY, clockOf(cold, 'pva_type2', today)).reduce(
        (sum, { from, to }) => sum + to - from,
        0,
      )
    // Type II PVA needs 13 C; the unheated shop has 3 C in January and 23 C in July.
    expect(still(january)).toBeGreaterThan(5 * DAY)
    expect(still(july)).toBe(0)
  })

  test('is the same tomorrow as today', () => {
    for (const id of products) {
      const [today, tomorrow] = [clockOf(cold, id, january), clockOf(cold, id, january + DAY)]
      for (let since = january - 40 * DAY; since < january + 100 * DAY; since += 11 * 60)
        expect(readyAt(since, 500, today)).toBe(readyAt(since, 500, tomorrow))
    }
  })

  test('far ahead keeps the progress of every month, in few segments', () => {
    for (const id of products) {
      const clock = clockOf(cold, id, january)
      const near = clockOf(cold, id, january + 200 * DAY)
      const [far, exact] = [clock, near].map((one) => progressBetween(january + 150 * DAY, january + 240 * DAY, one))
      expect(far! / exact!).toBeCloseTo(1, 2)
      expect(clock.length).toBeLessThan(4000)
    }
  })

  test('that never runs in this shop is never ready', () => {
    const fridge = { ...colderBy(40), shop: { ...cold.shop, temperatureC: 4 } }
    expect(readyAt(january, 60, clockOf(fridge, 'pva_type1', january))).toBeNull()
  })

  test('that runs in summer only is ready in summer', () => {
    const unheated = { ...cold, shop: { ...cold.shop, temperatureC: 4 } }
    const ready = readyAt(january, 60, clockOf(unheated, 'pva_type2', january))!
    expect(ready).toBeGreaterThan(dayOf('2026-04-01'))
    expect(ready).toBeLessThan(dayOf('2026-06-01'))
  })
})

describe('the air of the past', () => {
  /** Monday, open 19:00 to 21:30; in January the room is at 3 C when nobody was there. */
  const monday = january
  const hour = (day: number, at: number): number => day + at * 60
  const celsiusAt = (at: number, logged?: HoursLogged): number =>
    airOf(airAhead(cold, monday + DAY, logged).hours, at).celsius
  const worked = (...stretches: HoursLogged['stretches']): HoursLogged => ({ stretches, until: hour(monday, 48) })

  test('is warm when work was logged, at whatever hour', () => {
    const noon = worked({ from: hour(monday, 10), to: hour(monday, 13) })
    expect(celsiusAt(hour(monday, 12.5))).toBeLessThan(4)
    expect(celsiusAt(hour(monday, 12.5), noon)).toBe(21)
  })

  test('is cold on an evening of the almanac when that day’s work was logged at noon', () => {
    const noon = worked({ from: hour(monday, 10), to: hour(monday, 13) })
    expect(celsiusAt(hour(monday, 20.5))).toBe(21)
    expect(celsiusAt(hour(monday, 20.5), noon)).toBeLessThan(4)
  })

  test('follows the almanac on days of which nothing is logged', () => {
    const sunday = worked({ from: hour(monday, -14), to: hour(monday, -12) })
    expect(celsiusAt(hour(monday, 20.5), sunday)).toBe(21)
  })

  test('of a short visit is not as warm as of a whole session', () => {
    const visit = worked({ from: hour(monday, 10), to: hour(monday, 10) + 15 })
    // A quarter of an hour of the hour that it takes to warm up, on its way down again.
    expect(celsiusAt(hour(monday, 10.5), visit)).toBeLessThan(8)
    expect(celsiusAt(hour(monday, 10.5), visit)).toBeGreaterThan(celsiusAt(hour(monday, 9.5), visit))
  })

  test('does not change while an evening of the almanac goes on in which little is logged', () => {
    const said = [{ from: hour(monday, 10), to: hour(monday, 11) }]
    const least = [...said, { from: hour(monday, 19), to: hour(monday, 19) + 10 }]
    for (const until of [20, 21, 22].map((at) => hour(monday, at))) {
      for (const stretches of until < hour(monday, 22) ? [said, least] : [least])
        expect(celsiusAt(hour(monday, 21), { stretches, until })).toBe(21)
    }
    expect(celsiusAt(hour(monday, 21), { stretches: said, until: hour(monday, 22) })).toBeLessThan(4)
  })

  test('logged as the almanac has it is the air of the almanac', () => {
    const stretches = hoursWorked(cold, monday - 20 * DAY, monday)
    const { hours } = airAhead(cold, monday, { stretches, until: monday })
    expect(hours).toEqual(airAhead(cold, monday).hours)
  })
})

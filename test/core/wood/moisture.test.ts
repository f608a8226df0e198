import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airDoubts, equilibriumMoisture, humidityFor } from '../../../core/wood/moisture.ts'
import { moistureSpan, HOMES } from '../../../core/wood/seasons.ts'
import { TABLE_4_2 } from './table-4-2.ts'

const celsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8

describe('equilibrium moisture', () => {
  const cells = Object.entries(TABLE_4_2).flatMap(([fahrenheit, row]) =>
    row.map(([humidity, emc]) => ({ fahrenheit: Number(fahrenheit), humidity, emc })),
  )
  const deviation = (cell: (typeof cells)[number]) =>
    Math.abs(equilibriumMoisture(celsius(cell.fahrenheit), cell.humidity / 100) - cell.emc)

  it('agrees with every cell of the Wood Handbook’s Table 4-2 to 0.06 % (0.05 of it the table’s rounding)', () => {
    expect(cells.length).toBe(256)
    for (const cell of cells) expect(deviation(cell), JSON.stringify(cell)).toBeLessThan(0.06)
  })

  it('deviates most at 150 F and 95 %, by 0.056', () => {
    const worst = cells.toSorted((a, b) => deviation(b) - deviation(a))[0]
    expect(worst).toMatchObject({ fahrenheit: 150, humidity: 95 })
    expect(worst === undefined ? 0 : deviation(worst)).toBeCloseTo(0.056, 3)
  })

  // Backup contact of computing: the Handbook's separate fit in degrees Fahrenheit, at most 0.014 apart over 30-200 F.
  it('agrees with the Handbook’s own formula in degrees Fahrenheit', () => {
    const inFahrenheit = (t: number, h: number) => {
      const w = 330 + 0.452 * t + 0.00415 * t ** 2
      const k = 0.791 + 0.000463 * t - 0.000000844 * t ** 2
      const k1 = 6.34 + 0.000775 * t - 0.0000935 * t ** 2
      const k2 = 1.09 + 0.0284 * t - 0.0000904 * t ** 2
      const first = (k * h) / (1 - k * h)
      const second = (k1 * k * h + 2 * k1 * k2 * k ** 2 * h ** 2) / (1 + k1 * k * h + k1 * k2 * k ** 2 * h ** 2)
      return (1800 / w) * (first + second)
    }
    for (let t = 50; t <= 90; t++) {
      for (let h = 0.2; h <= 0.8; h += 0.02) {
        expect(Math.abs(equilibriumMoisture(celsius(t), h) - inFahrenheit(t, h))).toBeLessThan(0.01)
      }
    }
  })

  // University of Kentucky FOR-128: 70 F and 40 % is 7.7 %. American Wood Council FAQ: 5 % humidity is about 1 % moisture.
  it('has the figures that other publications quote', () => {
    expect(equilibriumMoisture(celsius(70), 0.4)).toBeCloseTo(7.7, 1)
    expect(equilibriumMoisture(celsius(70), 0.65)).toBeCloseTo(12.0, 1)
    const perFivePercent = (equilibriumMoisture(21, 0.6) - equilibriumMoisture(21, 0.3)) / 6
    expect(perFivePercent).toBeGreaterThan(0.7)
    expect(perFivePercent).toBeLessThan(1.1)
  })

  it('rises with damp and falls with warmth', () => {
    const t = fc.double({ min: 0, max: 45, noNaN: true })
    const h = fc.double({ min: 0.05, max: 0.9, noNaN: true })
    fc.assert(
      fc.property(t, h, (temperature, humidity) => {
        const here = equilibriumMoisture(temperature, humidity)
        expect(equilibriumMoisture(temperature, humidity + 0.05)).toBeGreaterThan(here)
        expect(equilibriumMoisture(temperature + 5, humidity)).toBeLessThan(here + 0.06)
      }),
    )
  })

  it('can be turned round into the humidity a wood is at rest in', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 45, noNaN: true }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (t, h) => {
          expect(humidityFor(equilibriumMoisture(t, h), t)).toBeCloseTo(h, 6)
        },
      ),
    )
  })

  it('says where it was not checked', () => {
    expect(airDoubts(21, 0.5)).toEqual([])
    expect(airDoubts(60, 0.99)).toHaveLength(2)
  })
})

describe('what a piece goes through', () => {
  // Zoetvelt and DeWitt: indoor wood about 6 % in winter to 10 % in summer. NWFA: 30-50 % humidity is 6-9 %.
  it('is 6 to 11 % in a usual house', () => {
    const span = moistureSpan({ celsius: 20, rh: 0.45 }, HOMES.usual)
    expect(span.dryPct).toBeCloseTo(6.2, 1)
    expect(span.dampPct).toBeCloseTo(10.9, 1)
    expect(span.buildPct).toBeGreaterThan(span.dryPct)
  })
})

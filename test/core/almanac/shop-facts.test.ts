import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { airAhead } from '../../../core/almanac/air-ahead.ts'
import { cureClockOf } from '../../../core/almanac/cure-clock.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

describe('what constructions are told', () => {
  test('every glue and finish of a new shop resolves to its clocks', () => {
    const facts = shopFactsOf(almanac, 0)
    expect(facts.glues.map((one) => one.id)).toEqual(almanac.glues.map((one) => one.id))
    expect(facts.finishes.map((one) => one.id)).toEqual(
      [...almanac.finishes, ...almanac.finishSchedules].map((one) => one.id),
    )
  })

  // Franklin International, as quoted in core/waits: 30 to 60 min, planned with 60.
  test('yellow glue comes out of clamps after an hour, or as its label says', () => {
    const clampsOff = (label: object) =>
      shopFactsOf({ ...almanac, glues: [{ id: 'g', class: 'pva_type2', name: 'Yellow', label: { ...label } }] }, 0)
        .glues[0]?.clampsOff
    expect(clampsOff({})).toMatchObject({ min: 51, typical: 60, max: 78 })
    expect(clampsOff({ clampsOff: { min: 20, typical: 40, max: 50 } })).toEqual({
      min: 34,
      typical: 40,
      max: 52,
      source: 'label of Yellow',
    })
  })

  test('a recoat window that its label names counts even where each coat is sanded', () => {
    const closes = (label: object) =>
      shopFactsOf(
        {
          ...almanac,
          finishes: [{ id: 'f', class: 'water_polyurethane', name: 'Water', label: { ...label } }],
        },
        0,
      ).finishes[0]?.recoatCloses
    expect(closes({})).toBeNull()
    expect(closes({ recoatCloses: { min: 120, typical: 120, max: 120 } })).toMatchObject({
      minutes: 120,
      source: 'label of Water',
    })
  })

  test('a product of an unknown class and a station that is not there are left out', () => {
    const facts = shopFactsOf(
      {
        ...almanac,
        glues: [{ id: 'g', class: 'spit', name: 'Spit', label: {} }],
        stations: [],
      },
      0,
    )
    expect(facts.glues).toEqual([])
    expect(facts.stations).toEqual({})
  })

  test('an operation that a stored almanac does not have yet keeps its starting time', () => {
    expect(shopFactsOf({ ...almanac, standardTimes: [] }, 0).standardTime('rip-strips').perUnitMin).toBe(1)
    expect(() => shopFactsOf(almanac, 0).standardTime('conjure')).toThrow(/no standard time for conjure/)
  })

  test('the shortest session is an evening of two and a half hours', () =>
    expect(shopFactsOf(almanac, 0).shortestSessionMin).toBe(150))
})

describe('figures on which sources disagree', () => {
  const machined = (goBy: Almanac['goBy']) =>
    shopFactsOf({ ...almanac, goBy }, 0).glues.find((glue) => glue.id === 'pva_type2')

  // waits.csv, pva_type2 machine_after_clamp: 4 h (community workshop), 24 h (blog), 96 h (maker).
  test('are gone by as the maker chooses, and chance is only what is left around the chosen one', () => {
    const hours = (['bold', 'usual', 'careful'] as const).map((goBy) => machined(goBy)!.mayMachine)
    expect(hours.map(({ typical }) => typical / 60)).toEqual([4, 24, 96])
    for (const { min, typical, max } of hours) {
      expect(min).toBe(Math.floor(typical * 0.85))
      expect(max).toBe(Math.ceil(typical * 1.3))
    }
    expect(hours[1]?.source).toMatch(/sources say 4 h to 4 d, planned with the usual one/)
  })

  // Museum of Fine Arts Boston, CAMEO: 10 to 15 min.
  test('of a deadline the careful one is the sooner', () =>
    expect((['careful', 'bold'] as const).map((goBy) => machined(goBy)?.assembly.typical)).toEqual([10, 15]))

  test('do not matter where the label says something', () => {
    const glues = almanac.glues.map((glue) => ({ ...glue, label: { mayMachine: { min: 60, typical: 90, max: 120 } } }))
    const bold = shopFactsOf({ ...almanac, glues, goBy: 'bold' }, 0)
    expect(bold.glues[0]?.mayMachine.typical).toBe(90)
  })
})

describe('clocks of the shop’s air', () => {
  const rate = (temperatureC: number, product: string) => {
    const shop = { ...almanac, shop: { ...almanac.shop, temperatureC } }
    return cureClockOf(shop, product, 'in-clamps', airAhead(shop, 0)).segments.map((one) => one.rate)
  }

  // Franklin: cure doubles per 10 F (5.6 C) below 70 F (21 C); chalk point of the Type II glue 13 C.
  test('glue slows down in a cool shop and stands still below its limit', () => {
    expect(rate(21, 'pva_type2')).toEqual([1])
    expect(rate(15.4, 'pva_type2')[0]).toBeCloseTo(0.5)
    expect(rate(8, 'pva_type2')).toEqual([0])
  })
  test('a product that left the shelf runs at reference', () => expect(rate(5, 'gone')).toEqual([1]))
})

describe('assembly time', () => {
  const warm = (id: string, celsius: number, builtAt = 0, air: Partial<typeof almanac.air> = {}) => {
    const glues = [...almanac.glues, { id: 'urea', class: 'urea_formaldehyde_separate', name: 'Urea', label: {} }]
    const shop = { ...almanac.shop, temperatureC: celsius }
    const own = { ...almanac, glues, shop, air: { ...almanac.air, ...air } }
    return shopFactsOf(own, builtAt).glues.find((glue) => glue.id === id)!.assembly.typical
  }

  // Published for urea with separate hardener: 10 min at 20 C, 5 min at 25 C.
  test('is that of the shop’s own temperature, as it is published', () => {
    expect(warm('urea', 20)).toBe(10)
    expect(warm('urea', 25)).toBe(5)
  })

  test('is never longer in a warmer shop, whatever the glue', () => {
    for (const { id } of almanac.glues)
      for (let celsius = 5; celsius < 40; celsius += 1)
        expect(warm(id, celsius + 1)).toBeLessThanOrEqual(warm(id, celsius))
  })

  test('is that of the hour of the glue-up: a July that warms the shop leaves less of it than January', () => {
    const summer = almanac.air.unheatedC.map((_, month) => (month === 6 ? 32 : 10))
    const air = { heated: 'for-work', unheatedC: summer } as const
    const [january, july] = [Date.UTC(2026, 0, 15, 18), Date.UTC(2026, 6, 15, 18)].map((at) => at / 60_000)
    expect(warm('pva_type2', 20, july, air)).toBeLessThan(warm('pva_type2', 20, january, air))
    expect(warm('pva_type2', 20, january, air)).toBe(warm('pva_type2', 20))
  })
})

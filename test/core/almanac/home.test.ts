import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { ALMANAC_HOME, readHome, sayHome, writeHome } from '../../../core/almanac/home.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import { woodMoisture } from '../../../core/almanac/wood-moisture.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { HOMES } from '../../../core/wood/seasons.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const typed = (driest: readonly [string, string], dampest: readonly [string, string]) => ({
  kind: 'own',
  driest: { temperature: driest[0], humidity: driest[1] },
  dampest: { temperature: dampest[0], humidity: dampest[1] },
})

describe('the home of one order', () => {
  test('is the almanac’s where nothing is said, and a kind of home brings its figures', () => {
    expect(readHome(ALMANAC_HOME, 'inch')).toEqual({ ok: true, value: null })
    expect(readHome({ ...ALMANAC_HOME, kind: 'dry' }, 'inch')).toEqual({
      ok: true,
      value: { driest: HOMES.dry.driest, dampest: HOMES.dry.dampest },
    })
    expect(readHome({ ...ALMANAC_HOME, kind: 'castle' }, 'inch')).toMatchObject({
      ok: false,
      problems: [{ code: 'home', field: 'kind' }],
    })
  })

  test('is typed in the maker’s units, and in the other scale where the letter says so', () => {
    expect(readHome(typed(['68', '20 %'], ['77 F', '0.65']), 'inch')).toEqual({
      ok: true,
      value: { driest: { celsius: 20, rh: 0.2 }, dampest: { celsius: 25, rh: 0.65 } },
    })
    expect(readHome(typed(['20', '20'], ['77 F', '65']), 'millimetre')).toEqual({
      ok: true,
      value: { driest: { celsius: 20, rh: 0.2 }, dampest: { celsius: 25, rh: 0.65 } },
    })
  })

  test('names every figure that is missing or makes no sense', () => {
    const read = readHome(typed(['warm', ''], ['77', '140 %']), 'inch')
    expect(read.ok ? [] : read.problems.map(({ field }) => field)).toEqual([
      'driest.temperature',
      'driest.humidity',
      'dampest.humidity',
    ])
  })

  test('is refused where wood would be drier in summer than in winter', () =>
    expect(readHome(typed(['68', '60'], ['77', '30']), 'inch')).toMatchObject({
      ok: false,
      problems: [{ code: 'home-turned', field: 'dampest.humidity' }],
    }))

  test('written and read again is the same to the last digit, whatever was rounded on the screen', () => {
    const airs = fc.record({
      celsius: fc.double({ min: 15, max: 25, noNaN: true }),
      rh: fc.double({ min: 0.1, max: 0.4, noNaN: true }),
    })
    fc.assert(
      fc.property(airs, fc.constantFrom('inch', 'millimetre'), (driest, units) => {
        const home = { driest, dampest: { celsius: 24.3, rh: 0.7123 } }
        expect(readHome(writeHome(home, units), units, home)).toEqual({ ok: true, value: home })
      }),
    )
  })

  test('is said in one line, with the kind of home where it is one', () => {
    expect(sayHome(HOMES.dry, 'inch')).toBe('Desert, or strong heating: 72 °F, 15% to 77 °F, 40%')
    expect(sayHome({ driest: { celsius: 18, rh: 0.4 }, dampest: { celsius: 22, rh: 0.7 } }, 'millimetre')).toBe(
      '18 °C, 40% to 22 °C, 70%',
    )
  })
})

describe('wood that goes to the home of one order', () => {
  // Wood Handbook Table 4-2: at 70 F (21.1 C), 20 % humidity rests at 4.5 %, 65 % at 12.0 %.
  const home = { driest: { celsius: 21.1, rh: 0.2 }, dampest: { celsius: 21.1, rh: 0.65 } }

  test('moves between the moistures of that home, as the table has them, and why? says whose home it is', () => {
    const { buildPct, dryPct, dampPct, because, source } = woodMoisture(almanac, 0, home)
    expect(buildPct).toBe(woodMoisture(almanac, 0).buildPct)
    expect(dryPct).toBeCloseTo(4.5, 1)
    expect(Math.abs(dampPct - 12.0)).toBeLessThan(0.07)
    expect(because).toMatch(/In this customer’s home, as said with the order, it goes from 4\.5% \(70 °F, 20%\)/)
    expect(source).toMatch(/home: as said with the order$/)
  })

  test('is built exactly as if the almanac had that home', () => {
    const box = constructionOf('framed-field')
    const spec = box?.read(box.starting('inch'), 'inch', shopFactsOf(almanac, 0))
    if (box === undefined || spec?.ok !== true) throw new Error('the framed field has no start')
    const sizes = (facts: ReturnType<typeof shopFactsOf>) => {
      const build = box.build(spec.value, 1, facts)
      return build.ok ? build.value.geometry.map(({ key, value }) => [key, value]) : build.problems
    }
    const [one, other, usual] = [
      sizes(shopFactsOf(almanac, 0, home)),
      sizes(shopFactsOf({ ...almanac, home }, 0)),
      sizes(shopFactsOf(almanac, 0)),
    ]
    expect(one).toEqual(other)
    expect(one).not.toEqual(usual)
  })
})

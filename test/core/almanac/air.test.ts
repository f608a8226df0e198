import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { almanacFacts, changeFact } from '../../../core/almanac/facts.ts'
import { MONTHS, yearCurve } from '../../../core/almanac/months.ts'

const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const valueOf = (almanac: Almanac, key: string): string =>
  almanacFacts(almanac, starting).find((one) => one.key === key)?.value ?? ''

function changed(key: string, text: string, almanac = starting): Almanac {
  const result = changeFact(almanac, key, text)
  if (!result.ok) throw new Error(result.problems.map((one) => one.message).join(' '))
  return result.value
}

const refusal = (key: string, text: string): string => {
  const result = changeFact(starting, key, text)
  return result.ok ? 'taken' : (result.problems[0]?.message ?? '')
}

describe('the shop’s air', () => {
  test('of a new shop is the same night and day', () => expect(starting.air.heated).toBe('always'))

  test('may be left to the season while nobody works', () =>
    expect(changed('air.heated', 'for-work').air.heated).toBe('for-work'))

  test('is typed month by month, and a month that is left as shown keeps its exact figure', () => {
    const shown = valueOf(starting, 'air.unheatedC').split(', ')
    expect(shown).toHaveLength(12)
    const typed = [...shown.slice(0, 3), '14 C', ...shown.slice(4)]
    const { unheatedC } = changed('air.unheatedC', typed.join(', ')).air
    expect(unheatedC).toEqual(starting.air.unheatedC.map((celsius, at) => (at === 3 ? 14 : celsius)))
  })

  test.each([
    ['air.unheatedC', '3 C, 4 C', 'Unheated temperature: write twelve figures, January first, with commas between.'],
    ['air.unheatedRh', `${'60 %, '.repeat(11)}much`, /^Unheated humidity, December: .*not a number/],
    ['air.coolDown', '3 d', /up to 48 h do/],
    ['air.heated', 'sometimes', /choose/],
    ['home.kind', 'boat', /choose/],
  ])('refuses %s as “%s”', (key, text, message) => expect(refusal(key, text)).toMatch(message))
})

describe('the customer’s home', () => {
  test('is one of the known kinds with its source, or as the maker writes it', () => {
    const damp = changed('home.kind', 'damp')
    expect(damp.home).toEqual({ driest: { celsius: 20, rh: 0.45 }, dampest: { celsius: 26, rh: 0.75 } })
    const own = changed('home.dampest.humidity', '70 %', damp)
    expect(own.home.dampest).toEqual({ celsius: 26, rh: 0.7 })
    const facts = almanacFacts(own, starting)
    expect(facts.find((one) => one.key === 'home.kind')).toMatchObject({ value: 'own', source: 'the shop’s own' })
    expect(changed('home.kind', 'usual', own).home).toEqual(starting.home)
  })

  test('is not drier in the humid season than in the dry one', () =>
    expect(refusal('home.dampest.humidity', '20 %')).toMatch(/drier in the humid summer/))
})

describe('a year drawn from its coldest and its warmest month', () => {
  const month = fc.integer({ min: 0, max: 11 })
  test('has both, and lies between them, rising to the one and falling from it', () => {
    fc.assert(
      fc.property(
        month,
        month,
        fc.integer({ min: -20, max: 10 }),
        fc.integer({ min: 10, max: 35 }),
        (from, to, cold, warm) => {
          fc.pre(from !== to)
          const year = yearCurve({ month: from, value: cold }, { month: to, value: warm })
          expect(year).toHaveLength(MONTHS.length)
          expect(year[from]).toBeCloseTo(cold, 9)
          expect(year[to]).toBeCloseTo(warm, 9)
          for (let step = 0; step < 12; step++) {
            const [here, next] = [(from + step) % 12, (from + step + 1) % 12]
            const rises = step < (to - from + 12) % 12
            expect(Math.sign((year[next] ?? 0) - (year[here] ?? 0)) * (rises ? 1 : -1)).toBeGreaterThanOrEqual(0)
          }
        },
      ),
    )
  })
})

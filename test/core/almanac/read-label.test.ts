import { describe, expect, it } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { readInterval, readSpread, readTable, writeTable } from '../../../core/almanac/read-label.ts'
import { readGlue } from '../../../core/almanac/read-product.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import { rateAt } from '../../../core/waits/cure-rate.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

describe('a label’s own figures', () => {
  // Wood-science reference, section 6: 1 lb/1,000 ft2 = 4.8824 g/m2; Franklin's 35-50 lb per 1,000 ft2 are 170-250 g/m2.
  it.each([
    ['35-50 lb/1000 ft2', 170.9, 244.1],
    ['40 lb per 1,000 sq ft', 195.3, 195.3],
    ['1 oz/ft2', 305.2, 305.2],
    ['170 to 250 g/m2', 170, 250],
    ['180 g/m²', 180, 180],
  ])('of spread are read in the units of the maker: %s', (text, min, max) => {
    const read = readSpread(text)
    expect(read.ok && [read.value.min, read.value.max].map((value) => Number(value.toFixed(1)))).toEqual([min, max])
  })

  it.each(['much', '40', '40 lb/1000 m2', '-3 g/m2', '90 g', '50-30 g/m2', '9000 g/m2'])(
    'of spread that say nothing are refused with an example: %s',
    (text) => {
      const read = readSpread(text)
      expect(read.ok ? 'read' : read.problems[0]?.message).toMatch(/like 40 lb\/1000 ft2/)
    },
  )

  // Franklin: 10 F; Gougeon: 18 F = 10 C.
  it('of the step that doubles its time are differences, not temperatures', () => {
    expect(readInterval('18 F', 'inch')).toEqual({ ok: true, value: 10 })
    expect(readInterval('10 C', 'inch')).toEqual({ ok: true, value: 10 })
    expect(readInterval('10', 'inch').ok && readInterval('10', 'inch')).toMatchObject({ value: 10 / 1.8 })
    expect(readInterval('0', 'millimetre').ok).toBe(false)
  })

  // Polyvine powdered resin: 18 h at 10 C, 3 h at 20 C.
  it('by temperature are read as a table, cold to warm, and decide how fast it sets', () => {
    expect(readTable('20 C 3 h, 10 C 18 h', 'inch')).toEqual({
      ok: true,
      value: [
        { celsius: 10, minutes: 18 * 60 },
        { celsius: 20, minutes: 3 * 60 },
      ],
    })
    const read = readGlue(
      { id: '', class: 'pva_type1', name: 'Ours', label: { table: '10 C 18 h, 20 C 3 h' } },
      almanac,
    )
    if (!read.ok) throw new Error(JSON.stringify(read.problems))
    expect(rateAt(read.value, 'clampsOff', 10, 0.5) / rateAt(read.value, 'clampsOff', 20, 0.5)).toBeCloseTo(3 / 18, 6)
    expect(writeTable(read.value.table, 'millimetre')).toBe('10 °C 18 h, 20 °C 3 h')
  })

  it.each(['70 F 1 h', '50 F 1 h, 70 F 2 h', '50 F, 70 F', 'warm 1 h, cold 2 h'])(
    'by temperature are refused: %s',
    (text) => {
      const read = readTable(text, 'inch')
      expect(read.ok ? 'read' : read.problems[0]?.message).toMatch(/like 50 °F 2 h, 70 °F 1 h/)
    },
  )

  it('of spread win over the class, and reach what constructions know', () => {
    const read = readGlue({ id: '', class: 'hide_liquid', name: 'Hide', label: { spreadGsm: '200 g/m2' } }, almanac)
    if (!read.ok) throw new Error(JSON.stringify(read.problems))
    const facts = shopFactsOf({ ...almanac, glues: [read.value] }, 0)
    expect(facts.glues[0]?.spread).toMatchObject({ min: 200, max: 200, source: 'label of Hide' })
    expect(shopFactsOf(almanac, 0).glues.find(({ id }) => id === 'hide_liquid')?.spread).toBeNull()
  })
})

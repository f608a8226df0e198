import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { SPECIES } from '../../core/wood/species.ts'
import { alongTime, appliesAt, isFound, productEntries, woodEntries } from '../../renderer/almanac/side-by-side.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const labelled = {
  ...almanac,
  glues: almanac.glues.map((glue) =>
    glue.id === 'pva_type2' ? { ...glue, label: { clampsOff: { min: 20, typical: 25, max: 30 } } } : glue,
  ),
}
const glue = (id: string) => productEntries(labelled, 'glues').find((entry) => entry.id === id)

describe('glues and finishes side by side', () => {
  test('a figure of the label is shown as such, the others as those of the class', () => {
    const ranges = glue('pva_type2')?.ranges ?? []
    expect(ranges.filter(({ fromLabel }) => fromLabel).map(({ name, typical }) => [name, typical])).toEqual([
      ['clampsOff', 25],
    ])
    expect(ranges.every(({ source }) => source !== '')).toBe(true)
  })

  test('the shelf stands first, every class is there once, and each range is in order', () => {
    for (const kind of ['glues', 'finishes'] as const) {
      const entries = productEntries(labelled, kind)
      const shelf = entries.findLastIndex(({ onShelf }) => onShelf)
      expect(entries.slice(0, shelf + 1).every(({ onShelf }) => onShelf)).toBe(true)
      expect(new Set(entries.map(({ product }) => product.class)).size).toBe(entries.length)
      for (const { min, typical, max } of entries.flatMap(({ ranges }) => ranges)) {
        expect(min).toBeLessThanOrEqual(typical)
        expect(typical).toBeLessThanOrEqual(max)
      }
    }
  })

  // waits.csv: Type II PVA chalks below 10-13 C, Type I below 7 C.
  test('tells what still cures in a cold shop', () => {
    const cold = productEntries(almanac, 'glues').filter((entry) => entry.onShelf && appliesAt(entry, 9))
    expect(cold.map(({ id }) => id)).toContain('pva_type1')
    expect(cold.map(({ id }) => id)).not.toContain('pva_type2')
  })
})

test('every wood of the table is shown, those on offer first under the name that customers are told', () => {
  const entries = woodEntries(almanac)
  expect(entries).toHaveLength(SPECIES.length)
  expect(entries.slice(0, almanac.woods.length).map(({ name }) => name)).toEqual(almanac.woods.map(({ name }) => name))
})

test('what is looked for may be typed in any order and any case', () => {
  expect(isFound('sugar MAPLE', 'Maple', 'Maple, sugar')).toBe(true)
  expect(isFound('oak', 'Maple', 'Maple, sugar')).toBe(false)
  expect(isFound('', 'Maple')).toBe(true)
})

test('later is further along the scale of time, and nothing leaves it', () => {
  fc.assert(
    fc.property(fc.nat(400_000), fc.nat(400_000), (a, b) => {
      const [soon, late] = [Math.min(a, b), Math.max(a, b)]
      expect(alongTime(soon)).toBeLessThanOrEqual(alongTime(late))
      expect(alongTime(late)).toBeLessThanOrEqual(1)
      expect(alongTime(soon)).toBeGreaterThanOrEqual(0)
    }),
  )
})

import { describe, expect, test } from 'vitest'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { smallTable } from '../../../core/constructions/small-table/small-table.ts'
import { tableGeometry } from '../../../core/constructions/small-table/small-table-geometry.ts'
import { likeFirst } from '../../../core/constructions/small-table/small-table-steps.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { after } from './sound-network.ts'

const shop = aShop()

const readOf = (change: SpecInput) => smallTable.read({ ...smallTable.starting('inch'), ...change }, 'inch', shop)

function specOf(change: SpecInput = {}) {
  const read = readOf(change)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  return read.value
}

function built(change: SpecInput = {}, count = 1) {
  const build = smallTable.build(specOf(change), count, shop)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

describe('geometry', () => {
  // 24 x 16 x 22 in, top 7/8, legs 1 1/2 square, top stands out 1 in: added up by hand.
  test('legs, aprons and tenons follow from the outside', () => {
    expect(tableGeometry(specOf(), shop)).toMatchObject({
      legLengthNm: inches(22 - 7 / 8),
      longApronNm: inches(24 - 2 - 3),
      shortApronNm: inches(16 - 2 - 3),
      // Two tenons a third of 3/4 in thick, each at the middle of its face of a 1 1/2 in leg.
      tenonNm: inches((1.5 - 0.25) / 2),
    })
  })

  // Wood Handbook Eq. 13-2 by hand: 7 in from the middle to the long apron x .00248 (black cherry, tangential, Table 13-5) x change of
  // moisture, and the half millimetre of working margin.
  test('fasteners let the top move at the long aprons', () => {
    const { buildPct, dampPct } = shop.moisture
    const { slot } = tableGeometry(specOf(), shop)
    expect(slot.outwardNm).toBeCloseTo(inches(7) * 0.00248 * (dampPct - buildPct) + 500_000, -1)
  })

  test('a wide top asks more of a figure-eight than it can give', () => {
    expect(built({ fasteners: 'figure-eights', width: '36', length: '60' }).warnings.join()).toMatch(/take buttons/)
    expect(built({ fasteners: 'buttons', width: '36', length: '60' }).warnings.join()).not.toMatch(/take buttons/)
  })
})

describe('steps', () => {
  test('top and base are made and coated apart, and meet at the end', () => {
    const { steps, lags } = built({}, 2)
    expect(after('top-mill', lags)).not.toContain('base-mill')
    expect(after('base-mill', lags)).not.toContain('sand')
    expect(after('coat-1', lags)).toContain('fit-top')
    expect(steps.find((step) => step.key === 'coat-1')?.holds).toContainEqual({
      station: 'rack',
      units: 4,
      until: { kind: 'start-of', step: 'coat-2' },
    })
    // Packing takes 15 min a piece: two tables, not four things.
    expect(steps.find((step) => step.key === 'pack')?.minutes).toBe(30)
  })

  // Furniture & Cabinetmaking, How to Price the Job (2009): repeats 5 % less each, to 30 % less. 1 + .95 + ... + .7 + .7 by hand.
  test('the eighth joint is quicker than the first', () => {
    expect(likeFirst(1)).toBe(1)
    expect(likeFirst(8)).toBeCloseTo(1 + 0.95 + 0.9 + 0.85 + 0.8 + 0.75 + 0.7 + 0.7)
  })

  test('a heavy bench is not lifted alone', () => {
    const heavy = built({
      what: 'bench',
      length: '60',
      width: '18',
      thickness: '2',
      leg: '3',
      woodA: 'white-oak',
      woodB: 'white-oak',
    })
    expect(heavy.title).toMatch(/^Bench 60" x 18" x 22", white oak$/)
    expect(heavy.steps.find((step) => step.key === 'fit-top')?.cautions).toContain('lift')
    expect(built().steps.find((step) => step.key === 'fit-top')?.cautions).not.toContain('lift')
  })
})

describe('refusals', () => {
  test.each([
    [{ overhang: '7' }, 'overhang'],
    [{ apronHeight: '12', height: '10' }, 'apronHeight'],
    [{ apron: '2' }, 'apron'],
  ] as [SpecInput, string][])('%o by field', (change, field) => {
    const read = readOf(change)
    expect(read.ok ? [] : read.problems.map((one) => one.field)).toEqual([field])
  })
})

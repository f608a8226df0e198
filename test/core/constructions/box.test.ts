import { describe, expect, test } from 'vitest'
import { box } from '../../../core/constructions/box/box.ts'
import { boxGeometry } from '../../../core/constructions/box/box-geometry.ts'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { after } from './sound-network.ts'

const shop = aShop()

const readOf = (change: SpecInput) => box.read({ ...box.starting('inch'), ...change }, 'inch', shop)

function specOf(change: SpecInput = {}) {
  const read = readOf(change)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  return read.value
}

function built(change: SpecInput = {}, count = 1) {
  const build = box.build(specOf(change), count, shop)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

describe('sides', () => {
  // 12 x 8 in outside, sides 1/2 in: added up by hand.
  test('of a mitered box are as long as the outside', () => {
    expect(built().parts.slice(0, 2)).toMatchObject([
      {
        name: 'Long side',
        quantity: 2,
        finished: { lengthNm: inches(12), widthNm: inches(4), thicknessNm: inches(0.5) },
      },
      { name: 'Short side', quantity: 2, finished: { lengthNm: inches(8) } },
    ])
  })

  test('short ones of a rabbeted box reach half way into the long ones', () => {
    expect(boxGeometry(specOf({ corners: 'rebated' }), shop).shortSideNm).toBe(inches(8 - 2 * 0.25))
  })
})

describe('the bottom', () => {
  test('stays in its groove when dry and does not push when damp', () => {
    const geometry = boxGeometry(specOf(), shop)
    const inside = inches(7)
    const { growNm, shrinkNm } = geometry.bottomChange.across
    expect(geometry.bottom.widthNm + growNm.planned).toBeLessThan(inside + 2 * geometry.grooveNm)
    expect(geometry.bottom.widthNm - shrinkNm.planned).toBeGreaterThan(inside)
  })

  test('of a drawer moves to one side only, so it needs its room there', () => {
    const [box, drawer] = [boxGeometry(specOf(), shop), boxGeometry(specOf({ bottomFit: 'drawer' }), shop)]
    expect(drawer.clearanceNm).toBeGreaterThan(box.clearanceNm)
    expect(built({ bottomFit: 'drawer' }).title).toMatch(/^Drawer 12" x 8" x 4"/)
  })

  test('that moves more than the groove is deep is warned of', () => {
    expect(built({ width: '36', length: '36', side: '1/4' }).warnings.join()).toMatch(/groove is only 1\/8" deep/)
  })
})

describe('steps', () => {
  test('sides, bottom and lid do not wait for each other until they meet', () => {
    const { lags } = built({ lid: 'hinged' })
    expect(after('mill', lags)).not.toContain('bottom-mill')
    expect(after('bottom-mill', lags)).not.toContain('lid-mill')
    for (const start of ['mill', 'bottom-mill', 'lid-mill']) expect(after(start, lags)).toContain('sand')
    expect(after('lid-mill', lags)).not.toContain('glue-up')
  })

  test('splines are cut after the glue has cured and trimmed after theirs has', () => {
    const { steps, lags, parts } = built({ splines: '3' }, 2)
    expect(parts.at(-1)).toMatchObject({ name: 'Spline', quantity: 24 })
    expect(steps.find((step) => step.key === 'spline-slots')?.minutes).toBe(48)
    expect(lags.filter((lag) => lag.wait === 'curing').map((lag) => [lag.from, lag.to])).toContainEqual([
      'glue-up',
      'spline-slots',
    ])
    expect(lags.filter((lag) => lag.wait === 'curing').map((lag) => [lag.from, lag.to])).toContainEqual([
      'splines',
      'flush',
    ])
  })

  test('hinges go in after the finish', () => {
    const { lags } = built({ lid: 'hinged' })
    expect(after('coat-1', lags)).toContain('hinges')
    expect(built({ lid: 'loose' }).steps.map((step) => step.key)).not.toContain('hinges')
  })
})

describe('refusals', () => {
  test.each([
    [{ side: '2', width: '4' }, 'side'],
    [{ bottom: '1', height: '1 1/2' }, 'bottom'],
  ] as [SpecInput, string][])('%o by field', (change, field) => {
    const read = readOf(change)
    expect(read.ok ? [] : read.problems.map((one) => one.field)).toEqual([field])
  })
})

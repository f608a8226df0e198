import { describe, expect, test } from 'vitest'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { thickerThanBlade, widerThanSander } from '../../../core/constructions/design/design-warnings.ts'
import { clampsOn, type ClampedJoint } from '../../../core/constructions/steps/clamps.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'

const shop = aShop()
const metric = aShop({ units: 'millimetre' })

const joint = (changes: Partial<ClampedJoint> = {}): ClampedJoint => ({
  ...{ lengthNm: inches(24), thicknessNm: inches(1), reachNm: inches(12), woods: ['maple'], ...changes },
})
const on = (changes: Partial<ClampedJoint>, facts = shop) =>
  clampsOn('The panel', joint(changes), { contactOnly: false }, facts)

describe('clamps', () => {
  // Franklin gluing guide: hard maple from 200 psi; one joint of 24 in² then takes 4800 lbf.
  test('are as many as the pressure on one joint takes where that is more than spacing asks for', () => {
    const clampForceN = 1000 * 4.448222
    const strong = { ...shop, clampForceN, stations: { clamps: { id: 'clamps', name: 'Clamps', capacity: 40 } } }
    expect(clampsOn('The panel', joint(), { contactOnly: false }, strong).clamps).toBe(5)
    expect(clampsOn('The panel', joint(), { contactOnly: true }, strong).clamps).toBe(3)
  })

  test('that the shop does not have are told with what those that it has press', () => {
    const weak = { ...shop, clampForceN: 300, stations: { clamps: { id: 'clamps', name: 'Clamps', capacity: 6 } } }
    const { clamps, warnings } = clampsOn('The panel', joint(), { contactOnly: false }, weak)
    expect(clamps).toBe(6)
    expect(warnings.join(' ')).toMatch(/press about \d+ psi on the joint, 200 is usual for this wood/)
  })

  test('that do not reach across are told with both sizes, in the units of the shop', () => {
    expect(on({ reachNm: inches(60) }).warnings.join(' ')).toMatch(/60" wide, the longest clamps open to 50"/)
    expect(on({ reachNm: inches(40) }).warnings).toEqual([])
    expect(on({ reachNm: millimetres(1500) }, metric).warnings.join(' ')).toMatch(
      /1500 mm wide, the longest clamps open to \d+ mm/,
    )
  })
})

describe('machines', () => {
  test('that are too small are told before the wood is cut', () => {
    expect(widerThanSander('The board', inches(20), shop).join(' ')).toMatch(
      /20" at its narrow side, the drum sander takes 19"/,
    )
    expect(widerThanSander('The board', inches(19), shop)).toEqual([])
    expect(thickerThanBlade('The panel', inches(4), shop).join(' ')).toMatch(
      /4" thick, the table saw cuts through 3 1\/8"/,
    )
    expect(thickerThanBlade('The panel', inches(3), shop)).toEqual([])
  })
})

test('a metric shop gets metric allowances and sizes: round millimetres, no inches turned into them', () => {
  const lengths = Object.entries(metric.allowances)
  for (const [name, nm] of lengths) expect([name, nm % 100_000]).toEqual([name, 0])
  expect(metric.allowances.holdLastPieceNm).not.toBe(shop.allowances.holdLastPieceNm)
})

describe('a box', () => {
  const built = (changes: SpecInput) => {
    const box = constructionOf('box')!
    const spec = box.read(
      { ...box.starting('inch'), lid: 'loose', lidWood: 'white-oak', woodA: 'white-oak', ...changes },
      'inch',
      shop,
    )
    const build = spec.ok ? box.build(spec.value, 1, shop) : spec
    if (!build.ok) throw new Error(JSON.stringify(build.problems))
    return build.value
  }
  const number = (changes: SpecInput, key: string): number => {
    const value = built(changes).geometry.find((fact) => fact.key === key)?.value
    return value?.kind === 'length' ? value.nm : NaN
  }

  // Wood Handbook, Table 13-5: white oak moves 0.00365 tangentially and 0.0018 radially for each 1 %.
  test('of quartersawn boards moves half as much as one of flatsawn ones, and unknown ones count as flatsawn', () => {
    const [unknown, flat, quarter] = ['unknown', 'flatsawn', 'quartersawn'].map((cut) => number({ cut }, 'lid-grows'))
    expect(flat).toBe(unknown)
    expect(quarter! / flat!).toBeCloseTo(0.0018 / 0.00365, 1)
  })

  test('that was ordered before the cut was asked for is built as it was', () => {
    const box = constructionOf('box')!
    const read = box.read({ ...box.starting('inch'), lid: 'loose' }, 'inch', shop)
    const { cut: _, ...before } = (read.ok ? read.value : {}) as { cut?: string }
    const [old, now] = [box.build(before, 1, shop), box.build(read.ok ? read.value : null, 1, shop)]
    expect(old).toEqual(now)
  })
})

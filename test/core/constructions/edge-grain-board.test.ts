import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { edgeGrainBoard } from '../../../core/constructions/edge-grain/edge-grain-board.ts'
import type { EdgeGrainSpec } from '../../../core/constructions/edge-grain/edge-grain-spec.ts'
import { edgeGrainGeometry } from '../../../core/constructions/edge-grain/edge-grain-geometry.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { after, expectSoundNetwork, expectSoundParts } from './sound-network.ts'

const shop = aShop()

const readOf = (change: SpecInput) =>
  edgeGrainBoard.read({ ...edgeGrainBoard.starting('inch'), ...change }, 'inch', shop)

function specOf(change: SpecInput = {}): EdgeGrainSpec {
  const read = readOf(change)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  return read.value
}

function built(change: SpecInput = {}, count = 1): Build {
  const build = edgeGrainBoard.build(specOf(change), count, shop)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

const slab: SpecInput = {
  lay: 'face-up',
  length: '60',
  width: '24',
  thickness: '1 1/2',
  stave: '5',
  food: false,
  glue: 'pva_type2',
}

describe('staves', () => {
  test('are equal and none is seen wider than asked for', () => {
    const { staves } = edgeGrainGeometry(specOf(slab), shop.allowances)
    expect(staves.map((stave) => stave.seenNm)).toEqual([
      inches(4.8),
      inches(4.8),
      inches(4.8),
      inches(4.8),
      inches(4.8),
    ])
  })

  // Magazine tip: flattening after a glue-up takes about 1/32 in in total.
  test('are planed 1/32 in thicker than the slab', () => {
    expect(built(slab).parts[0]?.rough.thicknessNm).toBe(inches(1.5 + 1 / 32))
  })

  test('turned on edge, their width is the thickness of the board', () => {
    const [part] = built({ thickness: '1 1/4', width: '10', stave: '2' }).parts
    expect(part).toMatchObject({
      quantity: 5,
      // Common practice, no source: 1/16 in trimmed off each edge of the panel, shared by five staves; 1/16 in for jointing.
      rough: { widthNm: inches(1.25 + 1 / 32), thicknessNm: inches(2 + 1 / 8 / 5 + 1 / 16) },
    })
  })

  test('make a panel that is wide enough to trim: every finished width is reached', () => {
    const { staves, staveRoughNm } = edgeGrainGeometry(specOf(slab), shop.allowances)
    const { jointEdgeNm, trimEdgeNm } = shop.allowances
    const gluedUp = staves.length * (staveRoughNm - jointEdgeNm)
    // To a nanometre a stave.
    expect(gluedUp).toBeGreaterThanOrEqual(inches(24) + 2 * trimEdgeNm - staves.length)
  })

  // Wood Handbook Table 13-5: white oak .00180 radial, .00365 tangential.
  test('quartersawn white oak moves half as much as flatsawn, and turned on edge it is the other way round', () => {
    const grows = (change: SpecInput): number => {
      const value = built({ ...slab, woodA: 'white-oak', ...change }).geometry.find(
        (fact) => fact.key === 'grows-across',
      )?.value
      return value?.kind === 'length' ? value.nm : NaN
    }
    expect(grows({ cut: 'quartersawn' }) / grows({ cut: 'flatsawn' })).toBeCloseTo(0.0018 / 0.00365, 2)
    expect(grows({ cut: 'unknown' })).toBe(grows({ cut: 'flatsawn' }))
    expect(grows({ cut: 'riftsawn' })).toBeLessThan(grows({ cut: 'flatsawn' }))
    expect(grows({ cut: 'quartersawn', lay: 'edge-up' })).toBe(grows({ cut: 'flatsawn' }))
  })

  test('of two woods come in turn', () => {
    expect(built({ stripes: 'two', width: '10', stave: '2' }).parts.map((part) => [part.wood, part.quantity])).toEqual([
      ['maple', 3],
      ['walnut', 2],
    ])
  })

  test('one plank that is wide enough needs no glue-up', () => {
    const { steps } = built({ width: '4', stave: '6' })
    expect(steps.some((step) => step.operation === 'glue-up-panel')).toBe(false)
    expect(steps.map((step) => step.key).slice(0, 2)).toEqual(['mill', 'trim'])
  })
})

describe('breadboard ends', () => {
  const withEnds: SpecInput = { ...slab, breadboard: true, endWidth: '4', tongue: '1 1/2' }

  test('shorten the staves by their width and lengthen them by the tongues', () => {
    expect(edgeGrainGeometry(specOf(withEnds), shop.allowances).panel.lengthNm).toBe(inches(60 - 2 * 4 + 2 * 1.5))
  })

  test('are long enough to trim flush at both edges of the slab', () => {
    const end = built(withEnds).parts.find(({ name }) => name === 'Breadboard end')!
    expect(end.rough.lengthNm - 2 * shop.allowances.squareEndNm).toBeGreaterThanOrEqual(inches(24))
  })

  // By hand: the slot is cut in the tongue and the peg stays an inch from the edge, so it reaches out of the peg by the shrinkage.
  test('have their slots drawn round the pegs: outward as far as the slab shrinks, inward as far as it grows', () => {
    const dry = aShop({
      with: (almanac) => ({ ...almanac, home: { ...almanac.home, dampest: almanac.home.driest } }),
    })
    const [plan] = edgeGrainBoard.draw(specOf(withEnds), dry)!.views
    const slots = plan!.shapes.flatMap((one) => (one.kind === 'outline' && one.name === 'Slot for a peg' ? [one] : []))
    expect(slots).toHaveLength(4)
    const [from, , to] = slots[0]!.points.map(([x]) => x)
    // A peg of 1/4 in at an inch from the left edge.
    expect(inches(7 / 8) - from!).toBeGreaterThan(to! - inches(9 / 8))
  })

  test('can be milled while the slab cures', () => {
    const { lags } = built(withEnds)
    expect(lags.some((lag) => lag.to === 'mill-ends')).toBe(false)
    expect(after('glue-up', lags)).not.toContain('mill-ends')
    expect(after('mill-ends', lags)).toContain('ends-glue-up')
  })

  test('that leave no slab between them, or are shorter than their tongue, are refused by field', () => {
    const wide = readOf({ ...withEnds, length: '8' })
    expect(wide.ok ? [] : wide.problems.map((one) => one.field)).toEqual(['endWidth'])
    const long = readOf({ ...withEnds, tongue: '4' })
    expect(long.ok ? [] : long.problems.map((one) => one.field)).toEqual(['tongue'])
  })
})

describe('food', () => {
  const warned = (change: SpecInput): string => built(change).warnings.join(' ')

  test('glue, finish and wood are held against it', () => {
    expect(warned({ glue: 'hide_liquid' })).toMatch(/Liquid hide glue lets go when it gets wet/)
    expect(warned({ glue: 'pva_type2' })).toMatch(/stands a wipe, not a sink/)
    expect(warned({ finish: 'linseed_boiled' })).toMatch(/isn’t usual on a face that food is cut on/)
    expect(warned({ woodA: 'padauk' })).toMatch(/Padauk bleeds/)
    expect(warned({ glue: 'hide_liquid', finish: 'linseed_boiled', woodA: 'padauk', food: false })).toBe('')
    expect(warned({})).toBe('')
  })

  test('its ends and inlays are held against it like its staves', () => {
    const ends = { breadboard: true, endWood: 'padauk' }
    expect(warned(ends)).toMatch(/Padauk bleeds/)
    expect(warned({ inlay: true, inlayWood: 'padauk' })).toMatch(/Padauk bleeds/)
    expect(warned({ ...ends, food: false })).toBe('')
  })

  test('nut oils are told when the order is taken, whatever it is for', () => {
    expect(warned({ finish: 'tung_pure', food: false })).toMatch(/has a nut oil in it: ask/)
  })

  test('a film on a board that is cut on is warned of, on a shelf it is not', () => {
    expect(built({ finish: 'oil_polyurethane' }).warnings.join()).toMatch(/flakes/)
    expect(built({ finish: 'oil_polyurethane', food: false }).warnings.join()).not.toMatch(/flakes/)
  })
  test('food contact is named only where there is food', () => {
    expect(built().steps.at(-1)?.cautions).toContain('food_contact')
    expect(built({ food: false }).steps.at(-1)?.cautions).toEqual(['handover'])
  })
})

test('titles name what it is', () => {
  expect(built().title).toBe('Edge-grain board 16" x 10" x 1 1/4", maple')
  expect(built({ ...slab, breadboard: true }).title).toBe('Slab 60" x 24" x 1 1/2", maple, breadboard ends')
})

test('what is written reads back the same', () => {
  for (const change of [
    {},
    { ...slab, breadboard: true, coats: '4' },
    { stripes: 'two', feet: true, fingerGrips: true },
  ]) {
    const spec = specOf(change)
    expect(edgeGrainBoard.read(edgeGrainBoard.write(spec, 'inch'), 'inch', shop)).toEqual({ ok: true, value: spec })
  }
})

test('every board that is built has a sound network, parts that fit and staves that make up its width', () => {
  const wood = fc.constantFrom('walnut', 'maple', 'cherry')
  const spec: fc.Arbitrary<EdgeGrainSpec> = fc.record({
    lay: fc.constantFrom('edge-up' as const, 'face-up' as const),
    lengthNm: fc.integer({ min: millimetres(200), max: millimetres(2500) }),
    widthNm: fc.integer({ min: millimetres(60), max: millimetres(1000) }),
    thicknessNm: fc.integer({ min: millimetres(10), max: millimetres(80) }),
    woods: fc.array(wood, { minLength: 1, maxLength: 2 }),
    staveNm: fc.integer({ min: millimetres(15), max: millimetres(200) }),
    cut: fc.constantFrom('unknown' as const, 'flatsawn' as const, 'riftsawn' as const, 'quartersawn' as const),
    breadboard: fc.option(
      fc.record({
        wood,
        widthNm: fc.integer({ min: millimetres(30), max: millimetres(70) }),
        tongueNm: fc.integer({ min: millimetres(6), max: millimetres(29) }),
      }),
    ),
    food: fc.boolean(),
    juiceGroove: fc.boolean(),
    fingerGrips: fc.boolean(),
    feet: fc.boolean(),
    glue: fc.constantFrom(...shop.glues.map((glue) => glue.id)),
    finish: fc.constantFrom(...shop.finishes.map((finish) => finish.id)),
    coats: fc.option(fc.integer({ min: 1, max: 7 })),
  })
  let made = 0
  fc.assert(
    fc.property(spec, fc.integer({ min: 1, max: 5 }), (one, count) => {
      const build = edgeGrainBoard.build(one, count, shop)
      if (!build.ok) {
        for (const problem of build.problems) expect(['clamps-too-few', 'lot-too-big']).toContain(problem.code)
        return
      }
      made += 1
      expectSoundNetwork(build.value.steps, build.value.lags, shop)
      expectSoundParts(build.value.parts)
      const { staves, panel } = edgeGrainGeometry(one, shop.allowances)
      expect(staves.reduce((sum, stave) => sum + stave.seenNm, 0)).toBe(one.widthNm)
      expect(staves.every((stave) => stave.seenNm <= one.staveNm + 1)).toBe(true)
      const ends = one.breadboard === null ? 0 : 2 * (one.breadboard.widthNm - one.breadboard.tongueNm)
      expect(panel.lengthNm + ends).toBe(one.lengthNm)
    }),
  )
  expect(made).toBeGreaterThan(20)
})

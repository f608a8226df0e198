import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { endGrainBoard } from '../../../core/constructions/end-grain/end-grain-board.ts'
import type { EndGrainSpec } from '../../../core/constructions/end-grain/end-grain-spec.ts'
import { endGrainGeometry } from '../../../core/constructions/end-grain/end-grain-geometry.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { after, expectSoundNetwork, expectSoundParts } from './sound-network.ts'

const shop = aShop()

function specOf(change: SpecInput = {}, facts: ShopFacts = shop): EndGrainSpec {
  const read = endGrainBoard.read({ ...endGrainBoard.starting(facts.units), ...change }, facts.units, facts)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  return read.value
}

function built(change: SpecInput = {}, count = 1, facts: ShopFacts = shop): Build {
  const build = endGrainBoard.build(specOf(change, facts), count, facts)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

const problemsOf = (change: SpecInput) => {
  const read = endGrainBoard.read({ ...endGrainBoard.starting('inch'), ...change }, 'inch', shop)
  return read.ok ? [] : read.problems
}

const gameBoard: SpecInput = {
  cellsAcross: '8',
  cellsAlong: '8',
  cell: '2 1/4',
  framed: true,
  frameFace: '3 1/2',
  tongue: '1/2',
}
const length = (build: Build, key: string) => {
  const value = build.geometry.find((fact) => fact.key === key)?.value
  return value?.kind === 'length' ? value.nm : undefined
}

// Common practice, no source.
describe('check values', () => {
  test('8 x 8 cells of 2 1/4 in make an 18 in field', () => {
    expect(length(built(gameBoard), 'field-across')).toBe(inches(18))
    expect(length(built(gameBoard), 'field-along')).toBe(inches(18))
  })

  test('a frame with a 3 1/2 in visible face and a 1/2 in tongue is cut 4 in wide', () => {
    expect(length(built(gameBoard), 'frame-stock')).toBe(inches(4))
  })

  test('mitered blanks are as long as their outside edge and the trimming', () => {
    const members = (fixing: string) =>
      built({ ...gameBoard, frameFixing: fixing }).parts.filter((part) => part.name.startsWith('Frame'))
    expect(members('all-round')).toMatchObject([
      { quantity: 4, rough: { lengthNm: inches(26) }, finished: { lengthNm: inches(25), widthNm: inches(4) } },
    ])
    // A field that may move stands off from its frame by the gap, so the outside edge is that much longer.
    const gap = endGrainGeometry(specOf(gameBoard), 1, shop).frame?.gapRightNm ?? NaN
    expect(gap).toBeGreaterThan(0)
    expect(members('dry')[0]?.finished.lengthNm).toBe(inches(25) + 2 * gap)
  })

  // 1/32 in that flattening takes, and an eighth of the 1/16 in that trimming takes off each of the two outer slices.
  test('strips are thicker than the cell by what flattening and trimming take', () => {
    expect(length(built(gameBoard), 'strip-thickness')).toBe(inches(2 + 1 / 4 + 1 / 32 + 1 / 64))
  })

  // 8 x (1 1/2 + 1/16 + 1/8) + 2 x 1/4 + 4 = 18 in, added up by hand.
  test('a panel is as long as its slices with their kerfs, both ends squared and the last piece held', () => {
    expect(endGrainGeometry(specOf(gameBoard), 1, shop).panels.map((panel) => panel.lengthNm)).toEqual([inches(18)])
  })
})

describe('panels', () => {
  const panels = (change: SpecInput, count = 1) => endGrainGeometry(specOf(change), count, shop).panels
  const turned = (change: SpecInput) =>
    endGrainGeometry(specOf(change), 1, shop).plan.kinds.map((kind) => [kind.strips.length, kind.slices, kind.turned])

  test('every other slice of a checker is turned', () =>
    expect(turned({ cellsAcross: '8', cellsAlong: '10' })).toEqual([[8, 10, 5]]))

  test('a checker that is odd across and even along is sliced the other way, so one kind of panel is enough', () => {
    expect(turned({ cellsAcross: '7', cellsAlong: '10' })).toEqual([[10, 7, 3]])
  })

  test('a checker that is odd both ways needs two kinds of panel', () => {
    expect(turned({ cellsAcross: '7', cellsAlong: '9' })).toEqual([
      [7, 5, 0],
      [7, 4, 0],
    ])
  })

  test('stripes need no turning', () => expect(turned({ pattern: 'stripes' })).toEqual([[8, 10, 0]]))

  test('one panel serves two boards while it is not too long', () => {
    expect(panels({ cellsAlong: '8' }, 2).map((panel) => panel.slices)).toEqual([16])
    expect(panels({ cellsAlong: '8' }, 4).map((panel) => panel.slices)).toEqual([16, 16])
  })

  test('own rows repeat until the board is full', () => {
    const { pattern } = endGrainGeometry(
      specOf({ pattern: 'rows', rows: [{ cells: 'aab' }, { cells: 'C' }], cellsAcross: '4', cellsAlong: '3' }),
      1,
      shop,
    )
    expect(pattern).toEqual([
      ['walnut', 'walnut', 'maple', 'walnut'],
      ['cherry', 'cherry', 'cherry', 'cherry'],
      ['walnut', 'walnut', 'maple', 'walnut'],
    ])
  })
})

describe('the step network', () => {
  test('frame stock hangs on nothing and can be milled while the field cures', () => {
    const { lags } = built(gameBoard)
    expect(lags.some((lag) => lag.to === 'mill-frame')).toBe(false)
    expect(after('mill', lags)).not.toContain('mill-frame')
    expect(after('mill-frame', lags)).toContain('frame-glue-up')
    expect(after('second-glue-up', lags)).toContain('frame-glue-up')
  })

  test('clamps are held until somebody takes them off, and the glue cures on', () => {
    const { steps, lags } = built()
    const first = steps.find((step) => step.key === 'first-glue-up')
    expect(first?.interruptible).toBe(false)
    expect(first?.holds).toContainEqual({
      station: 'clamps',
      // 10 slices of 1 9/16 and a kerf, 4 1/2 over: 21 3/8 in of 1 1/2 in walnut and maple at 200 psi are 6,500 lb; a clamp presses
      // 1,012 lb (4,500 N). Two pairs of cauls, near its ends, take two each.
      units: 7 + 4,
      until: { kind: 'end-of', step: 'release-first-glue-up' },
    })
    // Waterproof PVA: off after 60 min, machine after 24 h; core/waits holds the sources.
    expect(lags.find((lag) => lag.to === 'release-first-glue-up')).toMatchObject({
      wait: 'in-clamps',
      minMin: 60,
      product: 'pva_type1',
    })
    expect(lags.find((lag) => lag.from === 'first-glue-up' && lag.to === 'flatten-panel')).toMatchObject({
      wait: 'curing',
      minMin: 1440,
    })
  })

  test('ripped strips are glued up before they move, or freshened', () => {
    const lag = built().lags.find((one) => one.from === 'rip')
    expect(lag).toMatchObject({ to: 'first-glue-up', maxMin: 1440 })
    expect(lag?.remedy?.minutes).toBeGreaterThan(0)
  })

  test('a coat fits in one session, holds a place on the rack until it is taken up again, and is tacky', () => {
    const { steps } = built({ finish: 'wiping_oil_varnish' })
    const coat = steps.find((step) => step.key === 'coat-1')
    expect(coat).toMatchObject({ interruptible: false, dusty: false, tackyProduct: 'wiping_oil_varnish' })
    expect(coat?.tackyMin).toBeGreaterThan(0)
    expect(coat?.holds).toContainEqual({ station: 'rack', units: 1, until: { kind: 'start-of', step: 'coat-2' } })
    expect(steps.find((step) => step.key === 'coat-3')?.holds).toContainEqual({
      station: 'rack',
      units: 1,
      until: { kind: 'start-of', step: 'pack' },
    })
  })

  test('a recoat window closes, with what to do then', () => {
    const { lags } = built({ finish: 'varnish_tung_resin' }, 2)
    const lag = lags.find((one) => one.from === 'coat-1' && one.to === 'coat-2')
    // Opens after 24 h, closes after three days; core/waits holds the sources.
    expect(lag).toMatchObject({ minMin: 1440, maxMin: 3 * 1440 })
    expect(lag?.remedy?.minutes).toBe(20)
  })

  test('a finish that is sanded between coats raises dust before each but the first', () => {
    const { steps } = built({ finish: 'oil_polyurethane' })
    expect(steps.filter((step) => step.key.startsWith('sand-before')).map((step) => step.dusty)).toEqual([true, true])
  })

  test('oil and wax soak in and never harden', () => {
    const { lags, steps } = built({ finish: 'mineral_oil_wax' })
    expect(lags.find((lag) => lag.from === 'coat-1')?.name).toBe('first coat soaking in')
    expect(steps.at(-1)?.note).toMatch(/never hardens/)
    expect(built({ finish: 'tung_pure', food: false }).steps.at(-1)?.note).toMatch(/Full cure takes about 30 days/)
    // What touches food waits for full cure, or its care card says so.
    expect(built({ finish: 'tung_pure' }).steps.at(-1)?.note).toMatch(/No food on it before.*30 days.*care card/)
  })

  test('as many coats as asked for', () => {
    expect(built({ coats: '5' }).steps.filter((step) => step.key.startsWith('coat-'))).toHaveLength(5)
  })

  test('more panels than a session or the clamps allow are glued up in loads, each with its own release', () => {
    const few = aShop({
      with: (almanac) => ({
        ...almanac,
        stations: almanac.stations.map((one) => (one.kind === 'clamps' ? { ...one, capacity: 3 } : one)),
      }),
    })
    const { steps } = built({ cellsAcross: '7', cellsAlong: '9' }, 1, few)
    expect(steps.filter((step) => /glue-up-\d$/.test(step.key)).map((step) => step.name)).toEqual([
      'First glue-up, 1 of 2',
      'Take off the clamps (first glue-up), 1 of 2',
      'First glue-up, 2 of 2',
      'Take off the clamps (first glue-up), 2 of 2',
    ])
  })
})

describe('movement of a framed field', () => {
  // Wood Handbook Eq. 13-2: 18 in x coefficient x change of moisture, by hand. Tangential coefficients of Table 13-5: walnut .00274,
  // sugar maple .00353, half of the field each; moisture of shop and house from core/wood.
  test('grows both ways alike, by what the coefficients say', () => {
    const { change } = endGrainGeometry(specOf(gameBoard), 1, shop)
    const expected = inches(18) * ((0.00274 + 0.00353) / 2) * (shop.moisture.dampPct - shop.moisture.buildPct)
    expect(change.across.growNm.planned).toBeCloseTo(expected, -2)
    expect(change.along).toEqual(change.across)
    expect(shop.moisture.dampPct).toBeGreaterThan(shop.moisture.buildPct)
  })

  test('the groove takes the tongue and half of the growth at each side', () => {
    const { change, frame } = endGrainGeometry(specOf(gameBoard), 1, shop)
    expect(frame?.grooveNm).toBeGreaterThanOrEqual(inches(1 / 2) + change.across.growNm.planned / 2)
    expect(frame?.gapRightNm).toBeGreaterThanOrEqual(change.across.growNm.planned / 2)
  })

  test('a tongue that the dry season pulls out is warned of', () => {
    expect(built({ cellsAcross: '24', cellsAlong: '24', framed: true, tongue: '1/8' }).warnings.join()).toMatch(
      /tongue/,
    )
  })

  test('splines bring their parts, steps and a cure of their own', () => {
    const { parts, steps, lags } = built({ ...gameBoard, splines: true })
    expect(parts.at(-1)).toMatchObject({ name: 'Spline', quantity: 4 })
    expect(steps.map((step) => step.key)).toContain('splines')
    expect(lags.find((lag) => lag.from === 'splines')).toMatchObject({ to: 'flush-frame', wait: 'curing' })
  })
})

describe('cautions', () => {
  const of = (change: SpecInput, key: string) => built(change).steps.find((step) => step.key === key)?.cautions

  test('oily rags at every coat of a drying oil, worst first', () => {
    const coats = built({ finish: 'tung_pure' }).steps.filter((step) => step.key.startsWith('coat-'))
    expect(coats.length).toBeGreaterThan(1)
    for (const coat of coats) expect(coat.cautions[0]).toBe('rag_fire')
  })
  test('never an end-grain board through the planer', () =>
    expect(of({}, 'flatten-board')?.[0]).toBe('planer_end_grain'))
  test('kickback where slices are cut', () => expect(of({}, 'slice')).toContain('kickback'))
  test('food contact where it is oiled and handed over', () => {
    expect(of({}, 'coat-1')).toContain('food_contact')
    expect(of({}, 'pack')).toContain('food_contact')
  })
})

describe('warnings', () => {
  test('a film on a chopping face', () =>
    expect(built({ finish: 'oil_polyurethane' }).warnings.join()).toMatch(/flakes/))
  // Common practice, no source: pores of red oak are open from end to end, those of white oak are plugged.
  test('open pores in end grain that food is cut on', () => {
    const warned = (woodA: string) => built({ woodA, food: true }).warnings.join(' ')
    expect(warned('red-oak')).toMatch(/has open pores: its end grain wicks water/)
    expect(warned('white-oak')).not.toMatch(/open pores/)
    expect(built({ woodA: 'red-oak', food: false }).warnings.join(' ')).not.toMatch(/open pores/)
  })

  test('a frame or an inlay that bleeds, whose pores nobody minds', () => {
    const around = (wood: string, more: SpecInput) =>
      built({ food: true, framed: true, frameWood: wood, ...more }).warnings.join(' ')
    expect(around('padauk', {})).toMatch(/Padauk bleeds/)
    expect(around('cherry', { inlay: true, inlayWood: 'padauk' })).toMatch(/Padauk bleeds/)
    expect(around('padauk', { food: false })).not.toMatch(/bleeds/)
    expect(around('red-oak', {})).not.toMatch(/open pores/)
  })

  test('an oil gives none', () => expect(built().warnings).toEqual([]))
  test('a field wider than the drum sander', () => {
    expect(built({ cellsAcross: '14', cellsAlong: '14' }).warnings.join()).toMatch(
      /narrow side, the drum sander takes 19"/,
    )
  })
  test('a frame glued all round', () =>
    expect(built({ ...gameBoard, frameFixing: 'all-round' }).warnings.join()).toMatch(/glued solid into its frame/))
  test('more joints than the glue gives time for', () => {
    expect(built({ cellsAcross: '14', cellsAlong: '16', cell: '1', glue: 'pva_type2' }).warnings.join()).toMatch(
      /take about \d+ min to spread and close/,
    )
  })
  test('frame stock wider than the jointer is ripped first', () =>
    expect(built({ ...gameBoard, frameFace: '7' }).warnings.join()).toMatch(/rip first/))
})

describe('what is typed', () => {
  test('every field says what is wrong with it, all at once', () => {
    const problems = problemsOf({
      cellsAcross: '1',
      cellsAlong: 'many',
      cell: '2 x 2',
      thickness: '',
      woodA: 'driftwood',
      finish: '',
      coats: '0',
    })
    expect(problems.map((one) => one.field)).toEqual([
      'woodA',
      'cellsAcross',
      'cellsAlong',
      'cell',
      'thickness',
      'finish',
      'coats',
    ])
    for (const one of problems) expect(one.message).toMatch(/^[A-Z][^:]+: .+[.]$/)
  })

  test('a row with a letter that is no wood is named', () => {
    expect(problemsOf({ pattern: 'rows', rows: [{ cells: 'AB' }, { cells: 'AX' }] })).toMatchObject([
      { field: 'rows.1.cells', message: 'Row 2: “X” is none of the woods A, B and C.' },
    ])
    expect(problemsOf({ pattern: 'rows', rows: [] })).toMatchObject([{ field: 'rows' }])
    expect(problemsOf({ pattern: 'rows', rows: [{ cells: '' }] })).toMatchObject([{ field: 'rows.0.cells' }])
  })

  test('fields that are not asked for are not checked', () => {
    expect(problemsOf({ framed: false, frameFace: 'wide', woodC: 'driftwood' })).toEqual([])
  })

  test('a size outside any sense is refused with the sizes that would do', () => {
    expect(problemsOf({ cell: '1/8' })[0]?.message).toBe('Cell size: 1/8" is too small, it takes at least 3/8".')
  })

  test.each([
    {},
    gameBoard,
    { pattern: 'rows', rows: [{ cells: 'ABC' }, { cells: 'CCA' }], coats: '3', feet: true, fingerGrips: true },
  ] as SpecInput[])('what is written reads back the same %#', (change) => {
    const spec = specOf(change)
    const again = endGrainBoard.read(endGrainBoard.write(spec, 'inch'), 'inch', shop)
    expect(again).toEqual({ ok: true, value: spec })
  })

  test('a wood that left the almanac keeps its name in the title; a glue that left is a problem', () => {
    const bare = { ...shop, woods: [], glues: [] }
    const build = endGrainBoard.build(specOf(), 1, bare)
    expect(build.ok ? [] : build.problems.map((one) => one.code)).toEqual(['glue-unknown'])
  })
})

describe('titles', () => {
  test('name size, woods and pattern', () => {
    expect(built(gameBoard).title).toBe('Framed end-grain board 25" x 25" x 1 1/2", walnut and maple checkerboard')
    expect(built({ pattern: 'stripes' }).title).toBe('End-grain board 12" x 15" x 1 1/2", walnut and maple stripes')
  })
  test('in the maker’s units', () => {
    const metric = aShop({ units: 'millimetre' })
    expect(built({}, 1, metric).title).toBe('End-grain board 320 x 400 x 40 mm, walnut and maple checkerboard')
  })
})

describe('always', () => {
  const wood = fc.constantFrom('walnut', 'maple', 'cherry')
  const pattern: fc.Arbitrary<EndGrainSpec['pattern']> = fc.oneof(
    fc.tuple(wood, wood).map((woods) => ({ kind: 'chequer' as const, woods })),
    fc.tuple(wood, wood).map((woods) => ({ kind: 'stripes' as const, woods })),
    fc
      .array(fc.array(wood, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 4 })
      .map((rows) => ({ kind: 'rows' as const, rows })),
  )
  const frame: fc.Arbitrary<EndGrainSpec['frame']> = fc.option(
    fc.record({
      wood,
      faceNm: fc.integer({ min: inches(0.5), max: inches(8) }),
      tongueNm: fc.integer({ min: inches(0.125), max: inches(1) }),
      fixing: fc.constantFrom('dry' as const, 'one-side' as const, 'all-round' as const),
      splines: fc.boolean(),
    }),
  )
  const spec: fc.Arbitrary<EndGrainSpec> = fc.record({
    cellsAcross: fc.integer({ min: 2, max: 24 }),
    cellsAlong: fc.integer({ min: 2, max: 24 }),
    cellNm: fc.integer({ min: millimetres(10), max: millimetres(80) }),
    thicknessNm: fc.integer({ min: millimetres(10), max: millimetres(90) }),
    pattern,
    frame,
    food: fc.boolean(),
    juiceGroove: fc.boolean(),
    fingerGrips: fc.boolean(),
    feet: fc.boolean(),
    glue: fc.constantFrom(...shop.glues.map((glue) => glue.id)),
    finish: fc.constantFrom(...shop.finishes.map((finish) => finish.id)),
    coats: fc.option(fc.integer({ min: 1, max: 7 })),
  })

  test('every board that is built has a sound network, parts that fit, cells that add up and panels that hold their slices', () => {
    let made = 0
    fc.assert(
      fc.property(spec, fc.integer({ min: 1, max: 4 }), (one, count) => {
        const build = endGrainBoard.build(one, count, shop)
        if (!build.ok) {
          for (const problem of build.problems) expect(['clamps-too-few', 'lot-too-big']).toContain(problem.code)
          return
        }
        made += 1
        expectSoundNetwork(build.value.steps, build.value.lags, shop)
        expectSoundParts(build.value.parts)
        const geometry = endGrainGeometry(one, count, shop)
        expect(geometry.fieldAcrossNm).toBe(one.cellsAcross * one.cellNm)
        expect(geometry.fieldAlongNm).toBe(one.cellsAlong * one.cellNm)
        const { sawKerfNm, squareEndNm, holdLastPieceNm } = shop.allowances
        for (const panel of geometry.panels) {
          expect(panel.lengthNm).toBeGreaterThanOrEqual(
            panel.slices * (geometry.sliceNm + sawKerfNm) + 2 * squareEndNm + holdLastPieceNm,
          )
        }
        expectPatternFromSlices(geometry, one, count)
      }),
    )
    expect(made).toBeGreaterThan(30)
  })
})

/** Backup contact: cut the panels into slices, lay each straight or turned, and see that the wanted rows come out of them. */
function expectPatternFromSlices(
  geometry: ReturnType<typeof endGrainGeometry>,
  spec: EndGrainSpec,
  count: number,
): void {
  const wanted = new Map<string, number>()
  const rows =
    geometry.plan.slicesAre === 'rows'
      ? geometry.pattern
      : Array.from({ length: spec.cellsAcross }, (_, column) => geometry.pattern.map((row) => row[column] ?? ''))
  const either = (cells: readonly string[]) => [cells.join(), cells.toReversed().join()].sort().join('|')
  for (const row of rows) wanted.set(either(row), (wanted.get(either(row)) ?? 0) + count)
  for (const panel of geometry.panels)
    wanted.set(either(panel.kind.strips), (wanted.get(either(panel.kind.strips)) ?? 0) - panel.slices)
  expect([...wanted.values()].every((left) => left === 0)).toBe(true)
}

import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { weightOf } from '../../../core/constructions/design/weight.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { consumablesNeeded } from '../../../core/timber/consumables-needed.ts'
import { aShop } from './a-shop.ts'

const shop = aShop()
const METRE = 0.0254
const density = (wood: string): number => shop.woods.find(({ id }) => id === wood)?.kgPerCubicMetre ?? NaN

function built(id: string, input: SpecInput): Build {
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting('inch'), ...input }, 'inch', shop)
  if (construction === undefined || spec?.ok !== true) throw new Error(`${id} does not read`)
  const build = construction.build(spec.value, 1, shop)
  if (!build.ok) throw new Error(`${id} cannot be built`)
  return build.value
}
const kg = (build: Build): number => weightOf(build.parts, shop) ?? NaN

/**
 * A second way: cubic inches of the whole by its outside, with what is hollow taken off, in one wood. Parts are never looked at.
 */
const CUBIC_INCHES: readonly (readonly [what: string, id: string, input: SpecInput, cubicInches: number])[] = [
  ['a checker of 8 x 10 cells of 1 1/2 in', 'end-grain-board', { woodB: 'walnut' }, 12 * 15 * 1.5],
  ['a slab', 'edge-grain-board', { woodA: 'walnut' }, 16 * 10 * 1.25],
  [
    'a slab with breadboard ends, tongues and all',
    'edge-grain-board',
    { woodA: 'walnut', breadboard: true, endWood: 'walnut' },
    16 * 10 * 1.25,
  ],
  [
    'a framed game board, 14 in field and 2 1/2 in frame',
    'framed-field',
    { woodB: 'walnut', cell: '1 3/4', frameFace: '2 1/2', frameFixing: 'all-round', splines: true },
    19 * 19 * 0.75,
  ],
  [
    'a mitered box: outside less inside, and a bottom between the sides',
    'box',
    { splines: '3' },
    12 * 8 * 4 - 11 * 7 * 4 + 11 * 7 * 0.25,
  ],
  ['a rabbeted box', 'box', { corners: 'rebated' }, 12 * 8 * 4 - 11 * 7 * 4 + 11 * 7 * 0.25],
  [
    'a box with a lid',
    'box',
    { lid: 'loose', lidWood: 'walnut' },
    12 * 8 * 4 - 11 * 7 * 4 + 11 * 7 * 0.25 + 12 * 8 * 0.5,
  ],
  [
    'a table: top, four legs, aprons between them',
    'small-table',
    { woodA: 'walnut', woodB: 'walnut', fasteners: 'figure-eights' },
    24 * 16 * 0.875 + 4 * 1.5 * 1.5 * (22 - 0.875) + 2 * 3.5 * 0.75 * (24 - 2 - 3) + 2 * 3.5 * 0.75 * (16 - 2 - 3),
  ],
]

describe('weight', () => {
  test.each(CUBIC_INCHES)(
    'of %s is its volume by the outside times the density of its wood',
    (_, id, input, cubicInches) => {
      const expected = cubicInches * METRE ** 3 * density('walnut')
      // Room for movement at bottoms and fields is left out of the second way: at most two in a hundred.
      expect(Math.abs(kg(built(id, input)) / expected - 1)).toBeLessThan(0.02)
    },
  )
})

const areaOf = (build: Build, kind: 'glue' | 'finish'): number =>
  (build.consumed?.find((one) => one.kind === kind)?.squareMetres ?? NaN) / METRE ** 2

describe('glue and finish', () => {
  // 10 in of 1 3/4 in staves are 6 staves with 5 joints, 16 1/2 in long and 1 3/8 in thick before squaring and flattening.
  test('a slab has a joint between each two staves, and two faces and four edges', () => {
    const slab = built('edge-grain-board', {})
    const { squareEndNm, flattenPanelNm } = shop.allowances
    const [long, thick] = [16 + (2 * squareEndNm) / 25_400_000, 1.25 + flattenPanelNm / 25_400_000]
    expect(areaOf(slab, 'glue')).toBeCloseTo(5 * long * thick, 6)
    expect(areaOf(slab, 'finish')).toBeCloseTo(2 * 16 * 10 + 2 * 1.25 * (16 + 10), 6)
  })

  test('a box is finished inside and outside', () =>
    expect(areaOf(built('box', {}), 'finish')).toBeCloseTo(2 * 4 * (12 + 8) + 2 * 4 * (11 + 7) + 12 * 8 + 12 * 8, 6))

  test('an end-grain board is glued twice: strips side by side, then slices', () => {
    const board = built('end-grain-board', {})
    const strip = board.parts.find(({ name }) => name === 'Strip')?.rough
    const inch = (nm: number): number => nm / 25_400_000
    if (strip === undefined) throw new Error('no strips')
    const { flattenBoardNm } = shop.allowances
    const first = 7 * inch(strip.lengthNm) * inch(strip.thicknessNm)
    // An eighth of an inch wider than 12 in, to be trimmed.
    const second = 9 * (12 + 1 / 8) * (1.5 + inch(flattenBoardNm))
    expect(areaOf(board, 'glue')).toBeCloseTo(first + second, 6)
  })

  test('amounts are area by coverage, coat by coat', () => {
    const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
    const slab = built('edge-grain-board', { finish: 'oil_polyurethane', coats: '3' })
    const needed = consumablesNeeded(slab.consumed ?? [], almanac)
    const finish = needed.find(({ product }) => product === 'oil_polyurethane')
    // 125 square feet a quart (Minwax Canada, product page): a quart is 946.35 ml.
    const quarts = ((areaOf(slab, 'finish') / 144) * 3) / 125
    expect(finish?.quantity?.typical).toBeCloseTo(quarts * 946.352946, 0)
  })
})

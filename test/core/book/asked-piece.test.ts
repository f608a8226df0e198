import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import { startingIn } from '../../../core/almanac/usual-choices.ts'
import {
  askedPiece,
  changedPiece,
  inputOfAnother,
  saidWithoutField,
  sizesInCells,
} from '../../../core/book/asked-piece.ts'
import type { OwnConstruction } from '../../../core/constructions/own/own-construction.ts'
import { readOrderLine } from '../../../core/book/order-line.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import type { Units } from '../../../core/constructions/construction.ts'

const asked = (line: string, units: Units = 'inch', usual = 'end-grain-board') => {
  const almanac = startingAlmanac({ timeZone: 'UTC', units, currency: 'USD' })
  const { pieces } = readOrderLine(line, { ...almanac, fairs: [], own: [], today: '2026-11-25', units })
  const piece = pieces[0] === undefined ? null : askedPiece(pieces[0], units, usual)
  const construction = piece === null ? undefined : constructionOf(piece.construction)
  return { piece, title: piece && construction ? titleOf(piece, construction) : null }

  function titleOf({ input, count }: NonNullable<typeof piece>, made: NonNullable<typeof construction>): string {
    const facts = shopFactsOf(almanac, 0)
    const spec = made.read(input, units, facts)
    if (!spec.ok) return spec.problems.map((problem) => problem.message).join(' ')
    const build = made.build(spec.value, Number(count), facts)
    return build.ok ? build.value.title : build.problems.map((problem) => problem.message).join(' ')
  }
}

describe('an end-grain board', () => {
  test('has square cells that make the size asked for', () => {
    // 12 in = 6 cells of 2 in, 16 in = 8 of them.
    const { piece, title } = asked('2 boards 16x12 walnut/maple, by 12 Dec, oil')
    expect(piece).toMatchObject({ construction: 'end-grain-board', count: '2' })
    expect(piece?.input).toMatchObject({ cellsAcross: '6', cellsAlong: '8', cell: '2"' })
    expect(title).toContain('12" x 16" x 1 1/2"')
  })
  test('of one wood is of that wood all over', () => {
    expect(asked('end grain board 18x12 cherry').piece?.input).toMatchObject({ woodA: 'cherry', woodB: 'cherry' })
  })
  test('in millimeters too', () => {
    // 300 mm = 10 cells of 30 mm or 6 of 50 mm; 400 mm = 10 of 40 mm: 50 mm suits both.
    expect(asked('end-grain board 400x300 walnut and maple', 'millimetre').piece?.input).toMatchObject({
      cellsAcross: '6',
      cellsAlong: '8',
      cell: '50 mm',
    })
  })
})

describe('another construction, chosen from the list', () => {
  const almanac = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
  const [board, box] = ['end-grain-board', 'box'].map((id) => constructionOf(id)!)
  const another = (changes: object) =>
    inputOfAnother({ ...startingIn(board!, 'inch', almanac), ...changes }, { from: board, to: box! }, 'inch', almanac)

  test('has glue and finish of its own, as when it is said in the line', () => {
    const said = asked('box walnut', 'inch', 'box').piece?.input
    expect(another({})).toMatchObject({ finish: said?.['finish'], glue: said?.['glue'] })
    expect(another({})['finish']).not.toBe(startingIn(board!, 'inch', almanac)['finish'])
  })
  test('keeps a finish that the maker chose, and the wood', () => {
    expect(another({ finish: 'shellac', woodA: 'cherry' })).toMatchObject({ finish: 'shellac', woodA: 'cherry' })
  })
})

describe('what is known by no name here', () => {
  test('has no construction until the maker chooses one, and keeps its sizes, woods and how many', () => {
    expect(asked('2 picture frames 8x10 walnut, by Dec 12').piece).toEqual({
      construction: '',
      input: { length: '10"', width: '8"', woodA: 'walnut', woodB: 'walnut' },
      count: '2',
    })
  })
  test('nor does a side that was said by its word get lost where a construction has no such field', () => {
    const [bench, board] = readOrderLine('bench 48" long; end grain board 16" long', {
      ...startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' }),
      ...{ fairs: [], own: [], today: '2026-11-25', units: 'inch' },
    }).pieces
    expect(askedPiece(bench!, 'inch', '')).toMatchObject({ construction: 'small-table', input: { length: '48"' } })
    expect(saidWithoutField(board!, 'end-grain-board', 'inch')).toEqual(['length 16"'])
  })
})

describe('a game board', () => {
  test('has eight cells each way, and with its frame the size asked for', () => {
    // 16 in less two frame members of 2 in leave 12 in for 8 cells: 1 1/2 in each.
    const { piece, title } = asked('a draughts board 16x16 maple and cherry')
    expect(piece).toMatchObject({ construction: 'framed-field', input: { fieldKind: 'cells' } })
    expect(piece?.input).toMatchObject({ cellsAcross: '8', cellsAlong: '8', cell: '1 1/2"' })
    expect(title).toContain('16" x 16"')
  })
  test('has eight cells each way where no size was said', () => {
    expect(asked('a draughts board').piece?.input).toMatchObject({ cellsAcross: '8', cellsAlong: '8' })
  })
})

describe('a third size is the height of what stands up, the thickness of what lies flat', () => {
  test.each([
    ['keepsake box 12x8x5 walnut', { construction: 'box', input: { length: '12"', width: '8"', height: '5"' } }],
    ['side table 24x16x22 cherry', { construction: 'small-table', input: { what: 'table', height: '22"' } }],
    ['a bench 40x12x18 ash, 1 1/4 thick', { input: { what: 'bench', height: '18"', thickness: '1 1/4"' } }],
    ['end grain board 16x12x2', { construction: 'end-grain-board', input: { thickness: '2"' } }],
    ['tray 18x12 walnut', { construction: 'box', input: { length: '18"', width: '12"', height: '2"', lid: 'none' } }],
  ])('%s', (line, expected) => {
    const { piece, title } = asked(line)
    expect(piece).toMatchObject(expected)
    expect(title).toMatch(/\d" x \d/)
  })
})

describe('an edge-grain board', () => {
  test('has the sizes asked for, the longer one along the grain', () => {
    const { piece, title } = asked('bread board 8x14x1 1/4 cherry')
    expect(piece).toMatchObject({ construction: 'edge-grain-board', input: { woodA: 'cherry' } })
    expect(piece?.input).toMatchObject({ length: '14"', width: '8"', thickness: '1 1/4"' })
    expect(title).toContain('14" x 8" x 1 1/4"')
  })
  test('of two woods is striped', () => {
    expect(asked('edge grain board 16x10 walnut and maple').piece?.input).toMatchObject({
      stripes: 'two',
      woodA: 'walnut',
      woodB: 'maple',
    })
  })
})

describe('a plain board', () => {
  test('of several woods is an end-grain board, of one wood an edge-grain one', () => {
    expect(asked('board 16x12 walnut/maple').piece?.construction).toBe('end-grain-board')
    expect(asked('board 16x12 walnut').piece?.construction).toBe('edge-grain-board')
  })
  test('of which no wood was said stays what the form holds', () => {
    expect(asked('two boards 16x12', 'inch', 'edge-grain-board').piece?.construction).toBe('edge-grain-board')
  })
})

test('what was not said stays as the form begins', () => {
  const { piece } = asked('two end grain boards')
  const starting = constructionOf('end-grain-board')?.starting('inch')
  expect(piece?.input).toEqual(starting)
})

describe('what was said beside the sizes', () => {
  test('is a field of the construction, or is told as without one', () => {
    expect(asked('board 16x12 walnut with a juice groove and feet').piece?.input).toMatchObject({
      juiceGroove: true,
      feet: true,
    })
    expect(asked('a hinged box, splines').piece?.input).toMatchObject({ lid: 'hinged', splines: '1' })
    expect(asked('walnut board 16x12 engraved "Rosa"').piece?.input).toMatchObject({
      engraving: 'shop',
      engravingSays: 'Rosa',
    })
    const spoken = readOrderLine('a box with a juice groove', {
      fairs: [],
      own: [],
      today: '2026-11-25',
      units: 'inch',
      woods: [],
      finishes: [],
    })
    expect(saidWithoutField(spoken.pieces[0]!, 'box', 'inch')).toEqual(['juice groove'])
  })
  test('a cell that was said is the cell', () => {
    expect(asked('end grain board 18x12, 1 1/2 inch squares').piece?.input).toMatchObject({
      cell: '1 1/2"',
      cellsAcross: '8',
      cellsAlong: '12',
    })
  })
})

describe('a size that is no whole number of cells', () => {
  const changes = (line: string, units: Units = 'inch') => {
    const spoken = readOrderLine(line, { today: '2026-11-25', units, woods: [], finishes: [], fairs: [], own: [] })
      .pieces[0]!
    return sizesInCells(spoken, askedPiece(spoken, units, 'end-grain-board')!, units)
  }
  test('is told with what it becomes', () => {
    // 7 x 2 1/2 = 17 1/2, 6 x 2 1/2 = 15: by hand.
    expect(changes('end grain board 17 3/8 x 15, 2 1/2 inch squares')).toEqual([
      '17 3/8" becomes 17 1/2": 7 cells of 2 1/2"',
    ])
  })
  test('is told of nothing where the cells come out even', () => {
    expect(changes('end grain board 16x12')).toEqual([])
    expect(changes('edge grain board 17 3/8 x 15')).toEqual([])
  })
})

test('an earlier piece keeps what was not said to be different', () => {
  const almanac = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
  const spoken = (line: string) =>
    readOrderLine(line, { ...almanac, fairs: [], own: [], today: '2026-11-25', units: 'inch' }).pieces[0]!
  const earlier = askedPiece(spoken('2 end-grain boards 12x16 walnut/maple, oil'), 'inch', '')!
  const again = changedPiece(earlier, spoken('cherry, finger grips'), 'inch')
  expect(again).toEqual({
    ...earlier,
    input: { ...earlier.input, woodA: 'cherry', woodB: 'cherry', fingerGrips: true },
  })
  expect(changedPiece(earlier, spoken('3 boards'), 'inch')).toEqual({ ...earlier, count: '3' })
})

test('a construction of the maker’s own is asked for by its name; what has no field there goes into the notes', () => {
  const wood = {
    key: 'wood',
    label: 'Wood',
    kind: 'wood',
    start: 'maple',
    least: null,
    most: null,
    choices: [],
  } as const
  const size = (key: string, label: string) =>
    ({ key, label, kind: 'length', start: '10"', least: null, most: null, choices: [] }) as const
  const construction: OwnConstruction = {
    ...{ id: 'own-frame', name: 'Picture frame', about: '', units: 'inch', parts: [], steps: [] },
    fields: [size('long', 'Length'), size('width', 'Width of the opening'), wood],
  }
  const shop = {
    ...startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' }),
    constructions: [construction],
  }
  const askFor = (line: string) => {
    const [spoken] = readOrderLine(line, {
      ...shop,
      ...{ today: '2026-11-25', units: 'inch', fairs: [], own: [construction] },
    }).pieces
    const piece = spoken === undefined ? null : askedPiece(spoken, 'inch', 'box', shop)
    return { piece, notes: spoken === undefined ? [] : saidWithoutField(spoken, 'own-frame', 'inch', [construction]) }
  }
  expect(askFor('2 walnut picture frames 14x11, 90')).toEqual({
    piece: { construction: 'own-frame', count: '2', input: { long: '14"', width: '11"', wood: 'walnut' } },
    notes: [],
  })
  expect(askFor('picture frame 14x11x2 with feet').notes).toEqual(['14" x 11" x 2"', 'feet'])
  // The piece that the form begins with may be one of them, too.
  const [unnamed] = readOrderLine('walnut 12x9', {
    ...shop,
    today: '2026-11-25',
    units: 'inch',
    fairs: [],
    own: [],
  }).pieces
  expect(askedPiece(unnamed!, 'inch', 'own-frame', shop)).toMatchObject({ construction: 'own-frame' })
})

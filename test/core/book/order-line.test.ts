import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readOrderLine, saysAnOrder } from '../../../core/book/order-line.ts'
import type { ShopWords } from '../../../core/book/order-line-listener.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'

const words: ShopWords = {
  today: '2026-11-25',
  fairs: [],
  own: [],
  units: 'inch',
  woods: [
    { id: 'walnut', name: 'Walnut' },
    { id: 'maple', name: 'Hard maple' },
    { id: 'white-oak', name: 'White oak' },
    { id: 'red-oak', name: 'Red oak' },
    { id: 'cherry', name: 'Cherry' },
  ],
  finishes: [
    { id: 'oil-wax', name: 'Mineral oil and wax' },
    { id: 'hardwax', name: 'Hardwax oil' },
    { id: 'shellac', name: 'Shellac' },
  ],
}
const read = (line: string, units: ShopWords['units'] = 'inch') => readOrderLine(line, { ...words, units })
const onlyPiece = (line: string, units: ShopWords['units'] = 'inch') => {
  const { pieces } = read(line, units)
  expect(pieces).toHaveLength(1)
  return pieces[0]
}

test('count, sizes, woods, date and finish are sorted out of one line', () => {
  expect(read('2 boards 16x12 walnut/maple, by 12 Dec, oil')).toEqual({
    pieces: [
      {
        count: 2,
        kind: 'board',
        own: null,
        sizesNm: [inches(16), inches(12)],
        thicknessNm: null,
        sidesNm: {},
        isUnknown: false,
        woods: ['walnut', 'maple'],
        finish: 'oil-wax',
        options: [],
        engravingSays: null,
        cellNm: null,
      },
    ],
    customer: null,
    reach: null,
    secondReach: null,
    address: null,
    neededBy: '2026-12-12',
    neededWhy: null,
    price: null,
    deposit: null,
    depositHow: null,
    sameAs: null,
    rest: '',
  })
})

test('who it is for, how to reach them and the money are heard too', () => {
  const line = 'two end-grain boards 18 x 18 x 1 1/2 for Mrs. Ana Feld, 555 0142 777, $240, deposit 100, by Dec 12'
  expect(read(line)).toMatchObject({
    customer: 'Mrs. Ana Feld',
    reach: '555 0142 777',
    price: '$240',
    deposit: '100',
    neededBy: '2026-12-12',
    rest: '',
  })
  expect(read('tray cherry, ana@example.org, 50 down').reach).toBe('ana@example.org')
  expect(read('tray cherry, ana@example.org, 50 down').deposit).toBe('50')
})

describe('sizes', () => {
  test('may be three', () => {
    expect(onlyPiece('board 16 x 12 x 1 3/4')?.sizesNm).toEqual([inches(16), inches(12), inches(1.75)])
  })
  test('a thickness may be said by its word', () => {
    const piece = onlyPiece('board 16x12 1 1/2 thick')
    expect(piece?.sizesNm).toEqual([inches(16), inches(12)])
    expect(piece?.thicknessNm).toBe(inches(1.5))
  })
  test('a bare number is in the units of the shop, a unit said wins', () => {
    expect(onlyPiece('board 400x300', 'millimetre')?.sizesNm).toEqual([millimetres(400), millimetres(300)])
    expect(onlyPiece('board 40x30 cm')?.sizesNm).toEqual([millimetres(400), millimetres(300)])
  })
  test('a number before the sizes is how many', () => {
    expect(onlyPiece('3 16x12 boards')).toMatchObject({ count: 3, sizesNm: [inches(16), inches(12)] })
    expect(onlyPiece('4x boards 9x9')).toMatchObject({ count: 4, sizesNm: [inches(9), inches(9)] })
    expect(onlyPiece('16x12 board')?.count).toBeNull()
    expect(onlyPiece('a set of 4 boards')?.count).toBe(4)
  })
})

describe('what is made', () => {
  test.each([
    ['an end grain board', 'end-grain-board'],
    ['butcher block', 'end-grain-board'],
    ['bread board', 'edge-grain-board'],
    ['a draughts board', 'game-board'],
    ['cutting boards', 'board'],
    ['two trays', 'tray'],
    ['keepsake box', 'box'],
    ['side table', 'table'],
    ['a bench', 'bench'],
  ])('%s is a kind of %s', (line, kind) => expect(onlyPiece(line)?.kind).toBe(kind))

  test('several pieces are told apart', () => {
    const { pieces } = read('3 cheese boards 10x6 cherry; 1 tray 18 by 12 white oak plus a box')
    expect(pieces.map(({ count, kind }) => [count, kind])).toEqual([
      [3, 'edge-grain-board'],
      [1, 'tray'],
      [1, 'box'],
    ])
  })
})

describe('woods and finishes', () => {
  test('come in the order in which they are said', () => {
    expect(onlyPiece('board maple and walnut')?.woods).toEqual(['maple', 'walnut'])
  })
  test('a longer name wins over a shorter one, and color alone names no wood', () => {
    expect(onlyPiece('board red oak')?.woods).toEqual(['red-oak'])
    expect(onlyPiece('board red')?.woods).toEqual([])
  })
  test('a finish may be asked for by a word of its name', () => {
    expect(onlyPiece('board hardwax oil')?.finish).toBe('hardwax')
    expect(onlyPiece('board with wax')?.finish).toBe('oil-wax')
  })
})

describe('nothing that was said is lost', () => {
  test('what fits no field comes back in its order', () => {
    expect(read('board maple 16x12 with a juice groove, stamped "Otto & Ida 2027"').rest).toBe(
      'stamped "Otto & Ida 2027"',
    )
    expect(read('a draughts board in maple and walnut with a walnut frame').rest).toBe('with a walnut frame')
  })
  test('words that mean nothing here stay in the rest, wherever they stand', () => {
    const strange = fc.constantFrom('zinc', 'gruel', 'quoin', 'klimt', 'voxel')
    fc.assert(
      fc.property(strange, strange, strange, (first, second, third) => {
        const { rest } = read(`${first} 2 boards 16x12 ${second} walnut by 12 Dec, ${third}, oil`)
        expect(rest.split(/[\s,]+/)).toEqual([first, second, third])
      }),
    )
  })
  test('any text at all is read without a fault', () => {
    fc.assert(fc.property(fc.string({ maxLength: 80 }), (line) => void read(line)))
  })
})

test('a name alone is no order yet', () => {
  expect(saysAnOrder(read('Otto Lind'))).toBe(false)
  expect(saysAnOrder(read('two trays'))).toBe(true)
})

describe('what a piece has beside it', () => {
  test.each([
    ['board 16x12 with a juice groove', ['juice-groove']],
    ['board 16x12, juice groove and finger grips', ['juice-groove', 'finger-grips']],
    ['walnut board with rubber feet', ['feet']],
    ['a hinged box', ['hinged']],
    ['box with a hinged lid', ['hinged']],
    ['box with a loose lid, splines', ['splines', 'loose-lid']],
    ['maple slab with breadboard ends', ['breadboard']],
    ['plain maple slab', []],
  ])('“%s”', (line, options) => expect(onlyPiece(line)?.options).toEqual(options))

  test.each([
    ['2 inch squares', 2],
    ['1 1/2 in squares', 1.5],
    ['1.5" cells', 1.5],
    ['2 squares', 2],
  ])('a cell of “%s”', (said, side) => expect(onlyPiece(`end grain board 16x12, ${said}`)?.cellNm).toBe(inches(side)))
})

describe('a price for each', () => {
  test.each([
    ['2 boards 16x12, $120 each', '$240'],
    ['3 trays, 85 apiece', '255'],
    ['3 trays, 85.50 a piece', '256.50'],
    ['a box, $90 each', '$90'],
    ['2 trays; 3 boards, $50 each', '$250'],
    ['2 boards 16x12, $120', '$120'],
  ])('“%s” is %s in all', (line, price) => expect(read(line).price).toBe(price))
})

describe('who it is for', () => {
  test.each([
    ['Ana Reyes, 2 boards 16x12 walnut', 'Ana Reyes'],
    ['Mrs. Ana Reyes: a tray', 'Mrs. Ana Reyes'],
    ['2 boards for Ana Reyes, walnut', 'Ana Reyes'],
    ['Joost van Dam, a box', 'Joost van Dam'],
    ['Red Oak, 2 boards', null],
    ['Two Boards, walnut', null],
    ['Walnut tray, 18 by 12', null],
  ])('“%s”', (line, customer) => expect(read(line).customer).toBe(customer))
})

describe('an earlier order', () => {
  test.each([
    ['same as no. 12', 12],
    ['Same as #7 for Ana Feld', 7],
    ['the same like order 104', 104],
    ['like no. 3', 3],
    ['no. 12 again', 12],
    ['same as 12', 12],
    ['same as no. 12 in', 12],
  ])('is asked for again by its number: %s', (line, number) => {
    expect(read(line)).toMatchObject({ sameAs: number, pieces: [], rest: '' })
  })

  test('may be asked for with other sizes, woods or another number of them', () => {
    expect(read('same as no. 12 but 2 of 18x12 cherry, by Dec 12')).toMatchObject({
      sameAs: 12,
      pieces: [{ sizesNm: [inches(18), inches(12)], woods: ['cherry'] }],
      neededBy: '2026-12-12',
    })
  })

  test.each(['same as 12x9', '2 boards like the last ones, 12 in wide'])('is not heard in sizes: %s', (line) => {
    expect(read(line).sameAs).toBeNull()
  })
})

describe('where to', () => {
  test.each([
    ['walnut board 14x10, for Ana Reyes, 1425 Oak Street, 250', '1425 Oak Street'],
    ['cherry box 8x5 for Ana Reyes, 1425 oak street, dayton, oh 45402, $180', '1425 oak street, dayton, oh 45402'],
    ['500 5th Avenue, Ana Reyes, board 10x8 walnut', '500 5th Avenue'],
    ['board 10x8 walnut, ship to 7 N. Maple Ave, Apt 4, 140', '7 N. Maple Ave, Apt 4'],
    ['2 boards 12x9, 12 St. James Ct', '12 St. James Ct'],
  ])('%s', (line, address) => {
    const order = read(line)
    expect(order.address).toBe(address)
    expect(order.pieces).toHaveLength(1)
    // The house number is no price and no count, the street no wood.
    expect([null, '250', '$180', '140']).toContain(order.price)
    expect([null, 2]).toContain(order.pieces[0]!.count)
    for (const wood of order.pieces[0]!.woods) expect(['walnut', 'cherry']).toContain(wood)
    expect(order.rest).toBe('')
  })

  test.each(['2 boards 16 x 12 walnut drive by friday', '1 walnut board square 12x12', 'a board 12x9, 30 days way'])(
    'is not heard in “%s”',
    (line) => {
      const order = read(line)
      expect(order.address).toBe(null)
      expect(order.pieces[0]!.sizesNm).toHaveLength(2)
    },
  )

  test('a street without a number is no wood either, and stays in the rest', () => {
    expect(read('4 boards 12x9 for the Cherry Street Inn')).toMatchObject({
      pieces: [{ woods: [] }],
      rest: 'for the Cherry Street Inn',
    })
  })
})

describe('a surname that is the name of an own construction', () => {
  const own = [
    { id: 'porter', name: 'Porter' },
    { id: 'frame', name: 'Picture frame' },
  ]
  const readOwn = (line: string) => readOrderLine(line, { ...words, own })

  test.each([
    ['2 walnut boards for Tom Porter by friday', 'Tom Porter', 'board'],
    ['Tom Porter: cherry tray 18x12', 'Tom Porter', 'tray'],
    ['box 6x4x3, hinged, for Mrs. Porter', 'Mrs. Porter', 'box'],
  ])('%s', (line, customer, kind) => {
    const order = readOwn(line)
    expect(order).toMatchObject({ customer, pieces: [{ kind, own: null }], rest: '' })
  })

  test.each([
    ['60x8 walnut for Ana Porter', 'Ana Porter', ['walnut']],
    ['60x8 walnut for Ana B. Porter by friday', 'Ana B. Porter', ['walnut']],
    ['8x10 cherry for Mr. Porter, oil', 'Mr. Porter', ['cherry']],
    ['for Ana and Tom Porter 60x8 cherry', 'Ana and Tom Porter', ['cherry']],
    ['60x8 walnut for Ana Reyes-Porter', 'Ana Reyes-Porter', ['walnut']],
    ['60x8 walnut for Ana Porter-Reyes', 'Ana Porter-Reyes', ['walnut']],
    // Names that are kinds of pieces and woods.
    ['10x6 walnut for Rose Box', 'Rose Box', ['walnut']],
    ['36x18 cherry for Mr Table', 'Mr Table', ['cherry']],
    ['60x8 walnut for Ana Cherry', 'Ana Cherry', ['walnut']],
  ])('after "for" and a first name it is no piece, though nothing else is: %s', (line, customer, woods) => {
    expect(readOwn(line)).toMatchObject({ customer, pieces: [{ kind: null, own: null, woods }], rest: '' })
  })

  test.each([
    ['60x8 walnut for Ana porter', 'Ana', ['porter']],
    ['60x8 walnut for Ana’s Porter', 'Ana’s', ['porter']],
    ['for Ana, Porter 60x8', 'Ana', ['porter']],
    ['for Ana: Porter 60x8', 'Ana', ['porter']],
    ['60x8 walnut for Ana Picture Frame', 'Ana', ['frame']],
    ['porter 60x8 oak for Ana Reyes', 'Ana Reyes', ['porter']],
    ['2 boards for Ana Reyes; Porter 60x8', 'Ana Reyes', [null, 'porter']],
    ['picture frame 8x10 for Tom Porter', 'Tom Porter', ['frame']],
  ])('stays the piece where nothing else is: %s', (line, customer, pieces) => {
    const order = readOwn(line)
    expect(order.customer).toBe(customer)
    expect(order.pieces.map((piece) => piece.own)).toEqual(pieces)
    // What parted the two is no note.
    expect(order.rest).toBe('')
  })
})

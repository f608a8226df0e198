import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { askedPiece } from '../../../core/book/asked-piece.ts'
import { readOrderLine, type SpokenOrder } from '../../../core/book/order-line.ts'
import type { ShopWords } from '../../../core/book/order-line-listener.ts'
import { readSpokenDay } from '../../../core/book/spoken-day.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'
import { daysLater } from '../../../core/time/local-day.ts'

/** A Wednesday. */
const today = '2026-11-25'
const words: ShopWords = {
  today,
  units: 'inch',
  woods: ['Walnut', 'Hard maple', 'Cherry', 'White oak', 'Red oak', 'Ash'].map((name) => ({ id: name, name })),
  finishes: ['Mineral oil and wax', 'Hardwax oil', 'Shellac', 'Wipe-on polyurethane'].map((name) => ({
    id: name,
    name,
  })),
  own: [
    { id: 'own-set', name: 'Coaster set' },
    { id: 'own-mantel', name: 'Mantel shelf' },
    { id: 'own-tray', name: 'Oak wedding tray' },
  ],
  fairs: ['2026-11-21', '2026-12-19', '2027-03-06'],
}
const read = (line: string): SpokenOrder => readOrderLine(line, words)

/** Everything that was heard, in few words: `2 board 16"x12" [Walnut] oil`, then who, when and how much. */
function heard(line: string): string {
  const said = read(line)
  const pieces = said.pieces.map(
    ({ count, kind, own, sizesNm, thicknessNm, sidesNm, isUnknown, woods, finish, options, engravingSays, cellNm }) =>
      [
        count,
        kind,
        own,
        sizesNm.map((size) => writeLength(size, 'inch').replaceAll('"', '')).join('x'),
        thicknessNm === null ? null : `${writeLength(thicknessNm, 'inch').replaceAll('"', '')} thick`,
        ...Object.entries(sidesNm).map(([side, nm]) => `${side} ${writeLength(nm, 'inch').replaceAll('"', '')}`),
        isUnknown ? '?' : null,
        cellNm === null ? null : `cells ${writeLength(cellNm, 'inch').replaceAll('"', '')}`,
        woods.join('/'),
        finish === null ? null : `(${finish})`,
        ...options.map((option) => `+${option}`),
        engravingSays === null ? null : `“${engravingSays}”`,
      ]
        .filter((part) => part !== null && part !== '')
        .join(' '),
  )
  const rest = [
    said.sameAs === null ? null : `same as ${said.sameAs}`,
    said.customer === null ? null : `for ${said.customer}`,
    said.reach === null ? null : `at ${said.reach}`,
    said.secondReach === null ? null : `or ${said.secondReach}`,
    said.neededBy === null ? null : `by ${said.neededBy}`,
    said.neededWhy === null ? null : `because ${said.neededWhy}`,
    said.price === null ? null : `price ${said.price}`,
    said.deposit === null ? null : `down ${said.deposit}${said.depositHow === null ? '' : ` ${said.depositHow}`}`,
    said.rest === '' ? null : `rest: ${said.rest}`,
  ].filter((part) => part !== null)
  return [...pieces, ...rest].join(' | ')
}

/** A line as typed, and what is heard in it. */
const LINES: readonly (readonly [string, string])[] = [
  // What, how many
  ['board', 'board'],
  ['2 boards', '2 board'],
  ['two boards', '2 board'],
  ['a board', '1 board'],
  ['an end grain board', '1 end-grain-board'],
  ['a dozen trays', '12 tray'],
  ['a pair of boxes', '2 box'],
  ['3x trays', '3 tray'],
  ['4 × trays', '4 tray'],
  ['a set of 4 boards', '4 board'],
  ['set of three boxes', '3 box'],
  ['walnut, 2 boards', '2 board Walnut'],
  ['cutting board', 'board'],
  ['chopping block', 'end-grain-board'],
  ['butcher’s block', 'end-grain-board'],
  ['carving board', 'board'],
  ['cheese board', 'edge-grain-board'],
  ['charcuterie boards', 'edge-grain-board'],
  ['serving tray', 'tray'],
  ['edge grain cutting board', 'edge-grain-board'],
  ['checkers board', 'game-board'],
  ['a draughts board', '1 game-board'],
  ['jewelry box', 'box'],
  ['side table', 'table'],
  ['coffee table', 'table'],
  ['bench', 'bench'],
  ['maple slab', 'edge-grain-board Hard maple'],
  // Sizes
  ['board 16x12', 'board 16x12'],
  ['board 16 x 12', 'board 16x12'],
  ['board 16 by 12', 'board 16x12'],
  ['board 16" x 12"', 'board 16x12'],
  ['board 16 × 12 × 1 1/2', 'board 16x12x1 1/2'],
  ['board 16x12x1.5', 'board 16x12x1 1/2'],
  ['board 16 1/2 x 12', 'board 16 1/2x12'],
  ['board 400 x 300 mm', 'board 15 3/4x11 13/16'],
  ['16x12 board', 'board 16x12'],
  ['3 16x12 boards', '3 board 16x12'],
  ['board 16x12, 1 1/2 thick', 'board 16x12 1 1/2 thick'],
  ['board 16x12 1.5" thick', 'board 16x12 1 1/2 thick'],
  ['table 36x18x22', 'table 36x18x22'],
  ['bench 48 x 14 x 18', 'bench 48x14x18'],
  ['tray 18x12x2', 'tray 18x12x2'],
  ['end grain board 16x12, 2 inch squares', 'end-grain-board 16x12 cells 2'],
  ['end grain board 15x12, 1 1/2 in squares', 'end-grain-board 15x12 cells 1 1/2'],
  ['end grain board 12x10, 2" cells', 'end-grain-board 12x10 cells 2'],
  // Woods and finishes
  ['board walnut/maple', 'board Walnut/Hard maple'],
  ['board maple and walnut', 'board Hard maple/Walnut'],
  ['board in cherry', 'board Cherry'],
  ['white oak tray', 'tray White oak'],
  ['red oak box', 'box Red oak'],
  ['ash slab', 'edge-grain-board Ash'],
  ['walnut, maple and cherry board', 'board Walnut/Hard maple/Cherry'],
  ['board, oil', 'board (Mineral oil and wax)'],
  ['board, hardwax oil', 'board (Hardwax oil)'],
  ['box, shellac', 'box (Shellac)'],
  ['box in shellac finish', 'box (Shellac)'],
  ['table, wipe-on poly', 'table (Wipe-on polyurethane)'],
  // Options that have a field
  ['board with juice groove', 'board +juice-groove'],
  ['board, juice grooves', 'board +juice-groove'],
  ['board with finger grips', 'board +finger-grips'],
  ['board with hand grips', 'board +finger-grips'],
  ['board with feet', 'board +feet'],
  ['board on rubber feet', 'board +feet'],
  ['hinged box', 'box +hinged'],
  ['box with hinged lid', 'box +hinged'],
  ['engraved box', 'box +engraved'],
  ['board 16x12 walnut with engraving', 'board 16x12 Walnut +engraved'],
  ['walnut board 16x12 engraved 1998', 'board 16x12 Walnut +engraved “1998”'],
  ['walnut board 16x12 engraved 2019, 140', 'board 16x12 Walnut +engraved “2019” | price 140'],
  ['maple board engraved "Rosa & Tom", for Ana Reyes', 'board Hard maple +engraved “Rosa & Tom” | for Ana Reyes'],
  ['board, engraved with ‘for Mom, May 9’, by Dec 12', 'board +engraved “for Mom, May 9” | by 2026-12-12'],
  ['box engraved "A"; tray engraved "B" engraved "C"', 'box +engraved “A” | tray +engraved “B” | rest: engraved “C”'],
  ['box with a lift-off lid', 'box +loose-lid'],
  ['box with splines', 'box +splines'],
  ['splined box', 'box +splines'],
  ['slab with breadboard ends', 'edge-grain-board +breadboard'],
  ['board with juice groove, feet and finger grips', 'board +juice-groove +finger-grips +feet'],
  ['board engraved "A & B"', 'board +engraved “A & B”'],
  // Who
  ['board for Ana Reyes', 'board | for Ana Reyes'],
  ['Ana Reyes, 2 boards', '2 board | for Ana Reyes'],
  ['Ana Reyes: 2 boards', '2 board | for Ana Reyes'],
  ['Mrs. Feld, a tray', '1 tray | for Mrs. Feld'],
  ['a tray for Mrs. Feld', '1 tray | for Mrs. Feld'],
  ['box for Joost van Dam', 'box | for Joost van Dam'],
  ['board for Tom & Bea', 'board | for Tom & Bea'],
  ['Bea Castellan, hinged box', 'box +hinged | for Bea Castellan'],
  // How to reach them
  ['board for Ana Reyes 555-0142', 'board | for Ana Reyes | at 555-0142'],
  ['555-0142, board for Ana Reyes', 'board | for Ana Reyes | at 555-0142'],
  ['board (555) 555-0142', 'board | at (555) 555-0142'],
  ['board +1 555 555 0142', 'board | at +1 555 555 0142'],
  ['ana@example.org 2 boards', '2 board | at ana@example.org'],
  ['2 boards, ana@example.org', '2 board | at ana@example.org'],
  ['2 boards, 555-0142, ana@example.org', '2 board | at 555-0142 | or ana@example.org'],
  ['2 boards, ana@example.org or 555-0142', '2 board | at ana@example.org | or 555-0142'],
  // Money
  ['board $120', 'board | price $120'],
  ['board, 120 dollars', 'board | price 120 dollars'],
  ['board, price 120', 'board | price 120'],
  ['board for $120', 'board | price $120'],
  ['2 boards $120 each', '2 board | price $240'],
  ['2 boards at $120 each', '2 board | price $240'],
  ['2 boards, 120 each', '2 board | price 240'],
  ['3 trays, 85 apiece', '3 tray | price 255'],
  ['3 trays, $85.50 a piece', '3 tray | price $256.50'],
  ['4 boxes $40 per piece', '4 box | price $160'],
  ['board $240, deposit 100', 'board | price $240 | down 100'],
  ['board $240, 100 down', 'board | price $240 | down 100'],
  ['board $240 with $120 deposit', 'board | price $240 | down $120'],
  ['board $240, deposit of $120', 'board | price $240 | down $120'],
  // A bare amount after the piece, and what is paid already
  ['box 12x8 walnut, 350', 'box 12x8 Walnut | price 350'],
  ['board for Ann, 65 dollars, friday', 'board | for Ann | by 2026-11-27 | price 65 dollars'],
  ['box 12x8 walnut, 240, cash', 'box 12x8 Walnut | price 240 | rest: cash'],
  ['box 12x8 walnut 240, 80 down, check', 'box 12x8 Walnut | price 240 | down 80 check'],
  ['tray, 95; box, 120.50', 'tray | box | price 215.50'],
  ['board $240, 100', 'board | price $240 | rest: 100'],
  ['board 16 walnut', 'board Walnut | rest: 16'],
  ['box, 350, paid 100', 'box | price 350 | down 100'],
  ['box, $350, paid $100 by check for Ann', 'box | for Ann | price $350 | down $100 check'],
  ['box, $240, deposit 80 cash', 'box | price $240 | down 80 cash'],
  ['box, $240, deposit 80, card', 'box | price $240 | down 80 card'],
  ['box, deposit 80; checkers board', 'box | game-board | down 80'],
  [
    'bench 48" long white oak for Sue by xmas, 350, paid 100',
    'bench length 48 White oak | for Sue | by 2026-12-24 | because xmas | price 350 | down 100',
  ],
  // One side by its word
  ['bench 48 long, 14" wide and 18 high', 'bench length 48 width 14 height 18'],
  ['long grain board 16x12', 'edge-grain-board 16x12'],
  ['board 16 x 12 long', 'board 16x12 | rest: long'],
  // The maker's own constructions go before woods, kinds and occasions that are in their names.
  ['2 coaster sets cherry, 60', '2 own-set Cherry | price 60'],
  ['Coaster Set, walnut, for Sue', 'own-set Walnut | for Sue'],
  ['walnut, 3 coaster-sets', '3 own-set Walnut'],
  ['oak wedding tray 18x12 for a wedding', 'own-tray 18x12 | because wedding'],
  ['coaster set and a coaster set', 'own-set | rest: and a coaster set'],
  ['2 mantel shelves oak, 90', '2 own-mantel White oak | price 90'],
  ['mantel shelf oak 290', 'own-mantel White oak | price 290'],
  ['mantel shelves oak 290', 'own-mantel White oak | rest: 290'],
  ['a coaster', '1 ? | rest: a coaster'],
  ['coaster set walnut, sue@mantel-shelf.com', 'own-set Walnut | at sue@mantel-shelf.com'],
  // A number beside a piece is its price only where it can be no size and no count.
  ['oak bench 350', 'bench White oak | price 350'],
  ['bench 350 oak for Sue', 'bench White oak | for Sue | price 350'],
  ['2 oak benches 350', '2 bench White oak | price 350'],
  ['bench 48x14 oak 350; tray 18x12 210', 'bench 48x14 White oak | tray 18x12 | price 560'],
  ['oak bench 89.50', 'bench White oak | price 89.50'],
  ['coaster set walnut 210', 'own-set Walnut | price 210'],
  ['oak bench 48', 'bench White oak | rest: 48'],
  ['mantel shelf 48', 'own-mantel | rest: 48'],
  ['bench oak 48', 'bench White oak | rest: 48'],
  ['walnut boxes 250', 'box Walnut | rest: 250'],
  ['oak bench model 350', 'bench White oak | rest: model 350'],
  ['oak stool 350', '? White oak | rest: oak stool 350'],
  // What names no piece known here: every word of it is kept
  ['picture frame 8x10 oak for mom', '8x10 ? White oak | rest: picture frame 8x10 oak for mom'],
  ['a picture frame', '1 ? | rest: a picture frame'],
  ['16x12 walnut', '16x12 Walnut'],
  // By when
  ['board friday', 'board | by 2026-11-27'],
  ['board, fri, $80', 'board | by 2026-11-27 | price $80'],
  ['board before thanksgiving', 'board | by 2026-11-25 | because thanksgiving'],
  ['board by Dec 12', 'board | by 2026-12-12'],
  ['board by 12 Dec', 'board | by 2026-12-12'],
  ['board by December 12th', 'board | by 2026-12-12'],
  ['board by the 12th of December', 'board | by 2026-12-12'],
  ['board by Sat Dec 12', 'board | by 2026-12-12'],
  ['board by Saturday, December 12', 'board | by 2026-12-12'],
  ['board by 2026-12-12', 'board | by 2026-12-12'],
  ['board by Feb 21', 'board | by 2027-02-21'],
  ['board by Feb 21, 2027', 'board | by 2027-02-21'],
  ['board by Nov 25', 'board | by 2026-11-25'],
  ['board by today', 'board | by 2026-11-25'],
  ['board by tomorrow', 'board | by 2026-11-26'],
  ['board by Saturday', 'board | by 2026-11-28'],
  ['board by this Saturday', 'board | by 2026-11-28'],
  ['board next Friday', 'board | by 2026-12-04'],
  ['board by next Friday', 'board | by 2026-12-04'],
  ['board by Saturday week', 'board | by 2026-12-05'],
  ['board in 3 weeks', 'board | by 2026-12-16'],
  ['board in three weeks', 'board | by 2026-12-16'],
  ['board in 10 days', 'board | by 2026-12-05'],
  ['board in a month', 'board | by 2026-12-25'],
  ['board in 2 months', 'board | by 2027-01-25'],
  ['board by the 15th', 'board | by 2026-12-15'],
  ['board by next week', 'board | by 2026-12-06'],
  ['board by the end of the week', 'board | by 2026-11-29'],
  ['board by end of March', 'board | by 2027-03-31'],
  ['board by the middle of January', 'board | by 2027-01-15'],
  ['board by the end of next month', 'board | by 2026-12-31'],
  ['board before Dec 12', 'board | by 2026-12-11'],
  ['board until Dec 12', 'board | by 2026-12-12'],
  ['board due Dec 12', 'board | by 2026-12-12'],
  ['board needed by Dec 12', 'board | by 2026-12-12'],
  ['board for Christmas', 'board | by 2026-12-24 | because Christmas'],
  ['board by Christmas', 'board | by 2026-12-24 | because Christmas'],
  ['board for Valentine’s Day', 'board | by 2027-02-13 | because Valentine’s Day'],
  ['board by New Year', 'board | by 2026-12-31 | because New Year'],
  ['Dec 12, a board', '1 board | by 2026-12-12'],
  // At the fair: the day that the almanac has
  ['board, at the fair', 'board | by 2026-12-19'],
  ['board by the fair', 'board | by 2026-12-19'],
  ['board before the fair', 'board | by 2026-12-18'],
  ['board, pick up at the next fair', 'board | by 2026-12-19'],
  ['2 trays for the market', '2 tray | by 2026-12-19'],
  // What for
  ['board, wedding', 'board | because wedding'],
  ['board as a wedding gift', 'board | because wedding gift'],
  ['board for her birthday', 'board | because birthday'],
  ['board for a housewarming', 'board | because housewarming'],
  ['board, retirement present', 'board | because retirement present'],
  // Earlier orders
  ['same as no. 12', 'same as 12'],
  ['same as 12', 'same as 12'],
  ['Same as #7 for Ana Feld', 'same as 7 | for Ana Feld'],
  ['like no. 3, by Dec 12', 'same as 3 | by 2026-12-12'],
  ['no. 12 again', 'same as 12'],
  ['same as no. 12 but 2 of 18x12 cherry', '2 18x12 Cherry | same as 12'],
  // Several pieces
  ['2 boards; 1 tray', '2 board | 1 tray'],
  ['2 boards plus a tray', '2 board | 1 tray'],
  [
    '3 cheese boards 10x6 cherry; tray 18 by 12 white oak plus a box',
    '3 edge-grain-board 10x6 Cherry | tray 18x12 White oak | 1 box',
  ],
  // All of it
  [
    '2 boards 16x12 walnut/maple, by 12 Dec, oil',
    '2 board 16x12 Walnut/Hard maple (Mineral oil and wax) | by 2026-12-12',
  ],
  [
    'two end-grain boards 18 x 18 x 1 1/2 for Mrs. Ana Feld, 555 0142 777, $240, deposit 100, by Dec 12',
    '2 end-grain-board 18x18x1 1/2 | for Mrs. Ana Feld | at 555 0142 777 | by 2026-12-12 | price $240 | down 100',
  ],
  [
    'Ana Reyes, hinged box 10x8x4 cherry, shellac, for her birthday, ana@example.org',
    'box 10x8x4 Cherry (Shellac) +hinged | for Ana Reyes | at ana@example.org | because birthday',
  ],
  [
    '2 trays 18x12 white oak, hardwax oil, $95 each, half down',
    '2 tray 18x12 White oak (Hardwax oil) | price $190 | rest: half down',
  ],
]

describe('a line as it is said', () => {
  test('is held by at least 150 examples', () => expect(LINES.length).toBeGreaterThanOrEqual(150))
  test.each(LINES)('%s', (line, expected) => expect(heard(line)).toBe(expected))
})

describe('days', () => {
  // Unicode CLDR, by way of Intl: how American and British English write a date in full and short.
  const styles = ['en-US', 'en-GB'].flatMap((locale) =>
    (['full', 'long', 'medium'] as const).map(
      (dateStyle) => new Intl.DateTimeFormat(locale, { dateStyle, timeZone: 'UTC' }),
    ),
  )
  test('are read in every way in which CLDR writes them, for four years', () => {
    fc.assert(
      fc.property(fc.integer({ min: -100, max: 1400 }), fc.constantFrom(...styles), (days, style) => {
        const day = daysLater(today, days)
        expect(readSpokenDay(style.format(new Date(`${day}T00:00:00Z`)), today)?.day).toBe(day)
      }),
      { numRuns: 1000 },
    )
  })
  // ISO 8601-1:2019, 5.2.2.1: calendar date in extended format.
  test('are read as ISO 8601 has them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3000 }), (days) => {
        const day = daysLater(today, days)
        expect(read(`board by ${day}`).neededBy).toBe(day)
      }),
    )
  })
  test('said without a year are never past, and never more than a year ahead', () => {
    const style = new Intl.DateTimeFormat('en-US', { month: 'short', day: 'numeric', timeZone: 'UTC' })
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 364 }), (days) => {
        const day = daysLater(today, days)
        fc.pre(!day.endsWith('02-29'))
        expect(read(`board by ${style.format(new Date(`${day}T00:00:00Z`))}`).neededBy).toBe(day)
      }),
    )
  })
})

describe('whatever is typed', () => {
  const asked = fc.constantFrom(...LINES.map(([line]) => line))
  const strange = fc.constantFrom('zinc', 'gruel', 'quoin', 'klimt', 'voxel', 'æther')

  test('nothing throws', () => {
    const anything = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.tuple(asked, fc.string()).map((two) => two.join(' ')),
    )
    fc.assert(
      fc.property(anything, (line) => void read(line)),
      { numRuns: 500 },
    )
  })

  test('a word that means nothing here is not lost, before or after any of these lines', () => {
    fc.assert(
      fc.property(asked, strange, strange, (line, before, after) => {
        const { rest } = read(`${before}, ${line}, ${after}`)
        expect(rest).toContain(before)
        expect(rest).toContain(after)
      }),
      { numRuns: 400 },
    )
  })
})

test('three numbers of a table are its top and its height', () => {
  const [piece] = read('table 36x18x22').pieces
  const table = piece === undefined ? null : askedPiece(piece, 'inch', '')
  expect(table).toMatchObject({ construction: 'small-table', input: { length: '36"', width: '18"', height: '22"' } })
})

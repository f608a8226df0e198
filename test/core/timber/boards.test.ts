import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { isoCurrency } from '../../../core/money/currency.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { readBoardLine } from '../../../core/timber/board-line.ts'
import { machineWarnings } from '../../../core/timber/machine-limits.ts'
import { notMilled, partsToCut } from '../../../core/timber/parts-to-cut.ts'
import { readBoard, readCount, type BoardInput } from '../../../core/timber/read-board.ts'
import { readFlaws, writeFlaws } from '../../../core/timber/read-flaws.ts'
import { sawCautions } from '../../../core/timber/saw-cautions.ts'

const almanac = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
const { woods, allowances } = almanac
const words = { units: 'inch', currency: isoCurrency('USD'), woods, today: '2026-11-28', before: null } as const
const input: BoardInput = {
  ...{
    wood: 'walnut',
    thickness: '5/4',
    width: '7',
    length: '96',
    flaws: '',
    quality: '',
    place: '',
    price: '',
    moisture: '',
  },
}

describe('boards said in one line', () => {
  const said = (line: string) => {
    const { count, wood, thickness, width, length, price, rest } = readBoardLine(line, woods)
    return [count, wood, thickness, width, length, price, rest]
  }

  it.each([
    ['1 1/4 x 7 x 96', ['', '', '1 1/4', '7', '96', '', '']],
    ['4 of 1 1/4 x 7 x 96 walnut', ['4', 'walnut', '1 1/4', '7', '96', '', '']],
    ["4 walnut 5/4 x 7 1/4 x 8', $38", ['4', 'walnut', '5/4', '7 1/4', "8'", '38', '']],
    ['2 8/4 x 6 x 10 ft white oak', ['2', 'white-oak', '8/4', '6', '10 ft', '', '']],
    ['3x maple 32 x 180 x 2400 mm at 45 €', ['3', 'maple', '32 mm', '180 mm', '2400 mm', '45', '']],
    ['cherry 1" by 6" by 72", knot at one end', ['', 'cherry', '1"', '6"', '72"', '', 'knot at one end']],
    ['6 boards', ['6', '', '', '', '', '', '']],
    ['4 x 4 x 30 ash', ['', 'ash', '4', '4', '30', '', '']],
    ['', ['', '', '', '', '', '', '']],
  ])('%s', (line, fields) => expect(said(line)).toEqual(fields))

  it('throws nothing whatever is typed, and loses none of it', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789/ x"\'.,mwalnutof$-½') }), (line) => {
        const heard = Object.values(readBoardLine(line, woods)).join(' ')
        for (const digit of line.match(/\d/g) ?? []) expect(heard).toContain(digit)
      }),
    )
  })
})

describe('a board as typed', () => {
  it('has its thickness by quarters of an inch in any shop', () => {
    // 5/4 is 1 1/4 in, 31.75 mm.
    for (const units of ['inch', 'millimetre'] as const) {
      const read = readBoard({ ...input, width: '7 in', length: '96 in' }, { ...words, units })
      expect(read.ok && read.value.thicknessNm).toBe(millimetres(31.75))
    }
  })

  it('is refused by the fields that are wrong, in sentences', () => {
    const read = readBoard(
      { ...input, wood: 'unobtainium', width: '0', length: '96 m', flaws: 'somewhere', price: 'dear' },
      words,
    )
    const problems = read.ok ? [] : read.problems
    expect(problems.map(({ field }) => field)).toEqual(['wood', 'width', 'length', 'flaws', 'price'])
    for (const { message } of problems) expect(message).toMatch(/[.?]$/)
  })

  it('is one of 1 to 99 equal ones', () => {
    expect(['1', ' 99 ', '0', '100', '1.5', '', 'two'].map((text) => readCount(text).ok)).toEqual([
      ...[true, true, false, false, false, false, false],
    ])
  })
})

describe('lengths to avoid', () => {
  const read = (text: string, units: 'inch' | 'millimetre' = 'inch') => {
    const flaws = readFlaws(text, inches(96), units)
    return flaws.ok ? flaws.value.map(({ fromNm, toNm }) => [fromNm / 25_400_000, toNm / 25_400_000]) : null
  }

  it.each([
    ['12-15', [[12, 15]]],
    [
      '40 to 41 1/2, 12–15',
      [
        [12, 15],
        [40, 41.5],
      ],
    ],
    ['40-1/2-42', [[40.5, 42]]],
    ['18-3/4', [[18.75, 18.75]]],
    ['88', [[88, 88]]],
    [
      '0 to 2"; 90" - 96"',
      [
        [0, 2],
        [90, 96],
      ],
    ],
    ['', []],
  ])('%s', (text, flaws) => expect(read(text)).toEqual(flaws))

  it('take the unit from the end of a stretch', () => {
    expect(read('254-508 mm', 'inch')).toEqual([[10, 20]])
    expect(read('254-508', 'millimetre')).toEqual([[10, 20]])
  })

  it('are refused backwards and beyond the board', () => {
    expect([read('15-12'), read('90-97'), read('here')]).toEqual([null, null, null])
  })

  it('are read again as they are written', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 1000 })), { maxLength: 4 }),
        fc.constantFrom('inch', 'millimetre'),
        (pairs, units) => {
          const unit = units === 'inch' ? 396_875 : 100_000
          const flaws = pairs
            .map(([from, long]) => ({ fromNm: from * unit, toNm: (from + long) * unit }))
            .toSorted((a, b) => a.fromNm - b.fromNm)
          expect(readFlaws(writeFlaws(flaws, units), 0, units)).toEqual({ ok: true, value: flaws })
        },
      ),
    )
  })
})

describe('what is still to be cut', () => {
  const size = (length: number) => ({ lengthNm: inches(length), widthNm: inches(2), thicknessNm: inches(1) })
  const strip = { name: 'Strip', wood: 'maple', quantity: 4, rough: size(20), finished: size(18) }
  const longer = { ...strip, quantity: 3, rough: size(30) }
  const lot = { id: 'p/1', forPiece: 'no. 1, Board', parts: [strip, longer] }
  const cut = (quantity: number, length: number) => ({ name: 'Strip', wood: 'maple', quantity, ...size(length) })
  const left = (...already: ReturnType<typeof cut>[]) =>
    partsToCut([{ ...lot, cut: already }], 'inch').map(({ id, quantity }) => [id, quantity])

  it('is less what has been cut at its size', () => {
    expect(left(cut(3, 30), cut(1, 20))).toEqual([['p/1.0', 3]])
  })

  it('counts what was cut at an old size for parts of the same name, when an allowance has changed since', () => {
    expect(left(cut(2, 19))).toEqual([
      ['p/1.0', 2],
      ['p/1.1', 3],
    ])
  })

  it('is never less than nothing', () => {
    expect(left(cut(40, 20), cut(40, 30))).toEqual([])
  })

  it('leaves out what is milled, part by part', () => {
    const frame = { ...strip, name: 'Frame member', milledIn: 'mill-frame' }
    const steps = [{ key: 'mill' }, { key: 'mill-frame' }]
    const names = (done: string) => notMilled([strip, frame], steps, (key) => key === done).map(({ name }) => name)
    expect(names('mill')).toEqual(['Frame member'])
    expect(names('mill-frame')).toEqual(['Strip'])
  })
})

describe('machines and the saw', () => {
  it('warn of what they do not take', () => {
    const sized = (length: number, width: number, thickness: number) =>
      machineWarnings(
        { lengthNm: inches(length), widthNm: inches(width), thicknessNm: inches(thickness) },
        allowances,
        'inch',
      )
    expect(sized(20, 5, 1)).toEqual([])
    // A 6" jointer, a 12 1/2" planer that takes nothing under 12", a saw that cuts 3 1/8".
    expect(sized(20, 7, 1)).toHaveLength(1)
    expect(sized(20, 13, 1)).toHaveLength(2)
    expect(sized(8, 5, 1)[0]).toMatch(/planer takes nothing under 12"/)
    expect(sized(20, 5, 3)[0]).toMatch(/band saw/)
  })

  it('caution at narrow rips and short crosscuts, not at trimming an end', () => {
    const board = { x: 0, y: 0, lengthNm: inches(40), widthNm: inches(6) }
    const kerf = inches(1 / 8)
    const rip = { way: 'rip', through: board, fromNm: inches(1.5), toNm: inches(1.5) + kerf } as const
    const crosscut = { way: 'crosscut', through: board, fromNm: inches(5), toNm: inches(5) + kerf } as const
    const trim = { way: 'crosscut', through: board, fromNm: 0, toNm: kerf } as const
    const ids = (...[cut, kept]: Parameters<typeof sawCautions>) => sawCautions(cut, kept).map(({ id }) => id)
    expect(ids([rip], [{ ...board, widthNm: inches(1.5) }])).toEqual(['narrow-rip'])
    expect(ids([crosscut], [{ ...board, lengthNm: inches(5) }])).toEqual(['short-crosscut'])
    expect(ids([trim], [{ ...board, x: kerf, lengthNm: inches(40) - kerf }])).toEqual([])
    const short = { ...board, lengthNm: inches(10) }
    expect(ids([{ ...rip, through: short }], [{ ...short, widthNm: inches(1.5) }])).toEqual(['short-rip', 'narrow-rip'])
  })
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { inches, millimetres, RESOLUTION_NM, roundLength } from '../../../core/lengths/length.ts'
import { readLength } from '../../../core/lengths/read-length.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'

const read = (text: string, units: 'inch' | 'millimetre' = 'inch') => {
  const length = readLength(text, units)
  if (!length.ok) throw new Error(length.problems[0]?.message)
  return length.value
}
const code = (text: string, units: 'inch' | 'millimetre' = 'inch') => {
  const length = readLength(text, units)
  return length.ok ? `read as ${length.value}` : length.problems[0]?.code
}

describe('a size in inches', () => {
  it.each([
    ['18 3/4', 18.75],
    ['18-3/4"', 18.75],
    ['18 - 3/4', 18.75],
    ['18 3/4 in', 18.75],
    ['18 3/4 in.', 18.75],
    ['18¾″', 18.75],
    ['18 ¾”', 18.75],
    ['18 and 3/4 inches', 18.75],
    ['18 3⁄4', 18.75],
    ['1\' 6"', 18],
    ["1' 6", 18],
    ["1'6", 18],
    ['1\'-6"', 18],
    ['1\' 6 1/2"', 18.5],
    ['1\'-6-1/2"', 18.5],
    ['1′ 6½″', 18.5],
    ['1’ 6”', 18],
    ['1 ft 6 in', 18],
    ['1 foot and 6 inches', 18],
    ['1 1/2 ft', 18],
    ["2'", 24],
    ['3/4', 0.75],
    ['¾', 0.75],
    ['.75', 0.75],
    ['0.75"', 0.75],
    ["0.75''", 0.75],
    ['0,75', 0.75],
    ['5/4', 1.25],
    ['⅝"', 0.625],
    ['  12  ', 12],
    ['12 IN', 12],
    ['0', 0],
  ])('%s is read', (text, expected) => {
    expect(read(text)).toBe(expected * 25_400_000)
  })

  it('keeps a fraction that no decimal can hold to the nearest nanometre', () => {
    expect(read('1/3')).toBe(8_466_667)
    expect(read('17/64')).toBe(17 * 396_875)
  })
})

describe('a metric size', () => {
  it.each([
    ['476 mm', 476],
    ['476mm', 476],
    ['47.6cm', 476],
    ['47,6 cm', 476],
    ['1.2 m', 1200],
    ['1 m 20 cm', 1200],
    ['1 meter 200 millimeters', 1200],
    ['0.1 mm', 0.1],
  ])('%s is read in a shop of either system', (text, expected) => {
    expect(read(text, 'inch')).toBe(Math.round(expected * 1e6))
    expect(read(text, 'millimetre')).toBe(Math.round(expected * 1e6))
  })

  it('is the meaning of a bare number where the shop measures in millimeters', () => {
    expect(read('476', 'millimetre')).toBe(476_000_000)
    expect(read('47,6', 'millimetre')).toBe(47_600_000)
    expect(read('18 3/4 in', 'millimetre')).toBe(inches(18.75))
  })
})

describe('what cannot be read', () => {
  it.each([
    ['', 'length-missing'],
    ['-3', 'length-negative'],
    ['−3 mm', 'length-negative'],
    ['16x12', 'length-several'],
    ['16 by 12', 'length-several'],
    ['18 7/4', 'length-fraction'],
    ['1/0', 'length-fraction'],
    ['12 furlongs', 'length-unit'],
    ['about 12', 'length-unreadable'],
    ['sixteen', 'length-unreadable'],
    ['18 34', 'length-unreadable'],
    ['6-8', 'length-unreadable'],
    ['6 in 1 ft', 'length-unreadable'],
    ['6 in 10 mm', 'length-unreadable'],
    ['1 ft 6 cm', 'length-unreadable'],
    ['1.2.3', 'length-unreadable'],
    ['1,200 mm', 'length-comma'],
    ['476 m', 'length-too-long'],
  ])('“%s” is a named problem: %s', (text, expected) => {
    expect(code(text)).toBe(expected)
  })

  it('says what would do', () => {
    const length = readLength('1,200 mm', 'millimetre')
    expect(length.ok ? '' : length.problems[0]?.message).toBe('“1,200 mm” may mean 1200 or 1.200: write one of these.')
  })

  it('does not guess the unit of a fraction in a shop that measures in millimeters', () => {
    expect(code('18 3/4', 'millimetre')).toBe('length-fraction-unit')
  })

  it('never throws, whatever is typed', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme' }),
        fc.constantFrom('inch' as const, 'millimetre' as const),
        (text, units) => {
          const length = readLength(text, units)
          expect(length.ok ? Number.isInteger(length.value) && length.value >= 0 : length.problems.length > 0).toBe(
            true,
          )
        },
      ),
    )
  })

  it('never throws on the marks sizes are made of', () => {
    const marks = fc.constantFrom(...'0123456789./,-\'" xinftmc½¾″'.split(''))
    fc.assert(
      fc.property(fc.array(marks, { maxLength: 14 }), (chosen) => {
        const length = readLength(chosen.join(''), 'inch')
        expect(length.ok ? Number.isInteger(length.value) && length.value >= 0 : length.problems.length > 0).toBe(true)
      }),
      { numRuns: 2000 },
    )
  })
})

describe('what is written', () => {
  it('is read back to within half the resolution, in both systems and with feet', () => {
    const sizes = fc.integer({ min: 0, max: 90_000_000_000 })
    fc.assert(
      fc.property(
        sizes,
        fc.constantFrom('inch' as const, 'millimetre' as const),
        fc.boolean(),
        (sizeNm, units, asFeet) => {
          const back = read(writeLength(sizeNm, units, asFeet ? 'feet' : 'plain'), units)
          expect(Math.abs(back - sizeNm)).toBeLessThanOrEqual(RESOLUTION_NM[units] / 2)
          expect(back).toBe(roundLength(sizeNm, units))
        },
      ),
      { numRuns: 1000 },
    )
  })

  it('is read the same in a shop of the other system, because the unit is written', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5_000_000_000 }), (sizeNm) => {
        expect(read(writeLength(sizeNm, 'inch'), 'millimetre')).toBe(roundLength(sizeNm, 'inch'))
        expect(read(writeLength(sizeNm, 'millimetre'), 'inch')).toBe(roundLength(sizeNm, 'millimetre'))
      }),
    )
  })

  it('keeps every 64th of an inch and every tenth of a millimeter exactly', () => {
    for (let step = 0; step < 64 * 40; step++) expect(read(writeLength(step * 396_875, 'inch'))).toBe(step * 396_875)
    for (let step = 0; step < 10_000; step++) {
      expect(read(writeLength(step * 100_000, 'millimetre'))).toBe(step * 100_000)
    }
    expect(millimetres(0.1)).toBe(RESOLUTION_NM.millimetre)
  })
})

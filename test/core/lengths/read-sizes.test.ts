import { describe, expect, it } from 'vitest'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { findSizes, readSizes } from '../../../core/lengths/read-sizes.ts'

const read = (text: string, units: 'inch' | 'millimetre' = 'inch') => {
  const sizes = readSizes(text, units)
  return sizes.ok ? sizes.value : sizes.problems.map((one) => `${one.code} at ${one.field ?? 'all'}`)
}

describe('sizes joined by x', () => {
  it.each([
    ['16x12', [16, 12]],
    ['16 x 12 x 1 1/2', [16, 12, 1.5]],
    ['16×12×1½', [16, 12, 1.5]],
    ['1\' 6" by 12', [18, 12]],
    ['16 3/4 * 12-1/8"', [16.75, 12.125]],
    ['18', [18]],
  ])('%s in an inch shop', (text, expected) => {
    expect(read(text)).toEqual(expected.map(inches))
  })

  it('share a unit that is named once', () => {
    expect(read('40 x 30 x 4 cm')).toEqual([400, 300, 40].map(millimetres))
    expect(read('40cm x 30')).toEqual([400, 300].map(millimetres))
    expect(read('16 x 12 in', 'millimetre')).toEqual([16, 12].map(inches))
  })

  it('keep their own units where several are named', () => {
    expect(read('1 m x 40 cm x 20 mm')).toEqual([1000, 400, 20].map(millimetres))
  })

  it('are not guessed where the unit is open', () => {
    expect(read("2' x 3")).toEqual(['sizes-unit at all'])
    expect(read('1 m x 40 cm x 20')).toEqual(['sizes-unit at all'])
  })

  it('name the position of the one that is wrong', () => {
    expect(read('16 x x 2')).toEqual(['length-missing at 1'])
    expect(read('16 x 12 x lots')).toEqual(['length-unreadable at 2'])
  })
})

describe('sizes in a spoken line', () => {
  const found = (line: string, units: 'inch' | 'millimetre' = 'inch') => {
    const sizes = findSizes(line, units)
    return sizes === null ? null : { text: line.slice(sizes.from, sizes.to), sizes: sizes.sizesNm }
  }

  it('are found between the other words', () => {
    expect(found('2 boards 16x12 walnut/maple, by 12 Dec, oil')).toEqual({ text: '16x12', sizes: [16, 12].map(inches) })
    expect(found('board 16 x 12 x 1 1/2, cherry')).toEqual({
      text: '16 x 12 x 1 1/2',
      sizes: [16, 12, 1.5].map(inches),
    })
    expect(found("a table 4' x 2' 6\" in oak")).toEqual({ text: "4' x 2' 6\"", sizes: [48, 30].map(inches) })
    expect(found('tray 40×30 cm beech')).toEqual({ text: '40×30 cm', sizes: [400, 300].map(millimetres) })
    expect(found('16 by 12 board')).toEqual({ text: '16 by 12', sizes: [16, 12].map(inches) })
  })

  it('do not swallow a date', () => {
    expect(found('16x12 by 12 Dec')).toEqual({ text: '16x12', sizes: [16, 12].map(inches) })
    expect(found('board 16 by 12 Dec')).toBeNull()
    expect(found('2 boards by 12.12.')).toBeNull()
  })

  it('do not take “in walnut” for inches in a millimeter shop', () => {
    expect(found('400x300 in walnut', 'millimetre')?.sizes).toEqual([400, 300].map(millimetres))
    expect(found('16x12 in, walnut', 'millimetre')?.sizes).toEqual([16, 12].map(inches))
  })

  it('are not made of single numbers', () => {
    expect(found('2 boards of maple')).toBeNull()
    expect(found('box 12 maple')).toBeNull()
  })
})

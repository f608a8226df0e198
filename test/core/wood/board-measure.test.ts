import { describe, expect, it } from 'vitest'
import { feet, inches } from '../../../core/lengths/length.ts'
import {
  boardFeet,
  cubicMetres,
  CUBIC_METRES_PER_BOARD_FOOT,
  surfaceMeasure,
  withWaste,
  yardTally,
} from '../../../core/wood/board-measure.ts'

describe('board measure', () => {
  it('counts 144 cubic inches as one board foot', () => {
    expect(boardFeet(inches(1), inches(12), inches(12))).toBe(1)
    expect(boardFeet(inches(2), inches(6), feet(8))).toBe(8)
    expect(cubicMetres(inches(1), inches(12), inches(12))).toBeCloseTo(CUBIC_METRES_PER_BOARD_FOOT, 9)
  })

  // AHEC and NHLA Rules Corner (Dec 2020): 6 1/2 in x 8 ft = 4 1/3, 4; 12 in x 8 ft = 8; 13 in x 10 ft = 10 10/12, 11.
  it('has the surface measure of the published examples', () => {
    expect(surfaceMeasure(inches(6.5), feet(8))).toBe(4)
    expect(surfaceMeasure(inches(12), feet(8))).toBe(8)
    expect(surfaceMeasure(inches(13), feet(10))).toBe(11)
  })

  it('drops fractions of a foot of length and keeps those of the width', () => {
    expect(surfaceMeasure(inches(12), feet(8.9))).toBe(8)
  })

  // Wengert: exact halves up the first time, down the next, by turns.
  it('rounds exact halves up and down by turns', () => {
    const half = { widthNm: inches(6), lengthNm: feet(9) }
    expect(surfaceMeasure(half.widthNm, half.lengthNm, true)).toBe(5)
    expect(surfaceMeasure(half.widthNm, half.lengthNm, false)).toBe(4)
    expect(yardTally(4, [half, half])).toBe(9)
    expect(yardTally(4, [half, half, half])).toBe(14)
  })

  it('multiplies the summed surface by the thickness once, and counts thin stock as an inch', () => {
    const boards = [
      { widthNm: inches(6.5), lengthNm: feet(8) },
      { widthNm: inches(13), lengthNm: feet(10) },
    ]
    expect(yardTally(4, boards)).toBe(15)
    expect(yardTally(5, boards)).toBe(19)
    expect(yardTally(8, boards)).toBe(30)
    expect(yardTally(3, boards)).toBe(15)
  })

  // Derived example: 20 % waste on 80 board feet net is 100.
  it('buys so that the net amount is left', () => {
    expect(withWaste(80, 0.2)).toBeCloseTo(100, 9)
  })
})

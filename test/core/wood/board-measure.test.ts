import { describe, expect, it } from 'vitest'
import { feet, inches } from '../../../core/lengths/length.ts'
import {
  billedBoardFeet,
  billedQuarters,
  boardFeet,
  cubicMetres,
  CUBIC_METRES_PER_BOARD_FOOT,
  surfaceMeasure,
  wasteOfMargin,
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

  // Thickness table after the NHLA rules: what each rough thickness measures surfaced on both faces, and on one.
  it.each([
    [13 / 16, 4],
    [7 / 8, 4],
    [1, 4],
    [1 + 1 / 16, 5],
    [1 + 1 / 8, 5],
    [1 + 5 / 16, 6],
    [1 + 3 / 8, 6],
    [1 + 3 / 4, 8],
    [1 + 13 / 16, 8],
    [2 + 3 / 4, 12],
    [3 + 3 / 4, 16],
  ])('bills surfaced lumber of %d in at the thickness it was sawn as, %d/4', (thick, quarters) => {
    expect(billedQuarters(inches(thick))).toBe(quarters)
  })

  // The published surface measures: 4 and 11 square feet, here 4/4 surfaced and 8/4 rough.
  it('is billed thickness by thickness, beside what was measured', () => {
    const boards = [
      { thicknessNm: inches(13 / 16), widthNm: inches(6.5), lengthNm: feet(8) },
      { thicknessNm: inches(2), widthNm: inches(13), lengthNm: feet(10) },
    ]
    expect(billedBoardFeet(boards)).toBe(4 + 22)
    expect(billedBoardFeet([])).toBe(0)
    const measured = boards.reduce((sum, one) => sum + boardFeet(one.thicknessNm, one.widthNm, one.lengthNm), 0)
    expect(measured).toBeCloseTo(3.52 + 21.67, 2)
  })

  // Arithmetic: 25 % on top of what is needed is a fifth of what is bought.
  it('knows the waste of a margin', () => {
    expect(wasteOfMargin(0.25)).toBeCloseTo(0.2, 12)
    expect(withWaste(80, wasteOfMargin(0.25))).toBeCloseTo(100, 9)
  })

  // Derived example: 20 % waste on 80 board feet net is 100.
  it('buys so that the net amount is left', () => {
    expect(withWaste(80, 0.2)).toBeCloseTo(100, 9)
  })
})

import { describe, expect, it } from 'vitest'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import {
  quartersNm,
  readRoughThickness,
  roughThicknessFor,
  writeRoughThickness,
  planedOff,
} from '../../../core/wood/rough-thickness.ts'

describe('a rough thickness', () => {
  // NHLA rules: 4/4 is one inch rough, 5/4 an inch and a quarter, 8/4 two inches.
  it('is said by quarters of an inch in any shop', () => {
    expect([4, 5, 8].map(quartersNm)).toEqual([inches(1), inches(1.25), inches(2)])
    for (const units of ['inch', 'millimetre'] as const) {
      expect(readRoughThickness(' 5 / 4 ', units)).toEqual({ ok: true, value: inches(1.25) })
      expect(writeRoughThickness(inches(1.25), units)).toBe('5/4')
    }
  })

  it('is a length where the yard does not sell by the quarter', () => {
    expect(readRoughThickness('27', 'millimetre')).toEqual({ ok: true, value: millimetres(27) })
    expect(writeRoughThickness(millimetres(27), 'millimetre')).toBe('27 mm')
    expect(writeRoughThickness(inches(3 / 4), 'inch')).toBe('3/4"')
    expect(writeRoughThickness(inches(1 + 1 / 8), 'inch')).toBe('1 1/8"')
  })

  it('for a part is the thinnest that leaves the allowance', () => {
    const yard = [8, 4, 5, 16].map(quartersNm)
    const planing = { planeFaceNm: inches(1 / 8), planeThickNm: inches(1 / 4) }
    expect(roughThicknessFor(inches(0.75), planing, yard)).toBe(inches(1))
    expect(roughThicknessFor(inches(1), planing, yard)).toBe(inches(1.25))
    expect(roughThicknessFor(inches(1.75), planing, yard)).toBe(inches(2))
    expect(roughThicknessFor(millimetres(150), planing, yard)).toBeNull()
  })

  // Thickness table after the NHLA rules: rough to surfaced both faces.
  it.each([
    [4, 13 / 16],
    [5, 1 + 1 / 16],
    [6, 1 + 5 / 16],
    [8, 1 + 3 / 4],
    [12, 2 + 3 / 4],
    [16, 3 + 3 / 4],
  ])('%d/4 surfaces to %d in', (quarters, surfaced) => {
    const planing = { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) }
    expect(quartersNm(quarters) - planedOff(quartersNm(quarters), planing)).toBe(inches(surfaced))
  })
})

import { describe, expect, it } from 'vitest'
import { USUAL_YARD } from '../../../core/almanac/defaults.ts'
import { readWoodWaste, writeWoodWaste } from '../../../core/almanac/read-wood-waste.ts'
import { inches } from '../../../core/lengths/length.ts'
import { wasteOf } from '../../../core/timber/waste.ts'
import { woodEstimate } from '../../../core/timber/wood-estimate.ts'

const read = (text: string) => {
  const waste = readWoodWaste(text, 'Walnut', 'inch')
  if (!waste.ok) throw new Error(waste.problems[0]?.message)
  return waste.value
}

describe('waste of one wood', () => {
  it('is read as a share or a grade, and by thickness', () => {
    expect(read('')).toBeNull()
    expect(read('22 %')).toEqual({ grade: null, share: 0.22, byThickness: [] })
    expect(read('1C')).toMatchObject({ grade: 'common-1', share: 1 / 3 })
    expect(read('fas; 8/4 30%')).toEqual({
      grade: 'fas',
      share: 1 / 6,
      byThickness: [{ thicknessNm: inches(2), share: 0.3 }],
    })
    for (const text of ['20%, 8/4 30%', 'No. 1 common', 'FAS, 5/4 25%, 8/4 30%'])
      expect(writeWoodWaste(read(text)!, 'inch')).toBe(text)
  })

  it('that is no share is refused with an example', () => {
    for (const text of ['some', '95%', 'FAS, thick 30%', '20%, 8/4'])
      expect(readWoodWaste(text, 'Walnut', 'inch')).toMatchObject({
        ok: false,
        problems: [{ message: 'Walnut: type a share or grade, then thicknesses, like FAS, 8/4 30%.' }],
      })
  })

  it('goes before the share of every wood, and that of a thickness before both', () => {
    const facts = { yard: { waste: 0.15 }, woodWaste: { walnut: read('No. 1 common, 8/4 50%')! } }
    expect(wasteOf(facts, 'maple', inches(1))).toBe(0.15)
    expect(wasteOf(facts, 'walnut', inches(1))).toBe(1 / 3)
    expect(wasteOf(facts, 'walnut', inches(2))).toBe(0.5)
    expect(wasteOf(facts, 'walnut', null)).toBe(1 / 3)
  })

  // A part of 12 x 12 in out of 4/4 is 1 board foot: 1.5 to buy at a third lost; one out of 8/4 is 2: 4 at a half lost.
  it('makes the wood of an order dearer', () => {
    const size = { lengthNm: inches(12), widthNm: inches(12) }
    const part = (thicknessNm: number) => {
      const rough = { ...size, thicknessNm }
      return { name: 'top', wood: 'walnut', quantity: 1, rough, finished: rough }
    }
    const [walnut] = woodEstimate(
      [part(inches(0.75)), part(inches(1.75))],
      { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
      {
        yard: USUAL_YARD,
        woodPrices: { walnut: { minor: 1_000, per: 'board-foot' } },
        woodWaste: { walnut: read('No. 1 common, 8/4 50%')! },
      },
    )
    expect(walnut?.boughtFeet).toBeCloseTo(5.5, 9)
    expect(walnut?.minor).toBe(5_500)
  })
})

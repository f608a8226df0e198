import { describe, expect, it } from 'vitest'
import { USUAL_YARD } from '../../../core/almanac/defaults.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { cubicMetresOf, NM3_PER_BOARD_FOOT } from '../../../core/wood/board-measure.ts'
import { finishMillilitres, glueGrams } from '../../../core/timber/consumables.ts'
import type { PartToCut } from '../../../core/timber/cutting-model.ts'
import { partsToCut } from '../../../core/timber/parts-to-cut.ts'
import { roughSize } from '../../../core/timber/rough-size.ts'
import { timberTally } from '../../../core/timber/timber-tally.ts'
import { finishClass } from '../../../core/waits/finish-classes.ts'
import { glueClass } from '../../../core/waits/glue-classes.ts'

const part = (wood: string, quantity: number, length: number, width: number, thickness: number): PartToCut => ({
  id: `${wood}-${length}`,
  name: 'strip',
  forPiece: 'Board',
  wood,
  quantity,
  lengthNm: inches(length),
  widthNm: inches(width),
  thicknessNm: inches(thickness),
})

describe('the tally of timber', () => {
  it('counts wood by kind and rough thickness of the yard', () => {
    const lines = timberTally(
      [part('walnut', 4, 24, 3, 0.75), part('maple', 2, 36, 4, 1.5), part('maple', 6, 12, 2, 0.75)],
      { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
      USUAL_YARD,
    )
    expect(lines.map(({ wood, roughNm, pieces }) => [wood, roughNm, pieces])).toEqual([
      ['maple', inches(1), 6],
      ['maple', inches(2), 2],
      ['walnut', inches(1), 4],
    ])
    // 2 x 2 in x 4 in x 36 in / 144 = 4 board feet.
    expect(lines[1]?.netNm3).toBe(4n * NM3_PER_BOARD_FOOT)
    // 1 board foot = 0.002359737 m3.
    expect(cubicMetresOf(lines[1]?.netNm3 ?? 0n)).toBeCloseTo(4 * 0.002359737, 8)
  })

  it('goes by the thicknesses of this yard', () => {
    const thicknessesNm = [millimetres(27), millimetres(52)]
    const lines = timberTally(
      [part('maple', 1, 12, 2, 0.75), part('maple', 1, 12, 2, 1)],
      { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
      {
        thicknessesNm,
      },
    )
    expect(lines.map(({ roughNm }) => roughNm)).toEqual(thicknessesNm)
  })

  it('names no rough thickness where none is thick enough', () => {
    expect(
      timberTally(
        [part('maple', 1, 12, 2, 5)],
        { planeFaceNm: inches(3 / 16), planeThickNm: inches(1 / 4) },
        USUAL_YARD,
      )[0]?.roughNm,
    ).toBeNull()
  })
})

describe('the cutting list', () => {
  it('takes the parts of all pieces at their rough sizes, each with an id of its own and what it is for', () => {
    const rough = { lengthNm: inches(20), widthNm: inches(2), thicknessNm: inches(1) }
    const finished = { lengthNm: inches(18), widthNm: inches(1.75), thicknessNm: inches(0.75) }
    const strip = { name: 'strip', wood: 'maple', quantity: 4, rough, finished }
    const list = partsToCut(
      [
        { id: 'p1', forPiece: 'Checkerboard', parts: [strip, { ...strip, name: 'rail' }], cut: [] },
        { id: 'p2', forPiece: 'Tray', parts: [strip], cut: [] },
      ],
      'inch',
    )
    expect(list.map(({ id, forPiece, lengthNm }) => [id, forPiece, lengthNm])).toEqual([
      ['p1.0', 'Checkerboard', inches(20)],
      ['p1.1', 'Checkerboard', inches(20)],
      ['p2.0', 'Tray', inches(20)],
    ])
  })

  it('marks rough sizes up to the next sixteenth, or whole millimeter', () => {
    const size = { lengthNm: inches(20 + 7 / 64), widthNm: inches(2.5), thicknessNm: inches(1 + 35 / 64) }
    expect(roughSize(size, 'inch')).toEqual({
      ...{ lengthNm: inches(20.125), widthNm: inches(2.5), thicknessNm: inches(1 + 9 / 16) },
    })
    const metric = { lengthNm: millimetres(501.2), widthNm: millimetres(40), thicknessNm: millimetres(39.9) }
    expect(roughSize(metric, 'millimetre')).toEqual({
      ...{ lengthNm: millimetres(502), widthNm: millimetres(40), thicknessNm: millimetres(40) },
    })
  })
})

describe('glue and finish', () => {
  // Franklin, as quoted in Woodworking Network: 35-50 lb per 1,000 square feet = 170-250 g/m2.
  it('glue follows the published spread per glue line, and a tenth for squeeze-out', () => {
    const glue = glueClass('pva_type2')
    const grams = glue === null ? null : glueGrams(0.5, glue.spread)
    expect(grams?.min).toBeCloseTo(85 * 1.1, 6)
    expect(grams?.max).toBeCloseTo(125 * 1.1, 6)
    expect((35 * 453.59237) / 92.90304).toBeCloseTo(171, 0)
    expect((50 * 453.59237) / 92.90304).toBeCloseTo(244, 0)
  })

  // Rust-Oleum GDH-866: 400-600 square feet a gallon, one coat.
  it('finish follows the published coverage, coat by coat', () => {
    const finish = finishClass('water_polyurethane')
    const need = finish === null ? null : finishMillilitres(400 * 0.09290304, finish, 3)
    expect(need?.max).toBeCloseTo(3 * 3785.4, 0)
    expect(need?.min).toBeCloseTo(3 * 3785.4 * (400 / 600), 0)
  })

  it('is not invented where nothing is published', () => {
    const glue = glueClass('hide_hot')
    const wax = finishClass('paste_wax')
    expect(glue === null ? 0 : glueGrams(1, glue.spread)).toBeNull()
    expect(wax === null ? 0 : finishMillilitres(1, wax, 1)).toBeNull()
  })
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import type { SpecInput, Units } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'
import { cuttingPlan } from '../../../core/timber/cutting-plan.ts'
import { cuttingRules } from '../../../core/timber/cutting-rules.ts'
import { partsToCut } from '../../../core/timber/parts-to-cut.ts'
import { yardSizes } from '../../../core/timber/yard.ts'
import { planedOff } from '../../../core/wood/rough-thickness.ts'
import { faultIn } from './check-cutting.ts'

const almanacs = {
  inch: startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' }),
  millimetre: startingAlmanac({ timeZone: 'Europe/Berlin', units: 'millimetre', currency: 'EUR' }),
} as const

const size = (least: number, most: number) => fc.integer({ min: least * 4, max: most * 4 })
const inputs = fc.record({
  units: fc.constantFrom<Units>('inch', 'millimetre'),
  id: fc.constantFrom('edge-grain-board', 'end-grain-board', 'framed-field', 'box', 'small-table'),
  wood: fc.constantFrom(...almanacs.inch.woods.map(({ id }) => id)),
  length: size(8, 40),
  width: size(6, 24),
  height: size(3, 12),
  stave: size(1, 5),
  some: fc.record({ breadboard: fc.boolean(), framed: fc.boolean(), cut: fc.constantFrom('unknown', 'quartersawn') }),
})

test('every part of every construction is cut out of what a yard sells, in any wood, unless it is larger than any of its boards', () => {
  let cut = 0
  fc.assert(
    fc.property(inputs, ({ units, id, wood, length, width, height, stave, some }) => {
      const almanac = almanacs[units]
      const facts = shopFactsOf(almanac, 0)
      const say = (quarters: number): string =>
        writeLength(units === 'inch' ? inches(quarters / 4) : millimetres(quarters * 6), units)
      const construction = constructionOf(id)!
      const typed: SpecInput = {
        ...{ woodA: wood, frameWood: wood, endWood: wood, woodB: wood, stave: say(stave), ...some },
        ...{ length: say(length), width: say(width), height: say(height + (id === 'small-table' ? 40 : 0)) },
      }
      const known = Object.entries(typed).filter(([key]) => construction.fields.some((field) => field.key === key))
      const spec = construction.read({ ...construction.starting(units), ...Object.fromEntries(known) }, units, facts)
      const build = spec.ok ? construction.build(spec.value, 1, facts) : spec
      if (!build.ok) return
      const rules = cuttingRules(almanac.allowances)
      const wanted = partsToCut([{ id: 'lot', forPiece: '', parts: build.value.parts, cut: [] }], units)
      const plan = cuttingPlan(wanted, [], rules, { tries: 1, yard: yardSizes(almanac.yard) })
      expect(faultIn(plan, wanted, rules)).toBeNull()
      const { lengthsNm, widthsNm, thicknessesNm } = almanac.yard
      const thickest = Math.max(...thicknessesNm)
      for (const { part } of plan.missing) {
        const { lengthNm, widthNm, thicknessNm } = part
        const isTooLarge =
          lengthNm + 2 * rules.squareEndNm > Math.max(...lengthsNm) ||
          widthNm > Math.max(...widthsNm) ||
          thicknessNm + planedOff(thickest, rules.planing) > thickest
        expect(isTooLarge, `${id}: ${JSON.stringify({ lengthNm, widthNm, thicknessNm })}`).toBe(true)
      }
      cut += wanted.length - plan.missing.length
    }),
    { numRuns: 60 },
  )
  expect(cut).toBeGreaterThan(60)
})

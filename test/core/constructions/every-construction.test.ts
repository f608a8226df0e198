import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Construction, Field, SpecInput, Units } from '../../../core/constructions/construction.ts'
import { constructionOf, constructions } from '../../../core/constructions/constructions.ts'
import { buildLots } from '../../../core/constructions/lots.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'
import { aShop } from './a-shop.ts'
import { expectSoundDrawing } from './sound-drawing.ts'
import { expectMilled, expectSoundNetwork, expectSoundParts } from './sound-network.ts'

const inchShop = aShop()
const metricShop = aShop({ units: 'millimetre' })
const shopIn = (units: Units) => (units === 'inch' ? inchShop : metricShop)

/** The form as a new order shows it; a free list has no title of its own. */
const started = (construction: Construction<unknown>, units: Units): SpecInput => {
  const input = construction.starting(units)
  return input['title'] === '' ? { ...input, title: 'Stool' } : input
}

/** A form filled at random within what each field allows by itself; two fields in three are left as the form starts. */
const filled = (fields: readonly Field[], units: Units, start: SpecInput = {}): fc.Arbitrary<SpecInput> =>
  fc.record(
    Object.fromEntries(
      fields.map((field) => {
        const usual = start[field.key]
        const random = valueOf(field, units)
        if (usual === undefined) return [field.key, random]
        return [field.key, fc.oneof({ weight: 2, arbitrary: fc.constant(usual) }, { weight: 1, arbitrary: random })]
      }),
    ),
  ) as fc.Arbitrary<SpecInput>

function valueOf(field: Field, units: Units): fc.Arbitrary<SpecInput[string]> {
  const { woods, glues, finishes } = shopIn(units)
  switch (field.kind) {
    case 'length':
      return fc
        .double({ min: 0, max: 1, noNaN: true })
        .map((share) => writeLength(field.leastNm + (field.mostNm - field.leastNm) * share ** 3, units))
    case 'count':
      return fc.integer({ min: field.least, max: Math.min(field.most, 30) }).map(String)
    case 'yes-no':
      return fc.boolean()
    case 'choice':
      return fc.constantFrom(...field.choices.map((one) => one.value))
    case 'wood':
      return fc.constantFrom(...woods.map((one) => one.id))
    case 'glue':
      return fc.constantFrom(...glues.map((one) => one.id))
    case 'finish':
      return fc.constantFrom(...finishes.map((one) => one.id))
    case 'text':
      return fc.constantFrom('30 min', 'ABBA', 'Saw', '24 h', '1', '')
    case 'rows':
      return fc.array(filled(field.columns, units) as fc.Arbitrary<Record<string, string | boolean>>, {
        minLength: 1,
        maxLength: 5,
      })
  }
}

describe.each(constructions.map((construction) => ({ construction, id: construction.id })))(
  '$id',
  ({ construction, id }) => {
    test('is found by its id and says what it is', () => {
      expect(constructionOf(id)).toBe(construction)
      expect(construction.name).not.toBe('')
      expect(construction.about).toMatch(/[.]$/)
      expect(new Set(construction.fields.map((field) => field.key)).size).toBe(construction.fields.length)
    })

    test.each(['inch', 'millimetre'] as const)('starts with a form that can be built, in %s', (units) => {
      const facts = shopIn(units)
      const spec = construction.read(started(construction, units), units, facts)
      if (!spec.ok) throw new Error(spec.problems.map((one) => one.message).join(' '))
      const build = construction.build(spec.value, 1, facts)
      if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
      expectSoundNetwork(build.value.steps, build.value.lags, facts)
      expectSoundParts(build.value.parts)
      expectMilled(build.value.parts, build.value.steps)
      expect(build.value.title.length).toBeGreaterThan(2)
      expect(build.value.title.length).toBeLessThanOrEqual(80)
      expect(build.value.geometry.filter((fact) => fact.rule === '' || fact.source === '')).toEqual([])
    })

    test('a form without anything in it is refused, each problem by a field of the form and in a sentence', () => {
      const empty = construction.read({}, 'inch', inchShop)
      const problems = empty.ok ? [] : empty.problems
      expect(problems.length).toBeGreaterThan(0)
      const keys = construction.fields.map((field) => field.key)
      expect(
        problems.filter((one) => !keys.includes(one.field?.split('.')[0] ?? '') || !/[.]$/.test(one.message)),
      ).toEqual([])
    })

    test.each(['inch', 'millimetre'] as const)(
      'whatever is typed is refused by field, or built soundly and written back the same, in %s',
      (units) => {
        const facts = shopIn(units)
        const keys = construction.fields.map((field) => field.key)
        let built = 0
        fc.assert(
          fc.property(
            filled(construction.fields, units, started(construction, units)),
            fc.integer({ min: 1, max: 6 }),
            (input, count) => {
              const spec = construction.read(input, units, facts)
              if (!spec.ok) {
                expect(
                  spec.problems.filter(
                    (one) => !keys.includes(one.field?.split('.')[0] ?? '') || !/[.]$/.test(one.message),
                  ),
                ).toEqual([])
                return
              }
              expect(construction.read(construction.write(spec.value, units), units, facts)).toEqual(spec)
              expect(JSON.parse(JSON.stringify(spec.value))).toEqual(spec.value)
              const build = buildLots(construction, spec.value, count, facts)
              if (!build.ok) {
                expect(
                  build.problems.filter((one) => !['clamps-too-few', 'row-too-big', 'set-too-big'].includes(one.code)),
                ).toEqual([])
                return
              }
              built += 1
              for (const lot of build.value.lots) expectSoundNetwork(lot.steps, lot.lags, facts)
              expectSoundParts(build.value.parts)
              for (const lot of build.value.lots) expectMilled(build.value.parts, lot.steps)
              const drawing = construction.draw(spec.value, facts)
              if (drawing !== null) expectSoundDrawing(drawing, units)

              expect(build.value.warnings.filter((one) => !/[.]$/.test(one))).toEqual([])
            },
          ),
          { numRuns: 60 },
        )
        expect(built).toBeGreaterThan(5)
      },
    )
  },
)

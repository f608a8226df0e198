import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Build, Part, SpecInput, Units } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { frameGeometry, type FrameFixing, type MitredFrame } from '../../../core/constructions/design/mitred-frame.ts'
import { endGrainChange, stavesChange } from '../../../core/constructions/design/field-change.ts'
import type { EdgeGrainSpec } from '../../../core/constructions/edge-grain/edge-grain-spec.ts'
import { endGrainGeometry } from '../../../core/constructions/end-grain/end-grain-geometry.ts'
import type { EndGrainSpec } from '../../../core/constructions/end-grain/end-grain-spec.ts'
import { inches, millimetres } from '../../../core/lengths/length.ts'
import { writeLength } from '../../../core/lengths/write-length.ts'
import { roughThicknessFor } from '../../../core/wood/rough-thickness.ts'
import { METRIC_QUARTERS, USUAL_QUARTERS } from './rough-stock.ts'
import { aShop } from './a-shop.ts'

const shops = { inch: aShop(), millimetre: aShop({ units: 'millimetre' }) } as const
const units = fc.constantFrom<Units>('inch', 'millimetre')

/** A length between two, in the steps of the units: 1/16 in, or a millimeter. */
const size = (least: number, most: number) => (of: Units) => {
  const step = of === 'inch' ? inches(1 / 16) : millimetres(1)
  return fc.integer({ min: Math.ceil(inches(least) / step), max: Math.floor(inches(most) / step) }).map((n) => n * step)
}

function built<Spec>(id: string, of: Units, input: SpecInput): { readonly spec: Spec; readonly build: Build } | null {
  const facts = shops[of]
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting(of), ...input }, of, facts)
  const build = spec?.ok === true ? construction?.build(spec.value, 1, facts) : undefined
  return spec?.ok === true && build?.ok === true ? { spec: spec.value as Spec, build: build.value } : null
}

const total = (parts: readonly Part[], of: (part: Part) => number): number =>
  parts.reduce((sum, part) => sum + part.quantity * of(part), 0)

describe('after every allowance is used up', () => {
  test('a board of staves still has its width, length and thickness, with what trimming takes at both edges', () => {
    let seen = 0
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(
            fc.constant(of),
            size(6, 40)(of),
            size(4, 20)(of),
            size(0.5, 2)(of),
            size(1, 6)(of),
            fc.constantFrom('edge-up', 'face-up'),
          ),
        ),
        ([of, lengthNm, widthNm, thicknessNm, staveNm, lay]) => {
          const { allowances } = shops[of]
          const say = (nm: number) => writeLength(nm, of)
          const made = built<EdgeGrainSpec>('edge-grain-board', of, {
            ...{ lay, length: say(lengthNm), width: say(widthNm), thickness: say(thicknessNm), stave: say(staveNm) },
          })
          if (made === null) return
          seen += 1
          const staves = made.build.parts.filter(({ name }) => name === 'Stave')
          const across = (part: Part) => (lay === 'edge-up' ? part.rough.thicknessNm : part.rough.widthNm)
          const thick = (part: Part) => (lay === 'edge-up' ? part.rough.widthNm : part.rough.thicknessNm)
          const count = total(staves, () => 1)
          // Shares of what is trimmed are rounded down to whole nanometers, one a stave at most.
          expect(total(staves, across) - count * allowances.jointEdgeNm + count).toBeGreaterThanOrEqual(
            made.spec.widthNm + 2 * allowances.trimEdgeNm,
          )
          for (const stave of staves) {
            expect(thick(stave) - allowances.flattenPanelNm).toBeGreaterThanOrEqual(made.spec.thicknessNm)
            expect(stave.rough.lengthNm - 2 * allowances.squareEndNm).toBeGreaterThanOrEqual(made.spec.lengthNm)
          }
        },
      ),
      { numRuns: 150 },
    )
    expect(seen).toBeGreaterThan(100)
  })

  test('an end-grain board still has its cells and thickness, and its panels are long enough for every slice and its kerf', () => {
    let seen = 0
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(
            fc.constant(of),
            fc.integer({ min: 2, max: 14 }),
            fc.integer({ min: 2, max: 14 }),
            size(0.5, 3)(of),
            size(0.5, 3)(of),
          ),
        ),
        ([of, across, along, cellNm, thicknessNm]) => {
          const { allowances } = shops[of]
          const made = built<EndGrainSpec>('end-grain-board', of, {
            ...{ cellsAcross: String(across), cellsAlong: String(along) },
            ...{ cell: writeLength(cellNm, of), thickness: writeLength(thicknessNm, of) },
          })
          if (made === null) return
          seen += 1
          const { spec, build } = made
          const geometry = endGrainGeometry(spec, 1, shops[of])
          const [strips, slices] =
            geometry.plan.slicesAre === 'rows'
              ? [spec.cellsAcross, spec.cellsAlong]
              : [spec.cellsAlong, spec.cellsAcross]
          expect(geometry.sliceNm - allowances.flattenBoardNm).toBeGreaterThanOrEqual(spec.thicknessNm)
          expect(slices * (geometry.stripThicknessNm - allowances.flattenPanelNm)).toBeGreaterThanOrEqual(
            slices * spec.cellNm + 2 * allowances.trimEdgeNm,
          )
          expect(geometry.panelWidthNm).toBeGreaterThanOrEqual(strips * spec.cellNm + 2 * allowances.trimEdgeNm)
          const parts = build.parts.filter(({ name }) => /strip/i.test(name))
          const widths = total(parts, ({ rough }) => rough.widthNm - allowances.jointEdgeNm)
          expect(widths).toBe(geometry.panels.length * geometry.panelWidthNm)
          for (const { slices: cut, lengthNm } of geometry.panels)
            expect(lengthNm).toBeGreaterThanOrEqual(
              2 * allowances.squareEndNm + allowances.holdLastPieceNm + cut * (geometry.sliceNm + allowances.sawKerfNm),
            )
        },
      ),
      { numRuns: 150 },
    )
    expect(seen).toBeGreaterThan(60)
  })

  test('frame members still have their outside edge and their tongue', () => {
    let seen = 0
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(
            fc.constant(of),
            size(6, 30)(of),
            size(6, 24)(of),
            size(0.75, 4)(of),
            fc.constantFrom('flush', 'raised', 'beveled'),
          ),
        ),
        ([of, lengthNm, widthNm, faceNm, under]) => {
          const { allowances } = shops[of]
          const say = (nm: number) => writeLength(nm, of)
          const made = built('framed-field', of, {
            ...{ fieldKind: 'staves', length: say(lengthNm), width: say(widthNm), frameFace: say(faceNm) },
            ...{ under, underBy: of === 'inch' ? '1/4' : '6' },
          })
          if (made === null) return
          seen += 1
          for (const { rough, finished } of made.build.parts.filter(({ name }) => name.startsWith('Frame'))) {
            expect(rough.lengthNm - allowances.mitreTrimNm).toBeGreaterThanOrEqual(finished.lengthNm)
            expect(rough.widthNm - allowances.jointEdgeNm).toBeGreaterThanOrEqual(finished.widthNm)
          }
        },
      ),
      { numRuns: 100 },
    )
    expect(seen).toBeGreaterThan(60)
  })
})

describe('boxes and tables', () => {
  const sizes = (of: Units) => fc.tuple(fc.constant(of), size(5, 30)(of), size(5, 24)(of), size(3, 12)(of))

  /** Staves beside each other are still as wide as what they become, thicker by what flattening takes, longer by squaring. */
  function expectPanel(parts: readonly Part[], { allowances }: (typeof shops)[Units], pieces: number): void {
    const across = total(parts, ({ rough }) => rough.widthNm - allowances.jointEdgeNm)
    const seen = total(parts, ({ finished }) => finished.widthNm)
    const count = total(parts, () => 1)
    expect(across + count).toBeGreaterThanOrEqual(seen + 2 * pieces * allowances.trimEdgeNm - count)
    for (const { rough, finished } of parts) {
      expect(rough.thicknessNm - allowances.flattenPanelNm).toBeGreaterThanOrEqual(finished.thicknessNm)
      expect(rough.lengthNm - 2 * allowances.squareEndNm).toBeGreaterThanOrEqual(finished.lengthNm)
    }
  }

  test('a box still has its sides, bottom and lid after jointing, squaring or mitering, flattening and trimming', () => {
    let seen = 0
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(sizes(of), fc.constantFrom('mitred', 'rebated'), fc.constantFrom('none', 'loose')),
        ),
        ([[of, lengthNm, widthNm, heightNm], corners, lid]) => {
          const { allowances } = shops[of]
          const say = (nm: number) => writeLength(nm, of)
          const made = built('box', of, {
            ...{ length: say(lengthNm), width: say(widthNm), height: say(heightNm), corners, lid },
          })
          if (made === null) return
          seen += 1
          const { parts } = made.build
          const ends = corners === 'mitred' ? allowances.mitreTrimNm : 2 * allowances.squareEndNm
          for (const { rough, finished } of parts.filter(({ name }) => /side/i.test(name))) {
            expect(rough.lengthNm - ends).toBeGreaterThanOrEqual(finished.lengthNm)
            expect(rough.widthNm - allowances.jointEdgeNm).toBeGreaterThanOrEqual(finished.widthNm)
            expect(rough.thicknessNm).toBeGreaterThanOrEqual(finished.thicknessNm)
          }
          for (const name of ['Bottom', ...(lid === 'loose' ? ['Lid'] : [])])
            expectPanel(
              parts.filter((part) => part.name === name),
              shops[of],
              1,
            )
        },
      ),
      { numRuns: 120 },
    )
    expect(seen).toBeGreaterThan(60)
  })

  test('a table still has its legs, aprons with both tenons, top and buttons', () => {
    let seen = 0
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(fc.constant(of), size(14, 60)(of), size(12, 30)(of), size(10, 34)(of), size(1.25, 3)(of)),
        ),
        ([of, lengthNm, widthNm, heightNm, legNm]) => {
          const { allowances } = shops[of]
          const say = (nm: number) => writeLength(nm, of)
          const made = built('small-table', of, {
            ...{ length: say(lengthNm), width: say(widthNm), height: say(heightNm), leg: say(legNm) },
          })
          if (made === null) return
          seen += 1
          const { parts } = made.build
          for (const { name, rough, finished } of parts.filter((part) => /Leg|apron/.test(part.name))) {
            expect(rough.lengthNm - 2 * allowances.squareEndNm, name).toBeGreaterThanOrEqual(finished.lengthNm)
            expect(rough.widthNm - allowances.jointEdgeNm, name).toBeGreaterThanOrEqual(finished.widthNm)
            expect(rough.thicknessNm - (name === 'Leg' ? allowances.jointEdgeNm : 0), name).toBeGreaterThanOrEqual(
              finished.thicknessNm,
            )
          }
          const strip = parts.find(({ name }) => name === 'Button strip')
          if (strip !== undefined)
            expect(strip.rough.lengthNm).toBeGreaterThanOrEqual(strip.finished.lengthNm + allowances.holdLastPieceNm)
          expectPanel(
            parts.filter(({ name }) => name === 'Top'),
            shops[of],
            1,
          )
        },
      ),
      { numRuns: 120 },
    )
    expect(seen).toBeGreaterThan(60)
  })
})

describe('what a yard sells', () => {
  test.each(['edge-grain-board', 'end-grain-board', 'framed-field', 'box', 'small-table'])(
    '%s: every part comes out of a plank, or is thicker than any, in inches and millimeters',
    (id) => {
      for (const of of ['inch', 'millimetre'] as const) {
        const facts = shops[of]
        const made = built(id, of, { splines: id === 'box' ? '2' : true, framed: true })
        if (made === null) throw new Error(`${id} cannot be built in ${of}`)
        const planks = of === 'inch' ? USUAL_QUARTERS : METRIC_QUARTERS
        for (const { name, rough } of made.build.parts) {
          const plank = roughThicknessFor(rough.thicknessNm, facts.allowances, planks)
          expect(plank, `${name} in ${of}`).not.toBeNull()
          expect(plank ?? 0, name).toBeGreaterThan(rough.thicknessNm)
        }
      }
    },
  )
})

describe('a frame', () => {
  const fixings: readonly FrameFixing[] = ['ends', 'one-side', 'dry']

  test('leaves its field room for all that it grows, wherever it is held, in every wood and size', () => {
    const woods = shops.inch.woods.filter(({ across }) => across !== null).map(({ id }) => id)
    fc.assert(
      fc.property(
        units.chain((of) =>
          fc.tuple(
            fc.constant(of),
            size(3, 30)(of),
            size(3, 30)(of),
            size(0.25, 1)(of),
            fc.constantFrom(...woods),
            fc.constantFrom(...fixings),
            fc.boolean(),
          ),
        ),
        ([of, acrossNm, alongNm, tongueNm, wood, fixing, endGrain]) => {
          // An end-grain field is never held at both ends.
          if (endGrain && fixing === 'ends') return
          const facts = shops[of]
          const frame: MitredFrame = { wood: 'maple', faceNm: inches(2), tongueNm, fixing, splines: false }
          const shares = [{ wood, size: 1 }]
          const change = endGrain
            ? endGrainChange(acrossNm, alongNm, shares, facts)
            : stavesChange(acrossNm, alongNm, shares, facts)
          const { gapLeftNm, gapRightNm, gapAlongNm, grooveNm } = frameGeometry(acrossNm, alongNm, frame, change, facts)
          const grows = change.across.growNm.planned
          expect(gapLeftNm + gapRightNm).toBeGreaterThanOrEqual(grows)
          if (fixing === 'one-side') expect(gapRightNm).toBeGreaterThanOrEqual(grows)
          if (fixing !== 'ends') expect(2 * gapAlongNm).toBeGreaterThanOrEqual(change.along.growNm.planned)
          expect(grooveNm).toBeGreaterThanOrEqual(tongueNm + Math.max(gapRightNm, gapAlongNm))
        },
      ),
      { numRuns: 300 },
    )
  })
})

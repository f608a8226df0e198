import { writeLength } from '../../lengths/write-length.ts'
import { failed, ok, type Result } from '../../problems.ts'
import type { Build, Fact } from '../construction.ts'
import { surfaceSquareFeet } from '../design/board-feet.ts'
import { frameJoints, glueFor, slabSurface, staveJoints } from '../design/consumed.ts'
import { decorationFacts } from '../design/decoration.ts'
import { inlayParts } from '../design/inlay-part.ts'
import { nutOilWarnings, onFoodWarnings, widerThanSander } from '../design/design-warnings.ts'
import { stavesChange, type FieldThroughSeasons } from '../design/field-change.ts'
import { unlikeFacesWarning } from '../design/finish-of-part.ts'
import { coatsOnFaces, facesOf, finishForFaces } from '../design/faces.ts'
import { glueAndFinishOf } from '../design/finish-fields.ts'
import { fieldViews } from '../design/frame-drawing.ts'
import { framesOf, inPairs, otherFrameFacts, otherGeometries } from '../design/frame-set.ts'
import { frameParts } from '../design/frame-parts.ts'
import { frameFacts, frameGeometry, standsOffNm, type FrameGeometry } from '../design/mitred-frame.ts'
import { movementFacts } from '../design/movement-facts.ts'
import { pieceFactsOf } from '../design/piece-facts.ts'
import { nameOf } from '../design/products.ts'
import { staveField } from '../design/stave-drawing.ts'
import { addStaves, staveGeometry, staveParts, type StavePanel } from '../design/staves.ts'
import { weightFacts } from '../design/weight.ts'
import type { Drawing } from '../drawing.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { addFinishing } from '../steps/finishing.ts'
import { addFrame } from '../steps/frame-steps.ts'
import { emptyNetwork } from '../steps/network.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import type { FramedFieldSpec, StaveField } from './framed-field-spec.ts'
import { framedTitle } from './framed-title.ts'

/** Staves glued side by side (or one board), then framed. */
export function buildStaves(spec: FramedFieldSpec, field: StaveField, count: number, facts: ShopFacts): Result<Build> {
  const products = glueAndFinishOf(spec, facts)
  if (!products.ok) return products
  const { glue, finish, part } = products.value
  const panel = panelOf(spec, field)
  const geometry = staveGeometry(panel, facts.allowances)
  const change = changeOf(field, facts)
  const frame = frameGeometry(field.widthNm, field.lengthNm, spec.frame, change, facts)
  const others = otherGeometries(field.widthNm, field.lengthNm, spec.frame, spec.otherFrames, change, facts)
  const frames = inPairs(framesOf(spec.frame, spec.otherFrames), [frame, ...others])
  const fields = count * frames.length
  const fieldParts = staveParts('Stave', panel, geometry, fields, facts)
  const wholeNm = spec.thicknessNm + standsOffNm(spec.frame)
  const ofFrame = frames.flatMap(([made, sizes]) => frameParts(made, sizes, spec.thicknessNm, count, facts))
  const parts = [...fieldParts, ...ofFrame]
  const network = emptyNetwork(facts, pieceFactsOf(parts, fields, spec.food ? 'chopping' : 'other', facts))
  const trimmed = addStaves(network, {
    prefix: '',
    what: '',
    geometry,
    parts: fieldParts,
    panels: fields,
    glue,
    inHalves: spec.inHalves === true,
    trimNote: 'To the size of the field.',
  })
  const framed = addFrame(network, {
    frame: spec.frame,
    geometry: frame,
    parts: ofFrame,
    pieces: fields,
    glue,
    field: trimmed,
  })
  const smooth = addSmoothing(network, {
    decoration: { what: spec, glue },
    pieces: fields,
    juiceGroove: false,
    fingerGrips: false,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(frame.outsideAcrossNm, frame.outsideAlongNm, wholeNm),
    after: [framed],
  })
  const total = (of: (acrossNm: number, alongNm: number, thicknessNm: number) => number): number =>
    count * frames.reduce((sum, [, one]) => sum + of(one.outsideAcrossNm, one.outsideAlongNm, wholeNm), 0)
  const faces = facesOf(products.value, total(slabSurface), { underNm2: total((across, along) => across * along) })
  addFinishing(network, { ...coatsOnFaces(faces, spec, fields, [smooth]), fittings: [] })
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: framedTitle(spec, field.widthNm, field.lengthNm, nameOf(facts.woods, field.wood).toLowerCase(), facts),
    geometry: [
      ...staveFacts(geometry.staves.length, field, frame, spec, change, facts),
      ...decorationFacts(spec),
      ...otherFrameFacts(spec.otherFrames, others, facts),
      ...weightFacts(parts, fields, facts),
    ],
    parts: [...parts, ...inlayParts(spec, fields, facts)],
    steps: network.steps,
    lags: network.lags,
    consumed: [
      glueFor(
        glue,
        staveJoints(geometry, fields),
        ...frames.map(([made, sizes]) => frameJoints(made, sizes, wholeNm, count)),
      ),
      ...finishForFaces(faces, spec.coats),
    ],
    warnings: [
      ...(spec.food
        ? onFoodWarnings(products.value, { longGrain: [field.wood, ...frames.map(([{ wood }]) => wood)] }, facts)
        : []),
      ...nutOilWarnings(finish, part),
      ...unlikeFacesWarning(finish, part),
      ...widerThanSander('The field', Math.min(field.widthNm, field.lengthNm), facts),
      ...new Set([frame, ...others].flatMap(({ warnings }) => warnings)),
      ...network.warnings,
    ],
  })
}

export function drawStaves(spec: FramedFieldSpec, field: StaveField, facts: ShopFacts): Drawing {
  const panel = panelOf(spec, field)
  const frames = framesOf(spec.frame, spec.otherFrames).map(
    (frame) => [frame, frameGeometry(field.widthNm, field.lengthNm, frame, changeOf(field, facts), facts)] as const,
  )
  return { views: fieldViews(staveField(panel, staveGeometry(panel, facts.allowances), facts), frames, facts) }
}

const panelOf = (spec: FramedFieldSpec, field: StaveField): StavePanel => ({
  lengthNm: field.lengthNm,
  widthNm: field.widthNm,
  thicknessNm: spec.thicknessNm,
  woods: [field.wood],
  staveNm: field.staveNm,
  lay: 'face-up',
})

const changeOf = (field: StaveField, facts: ShopFacts): FieldThroughSeasons =>
  stavesChange(field.widthNm, field.lengthNm, [{ wood: field.wood, size: 1 }], facts, field.cut)

function staveFacts(
  count: number,
  field: StaveField,
  frame: FrameGeometry,
  spec: FramedFieldSpec,
  change: FieldThroughSeasons,
  facts: ShopFacts,
): Fact[] {
  const say = (nm: number): string => writeLength(nm, facts.units)
  return [
    {
      key: 'staves',
      label: 'Staves',
      value: { kind: 'count', count },
      rule: `field ${say(field.widthNm)} across in equal staves of at most ${say(field.staveNm)}`,
      source: 'common practice, no source',
    },
    ...movementFacts('Field', change, ['across'], facts),
    ...frameFacts(spec.frame, frame, facts),
  ]
}

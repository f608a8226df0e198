import { inches } from '../../lengths/length.ts'
import { CUT_FIELD } from '../design/cut-field.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import type { GrainCut } from '../../wood/movement.ts'
import { failed, ok, type Result } from '../../problems.ts'
import type { Build, Construction, Field, SpecInput, Units } from '../construction.ts'
import {
  BOARD_OPTION_FIELDS,
  boardOptionFacts,
  boardOptionFittings,
  NO_BOARD_OPTIONS,
  readBoardOptions,
  writeBoardOptions,
} from '../design/board-options.ts'
import { glueFor, slabSurface, staveJoints } from '../design/consumed.ts'
import { breadboardFittings } from './breadboard-facts.ts'
import { edgeGrainFacts, edgeGrainParts, edgeGrainWarnings } from './edge-grain-answers.ts'
import { drawEdgeGrain } from './edge-grain-drawing.ts'
import { edgeGrainSizeOf, edgeGrainGeometry, leastCentreNm, type EdgeGrainGeometry } from './edge-grain-geometry.ts'
import type { BreadboardEnds, BreadboardFastening, EdgeGrainSpec } from './edge-grain-spec.ts'
import { edgeGrainNetwork } from './edge-grain-steps.ts'
import {
  DECORATION_FIELDS,
  decorationFacts,
  readDecoration,
  startingDecoration,
  writeDecoration,
} from '../design/decoration.ts'
import { inlayParts } from '../design/inlay-part.ts'
import { facesOf, finishForFaces } from '../design/faces.ts'
import { nameOf } from '../design/products.ts'
import {
  glueAndFinishOf,
  glueAndFinishFields,
  readGlueAndFinish,
  startingGlueAndFinish,
  writeGlueAndFinish,
} from '../design/finish-fields.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import { weightFacts } from '../design/weight.ts'

const LAYS = [
  { value: 'edge-up', label: 'Edge grain up' },
  { value: 'face-up', label: 'Faces up (slab)' },
] as const

const STRIPES = [
  { value: 'one', label: 'One wood' },
  { value: 'two', label: 'Two woods in turn' },
] as const

const FASTENINGS = [
  { value: 'pegs', label: 'Pegs in slots' },
  { value: 'screws', label: 'Plugged screws in slots' },
  { value: 'dovetail', label: 'Sliding dovetail' },
  { value: 'glue', label: 'Glue at the middle only' },
] as const satisfies readonly { readonly value: BreadboardFastening; readonly label: string }[]

const ends = { key: 'breadboard', is: [true] } as const

const FIELDS: readonly Field[] = [
  { key: 'lay', label: 'Lay', kind: 'choice', choices: LAYS },
  { key: 'length', label: 'Length', hint: 'Along the grain', kind: 'length', leastNm: inches(4), mostNm: inches(144) },
  { key: 'width', label: 'Width', kind: 'length', leastNm: inches(2), mostNm: inches(72) },
  { key: 'thickness', label: 'Thickness', kind: 'length', leastNm: inches(1 / 4), mostNm: inches(6) },
  { key: 'stripes', label: 'Woods', kind: 'choice', choices: STRIPES },
  { key: 'woodA', label: 'Wood', kind: 'wood' },
  { key: 'woodB', label: 'Second wood', kind: 'wood', when: { key: 'stripes', is: ['two'] } },
  { key: 'stave', label: 'Widest strip', kind: 'length', leastNm: inches(1 / 4), mostNm: inches(24) },
  CUT_FIELD,
  { key: 'breadboard', label: 'Breadboard ends', kind: 'yes-no' },
  { key: 'endWood', label: 'Wood of the ends', kind: 'wood', when: ends },
  { key: 'endWidth', label: 'Width of an end', kind: 'length', leastNm: inches(1), mostNm: inches(12), when: ends },
  {
    key: 'tongue',
    label: 'Tongue into the ends',
    kind: 'length',
    leastNm: inches(1 / 4),
    mostNm: inches(6),
    when: ends,
  },
  {
    key: 'fastening',
    label: 'Ends held by',
    kind: 'choice',
    choices: FASTENINGS,
    formerly: { '': 'pegs' },
    when: ends,
  },
  { key: 'food', label: 'Touches food', kind: 'yes-no' },
  ...BOARD_OPTION_FIELDS,
  ...glueAndFinishFields('underside'),
  ...DECORATION_FIELDS,
]

export const edgeGrainBoard: Construction<EdgeGrainSpec> = {
  id: 'edge-grain-board',
  name: 'Edge-grain board or slab',
  about:
    'Strips or staves from one glue-up: bread and carving boards, serving boards, shelves and tops. Breadboard ends if wanted.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: drawEdgeGrain,
}

function starting(units: Units): SpecInput {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    lay: 'edge-up',
    length: size('16', '400'),
    width: size('10', '250'),
    thickness: size('1 1/4', '30'),
    stripes: 'one',
    woodA: 'maple',
    woodB: 'walnut',
    stave: size('1 3/4', '45'),
    cut: 'unknown',
    breadboard: false,
    endWood: 'maple',
    endWidth: size('2', '50'),
    tongue: size('1', '25'),
    fastening: 'pegs',
    food: true,
    ...writeBoardOptions(NO_BOARD_OPTIONS),
    ...startingGlueAndFinish('food'),
    ...startingDecoration(units),
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<EdgeGrainSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const two = form.choice<'one' | 'two'>('stripes') === 'two'
  const spec: EdgeGrainSpec = {
    lay: form.choice<EdgeGrainSpec['lay']>('lay'),
    lengthNm: form.length('length'),
    widthNm: form.length('width'),
    thicknessNm: form.length('thickness'),
    woods: two ? [form.wood('woodA'), form.wood('woodB')] : [form.wood('woodA')],
    staveNm: form.length('stave'),
    cut: form.choice<GrainCut>('cut'),
    breadboard: form.yes('breadboard') ? readEnds(form) : null,
    food: form.yes('food'),
    ...readBoardOptions(form),
    ...readGlueAndFinish(form),
    ...readDecoration(form),
  }
  if (spec.breadboard !== null && spec.lengthNm - 2 * spec.breadboard.widthNm < leastCentreNm) {
    const message = `Width of an end: two of ${writeLength(spec.breadboard.widthNm, units)} leave nothing of a ${writeLength(spec.lengthNm, units)} slab. Make the ends narrower or the slab longer.`
    form.refuse('ends-too-wide', message, 'endWidth')
  }
  if (spec.breadboard !== null && spec.breadboard.tongueNm >= spec.breadboard.widthNm) {
    form.refuse(
      'tongue-too-long',
      `Tongue into the ends: it must stay shorter than the end is wide (${writeLength(spec.breadboard.widthNm, units)}).`,
      'tongue',
    )
  }
  return form.result(spec)
}

const readEnds = (form: SpecReader): BreadboardEnds => ({
  wood: form.wood('endWood'),
  widthNm: form.length('endWidth'),
  tongueNm: form.length('tongue'),
  fastening: form.choice<BreadboardFastening>('fastening'),
})

function write(spec: EdgeGrainSpec, units: Units): SpecInput {
  const say = (nm: number): string => writeLength(nm, units)
  const usual = starting(units)
  return {
    ...usual,
    lay: spec.lay,
    length: say(spec.lengthNm),
    width: say(spec.widthNm),
    thickness: say(spec.thicknessNm),
    stripes: spec.woods.length > 1 ? 'two' : 'one',
    woodA: spec.woods[0] ?? '',
    woodB: spec.woods[1] ?? '',
    stave: say(spec.staveNm),
    cut: spec.cut,
    breadboard: spec.breadboard !== null,
    ...(spec.breadboard === null
      ? {}
      : {
          endWood: spec.breadboard.wood,
          endWidth: say(spec.breadboard.widthNm),
          tongue: say(spec.breadboard.tongueNm),
          fastening: spec.breadboard.fastening ?? 'pegs',
        }),
    food: spec.food,
    ...writeBoardOptions(spec),
    ...writeGlueAndFinish(spec),
    ...writeDecoration(spec, units),
  }
}

function build(spec: EdgeGrainSpec, count: number, facts: ShopFacts): Result<Build> {
  const products = glueAndFinishOf(spec, facts)
  if (!products.ok) return products
  const { glue } = products.value
  const geometry = edgeGrainGeometry(spec, facts.allowances)
  const parts = edgeGrainParts(spec, geometry, count, facts)
  const faces = facesOf(products.value, count * slabSurface(spec.widthNm, spec.lengthNm, spec.thicknessNm), {
    underNm2: count * spec.widthNm * spec.lengthNm,
  })
  const network = edgeGrainNetwork(spec, geometry, parts, count, facts, glue, faces)
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, geometry, facts),
    geometry: [
      ...edgeGrainFacts(spec, geometry, facts),
      ...boardOptionFacts(spec, edgeGrainSizeOf(spec, facts), facts),
      ...decorationFacts(spec),
      ...weightFacts(parts, count, facts),
    ],
    parts: [...parts, ...inlayParts(spec, count, facts)],
    fittings: [...breadboardFittings(spec, count, facts), ...boardOptionFittings(spec, count)],
    steps: network.steps,
    lags: network.lags,
    consumed: [glueFor(glue, staveJoints(geometry, count)), ...finishForFaces(faces, spec.coats)],
    warnings: [...edgeGrainWarnings(spec, geometry, facts, products.value), ...network.warnings],
  })
}

function titleOf(spec: EdgeGrainSpec, { staves }: EdgeGrainGeometry, facts: ShopFacts): string {
  const what = spec.lay === 'edge-up' ? 'Edge-grain board' : spec.food ? 'Board' : 'Slab'
  const woods = [...new Set(staves.map((stave) => stave.wood))].map((wood) => nameOf(facts.woods, wood).toLowerCase())
  const withEnds = spec.breadboard === null ? '' : ', breadboard ends'
  return `${what} ${writeSizes([spec.lengthNm, spec.widthNm, spec.thicknessNm], facts.units)}, ${woods.join(' and ')}${withEnds}`
}

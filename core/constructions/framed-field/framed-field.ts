import { inches } from '../../lengths/length.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import { failed, ok, type Result } from '../../problems.ts'
import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { Build, Construction, Fact, Field, SpecInput, Units } from '../construction.ts'
import { filmOnChoppingFace, widerThanSander } from '../design/design-warnings.ts'
import { staveField } from '../design/stave-drawing.ts'
import type { Drawing } from '../drawing.ts'
import { endGrainBoard } from '../end-grain/end-grain-board.ts'
import { drawEndGrain } from '../end-grain/end-grain-drawing.ts'
import type { EndGrainSpec } from '../end-grain/end-grain-spec.ts'
import { stavesChange, type FieldChange } from '../design/field-change.ts'
import { addFinishing } from '../steps/finishing.ts'
import { fieldViews } from '../design/frame-drawing.ts'
import { frameFields, readFrame, startingFrame, writeFrame } from '../design/frame-fields.ts'
import { frameParts } from '../design/frame-parts.ts'
import { addFrame } from '../steps/frame-steps.ts'
import { frameFacts, frameGeometry, type FrameGeometry, type MitredFrame } from '../design/mitred-frame.ts'
import { movementFacts } from '../design/movement-facts.ts'
import { emptyNetwork } from '../steps/network.ts'
import { nameOf, named } from '../design/products.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { addSmoothing } from '../steps/smoothing.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import { addStaves, staveGeometry, staveParts, type StavePanel } from '../design/staves.ts'
import { weightFacts } from '../design/weight.ts'

/** A field in a mitred frame: of end-grain cells, or of staves (one of them is a solid board). */
export interface FramedFieldSpec {
  readonly field: CellField | StaveField
  readonly thicknessNm: number
  readonly frame: MitredFrame
  /** Cut on or eaten from. */
  readonly food: boolean
  readonly glue: string
  readonly finish: string
  readonly coats: number | null
}

export interface CellField {
  readonly kind: 'cells'
  readonly cellsAcross: number
  readonly cellsAlong: number
  readonly cellNm: number
  readonly woods: readonly [string, string]
}

export interface StaveField {
  readonly kind: 'staves'
  /** Along the grain and across it, as seen within the frame. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly wood: string
  readonly staveNm: number
}

const FIELD_KINDS = [
  { value: 'cells', label: 'End-grain cells, chequered' },
  { value: 'staves', label: 'One board, or staves side by side' },
] as const

const cells = { key: 'fieldKind', is: ['cells'] } as const
const staves = { key: 'fieldKind', is: ['staves'] } as const

const FIELDS: readonly Field[] = [
  { key: 'fieldKind', label: 'Field', kind: 'choice', choices: FIELD_KINDS },
  { key: 'woodA', label: 'Wood of the field', kind: 'wood' },
  { key: 'woodB', label: 'Second wood', kind: 'wood', when: cells },
  { key: 'cellsAcross', label: 'Cells across', kind: 'count', least: 2, most: 60, when: cells },
  { key: 'cellsAlong', label: 'Cells along', kind: 'count', least: 2, most: 60, when: cells },
  { key: 'cell', label: 'Cell size', kind: 'length', leastNm: inches(3 / 8), mostNm: inches(6), when: cells },
  {
    key: 'length',
    label: 'Field length',
    hint: 'Along the grain',
    kind: 'length',
    leastNm: inches(2),
    mostNm: inches(96),
    when: staves,
  },
  { key: 'width', label: 'Field width', kind: 'length', leastNm: inches(2), mostNm: inches(48), when: staves },
  {
    key: 'stave',
    label: 'Widest stave',
    hint: 'As wide as the field: one board',
    kind: 'length',
    leastNm: inches(1 / 2),
    mostNm: inches(48),
    when: staves,
  },
  { key: 'thickness', label: 'Thickness', kind: 'length', leastNm: inches(1 / 4), mostNm: inches(4) },
  ...frameFields(),
  { key: 'food', label: 'Cut on or eaten from', kind: 'yes-no' },
  { key: 'glue', label: 'Glue', kind: 'glue' },
  { key: 'finish', label: 'Finish', kind: 'finish' },
  {
    key: 'coats',
    label: 'Coats',
    hint: 'Empty: as many as are usual.',
    kind: 'count',
    least: 1,
    most: 12,
    optional: true,
  },
]

export const framedField: Construction<FramedFieldSpec> = {
  id: 'framed-field',
  name: 'Framed field',
  about: 'A field that may move in a mitred frame: game boards, tray bottoms, doors.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw,
}

function starting(units: Units): SpecInput {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    fieldKind: 'cells',
    woodA: 'walnut',
    woodB: 'maple',
    cellsAcross: '8',
    cellsAlong: '8',
    cell: size('2', '50'),
    length: size('16', '400'),
    width: size('11', '280'),
    stave: size('4', '100'),
    thickness: size('3/4', '20'),
    ...startingFrame(units),
    food: false,
    glue: 'pva_type2',
    finish: 'wiping_oil_varnish',
    coats: '',
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<FramedFieldSpec> {
  const form = specReader(FIELDS, input, units, facts)
  return form.result({
    field: form.choice<'cells' | 'staves'>('fieldKind') === 'cells' ? readCells(form) : readStaves(form),
    thicknessNm: form.length('thickness'),
    frame: readFrame(form),
    food: form.yes('food'),
    glue: form.glue('glue'),
    finish: form.finish('finish'),
    coats: form.optionalCount('coats'),
  })
}

const readCells = (form: SpecReader): CellField => ({
  kind: 'cells',
  woods: [form.wood('woodA'), form.wood('woodB')],
  cellsAcross: form.count('cellsAcross'),
  cellsAlong: form.count('cellsAlong'),
  cellNm: form.length('cell'),
})

const readStaves = (form: SpecReader): StaveField => ({
  kind: 'staves',
  wood: form.wood('woodA'),
  lengthNm: form.length('length'),
  widthNm: form.length('width'),
  staveNm: form.length('stave'),
})

function write(spec: FramedFieldSpec, units: Units): SpecInput {
  const { field } = spec
  const say = (nm: number): string => writeLength(nm, units)
  return {
    ...starting(units),
    fieldKind: field.kind,
    ...(field.kind === 'cells'
      ? {
          woodA: field.woods[0],
          woodB: field.woods[1],
          cellsAcross: String(field.cellsAcross),
          cellsAlong: String(field.cellsAlong),
          cell: say(field.cellNm),
        }
      : { woodA: field.wood, length: say(field.lengthNm), width: say(field.widthNm), stave: say(field.staveNm) }),
    thickness: say(spec.thicknessNm),
    ...writeFrame(spec.frame, units),
    food: spec.food,
    glue: spec.glue,
    finish: spec.finish,
    coats: spec.coats === null ? '' : String(spec.coats),
  }
}

function build(spec: FramedFieldSpec, count: number, facts: ShopFacts): Result<Build> {
  return spec.field.kind === 'cells'
    ? buildCells(spec, spec.field, count, facts)
    : buildStaves(spec, spec.field, count, facts)
}

/** A field of cells is an end-grain board with a frame and nothing else. */
const asBoard = (spec: FramedFieldSpec, { cellsAcross, cellsAlong, cellNm, woods }: CellField): EndGrainSpec => ({
  cellsAcross,
  cellsAlong,
  cellNm,
  thicknessNm: spec.thicknessNm,
  pattern: { kind: 'chequer', woods },
  frame: spec.frame,
  food: spec.food,
  juiceGroove: false,
  fingerGrips: false,
  feet: false,
  glue: spec.glue,
  finish: spec.finish,
  coats: spec.coats,
})

function buildCells(spec: FramedFieldSpec, field: CellField, count: number, facts: ShopFacts): Result<Build> {
  const built = endGrainBoard.build(asBoard(spec, field), count, facts)
  if (!built.ok) return built
  const { cellsAcross, cellsAlong, cellNm, woods } = field
  const names = [...new Set(woods)].map((wood) => nameOf(facts.woods, wood).toLowerCase())
  const chequer = `${names.join(' and ')} chequer`
  return ok({ ...built.value, title: titleOf(spec, cellsAcross * cellNm, cellsAlong * cellNm, chequer, facts) })
}

const panelOf = (spec: FramedFieldSpec, field: StaveField): StavePanel => ({
  lengthNm: field.lengthNm,
  widthNm: field.widthNm,
  thicknessNm: spec.thicknessNm,
  woods: [field.wood],
  staveNm: field.staveNm,
  lay: 'face-up',
})

const changeOf = (field: StaveField, facts: ShopFacts): FieldChange =>
  stavesChange(field.widthNm, field.lengthNm, [{ wood: field.wood, size: 1 }], facts)

function draw(spec: FramedFieldSpec, facts: ShopFacts): Drawing {
  const { field, frame } = spec
  if (field.kind === 'cells') return drawEndGrain(asBoard(spec, field), facts)
  const panel = panelOf(spec, field)
  const geometry = frameGeometry(field.widthNm, field.lengthNm, frame, changeOf(field, facts), facts)
  return {
    views: fieldViews(staveField(panel, staveGeometry(panel, facts.allowances), facts), { frame, geometry }, facts),
  }
}

function buildStaves(spec: FramedFieldSpec, field: StaveField, count: number, facts: ShopFacts): Result<Build> {
  const glue = named(facts.glues, spec.glue, 'glue')
  const finish = named(facts.finishes, spec.finish, 'finish')
  if (!glue.ok) return glue
  if (!finish.ok) return finish
  const panel = panelOf(spec, field)
  const geometry = staveGeometry(panel, facts.allowances)
  const change = changeOf(field, facts)
  const frame = frameGeometry(field.widthNm, field.lengthNm, spec.frame, change, facts)
  const fieldParts = staveParts('Stave', panel, geometry, count)
  const ofFrame = frameParts(spec.frame, frame, spec.thicknessNm, count, facts.allowances)
  const parts = [...fieldParts, ...ofFrame]
  const network = emptyNetwork(facts, {
    woods: parts.map((part) => nameOf(facts.woods, part.wood)),
    isFor: spec.food ? 'chopping' : 'other',
  })
  const trimmed = addStaves(network, {
    prefix: '',
    what: '',
    geometry,
    parts: fieldParts,
    panels: count,
    glue: glue.value,
    trimNote: 'To the size of the field.',
  })
  const framed = addFrame(network, {
    frame: spec.frame,
    geometry: frame,
    parts: ofFrame,
    pieces: count,
    glue: glue.value,
    field: trimmed,
  })
  const smooth = addSmoothing(network, {
    pieces: count,
    juiceGroove: false,
    fingerGrips: false,
    operation: 'sand',
    squareFeet: surfaceSquareFeet(frame.outsideAcrossNm, frame.outsideAlongNm, spec.thicknessNm),
    after: [framed],
  })
  addFinishing(network, { finish: finish.value, coats: spec.coats, pieces: count, after: [smooth], fittings: [] })
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, field.widthNm, field.lengthNm, nameOf(facts.woods, field.wood).toLowerCase(), facts),
    geometry: [
      ...staveFacts(geometry.staves.length, field, frame, spec, change, facts),
      ...weightFacts(parts, count, facts),
    ],
    parts,
    steps: network.steps,
    lags: network.lags,
    warnings: [
      ...(spec.food ? filmOnChoppingFace(finish.value) : []),
      ...widerThanSander('The field', Math.min(field.widthNm, field.lengthNm), facts),
      ...frame.warnings,
      ...network.warnings,
    ],
  })
}

function staveFacts(
  count: number,
  field: StaveField,
  frame: FrameGeometry,
  spec: FramedFieldSpec,
  change: FieldChange,
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

/** Sizes as they are ordered: the room for movement between field and frame is left out. */
function titleOf(
  { frame, thicknessNm }: FramedFieldSpec,
  acrossNm: number,
  alongNm: number,
  field: string,
  facts: ShopFacts,
): string {
  const sizes = writeSizes([acrossNm + 2 * frame.faceNm, alongNm + 2 * frame.faceNm, thicknessNm], facts.units)
  const around = nameOf(facts.woods, frame.wood).toLowerCase()
  return `Framed field ${sizes}, ${field}${around === field ? '' : ` in ${around}`}`
}

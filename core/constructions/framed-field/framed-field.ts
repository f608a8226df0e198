import { OTHER_FRAMES_FIELD, readOtherFrames, writeOtherFrames } from '../design/frame-set.ts'
import { inches } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { GrainCut } from '../../wood/movement.ts'
import { LOT_TOO_BIG } from '../lots.ts'
import { failed, problem, type Problem, type Result } from '../../problems.ts'
import type { Build, Construction, Field, SpecInput, Units } from '../construction.ts'
import { CUT_FIELD } from '../design/cut-field.ts'
import {
  fixingField,
  frameFields,
  readFrame,
  refuseDeepBevel,
  startingFrame,
  writeFrame,
} from '../design/frame-fields.ts'
import { DECORATION_FIELDS, readDecoration, startingDecoration, writeDecoration } from '../design/decoration.ts'
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import {
  glueAndFinishFields,
  readGlueAndFinish,
  startingGlueAndFinish,
  writeGlueAndFinish,
} from '../design/finish-fields.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { buildCells, drawCells } from './framed-cells.ts'
import type { CellField, FramedFieldSpec, StaveField } from './framed-field-spec.ts'
import { buildStaves, drawStaves } from './framed-staves.ts'

const FIELD_KINDS = [
  { value: 'cells', label: 'End-grain cells, checkered' },
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
    label: 'Widest strip',
    hint: 'As wide as the field: one board',
    kind: 'length',
    leastNm: inches(1 / 2),
    mostNm: inches(48),
    when: staves,
  },
  { ...CUT_FIELD, when: staves },
  { key: 'thickness', label: 'Thickness', kind: 'length', leastNm: inches(1 / 4), mostNm: inches(4) },
  ...frameFields([fixingField('end-grain', cells), fixingField('staves', staves)]),
  { key: 'food', label: 'Touches food', kind: 'yes-no' },
  ...glueAndFinishFields('underside'),
  ...DECORATION_FIELDS,
  OTHER_FRAMES_FIELD,
]

export const framedField: Construction<FramedFieldSpec> = {
  id: 'framed-field',
  name: 'Framed field',
  about: 'A field that may move in a mitered frame: game boards, tray bottoms, doors.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: (spec, facts) =>
    spec.field.kind === 'cells' ? drawCells(spec, spec.field, facts) : drawStaves(spec, spec.field, facts),
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
    cut: 'unknown',
    thickness: size('3/4', '20'),
    ...startingFrame(units),
    food: false,
    ...startingGlueAndFinish('furniture'),
    ...startingDecoration(units),
    otherFrames: [],
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<FramedFieldSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const ofCells = form.choice<'cells' | 'staves'>('fieldKind') === 'cells'
  const spec: FramedFieldSpec = {
    field: ofCells ? readCells(form) : readStaves(form),
    thicknessNm: form.length('thickness'),
    frame: readFrame(form, ofCells ? 'end-grain' : 'staves'),
    food: form.yes('food'),
    ...readGlueAndFinish(form),
    ...readDecoration(form),
    ...readOtherFrames(form),
  }
  refuseDeepBevel(form, spec.frame, spec.thicknessNm, units)
  return form.result(spec)
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
  cut: form.choice<GrainCut>('cut'),
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
      : {
          woodA: field.wood,
          length: say(field.lengthNm),
          width: say(field.widthNm),
          stave: say(field.staveNm),
          cut: field.cut,
        }),
    thickness: say(spec.thicknessNm),
    ...writeFrame(spec.frame, field.kind === 'cells' ? 'end-grain' : 'staves', units),
    food: spec.food,
    ...writeGlueAndFinish(spec),
    ...writeDecoration(spec, units),
    ...writeOtherFrames(spec.otherFrames, units),
  }
}

function build(spec: FramedFieldSpec, count: number, facts: ShopFacts): Result<Build> {
  const built =
    spec.field.kind === 'cells'
      ? buildCells(spec, spec.field, count, facts)
      : buildStaves(spec, spec.field, count, facts)
  return built.ok || count > 1 || spec.otherFrames === undefined ? built : failed(...built.problems.map(setTooBig))
}

/** A single set cannot be split into lots. */
const setTooBig = (one: Problem): Problem =>
  one.code === LOT_TOO_BIG
    ? problem(
        'set-too-big',
        one.message.replace('make smaller lots', 'add one of its frames as a second piece'),
        'otherFrames',
      )
    : one

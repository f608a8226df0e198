import { inches } from '../../lengths/length.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
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
import { frameJoints, glueFor, slabSurface } from '../design/consumed.ts'
import { endGrainFacts, endGrainParts, endGrainWarnings } from './end-grain-answers.ts'
import { drawEndGrain } from './end-grain-drawing.ts'
import { endGrainSizeOf, endGrainGeometry, framesWithSizes, type EndGrainGeometry } from './end-grain-geometry.ts'
import { endGrainNetwork } from './end-grain-steps.ts'
import {
  fixingField,
  frameFields,
  readFrame,
  refuseDeepBevel,
  startingFrame,
  writeFrame,
} from '../design/frame-fields.ts'
import { standsOffNm } from '../design/mitred-frame.ts'
import type { EndGrainPattern, EndGrainSpec } from './end-grain-spec.ts'
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

const PATTERN_CHOICES = [
  { value: 'chequer', label: 'Checkerboard' },
  { value: 'stripes', label: 'Stripes' },
  { value: 'rows', label: 'Own pattern, row by row' },
] as const

const framed = { key: 'framed', is: [true] } as const

const FIELDS: readonly Field[] = [
  { key: 'pattern', label: 'Pattern', kind: 'choice', choices: PATTERN_CHOICES },
  { key: 'woodA', label: 'Wood A', kind: 'wood' },
  { key: 'woodB', label: 'Wood B', kind: 'wood' },
  { key: 'woodC', label: 'Wood C', kind: 'wood', when: { key: 'pattern', is: ['rows'] } },
  {
    key: 'rows',
    label: 'Rows',
    hint: 'Letters of the woods: AABC. Rows and letters repeat until the board is full.',
    kind: 'rows',
    columns: [{ key: 'cells', label: 'Row', kind: 'text' }],
    when: { key: 'pattern', is: ['rows'] },
  },
  { key: 'cellsAcross', label: 'Cells across', kind: 'count', least: 2, most: 60 },
  { key: 'cellsAlong', label: 'Cells along', kind: 'count', least: 2, most: 60 },
  { key: 'cell', label: 'Cell size', kind: 'length', leastNm: inches(3 / 8), mostNm: inches(6) },
  { key: 'thickness', label: 'Thickness', kind: 'length', leastNm: inches(3 / 8), mostNm: inches(6) },
  { key: 'framed', label: 'Mitered frame', kind: 'yes-no' },
  ...frameFields([fixingField('end-grain', framed)], framed),
  { key: 'food', label: 'Touches food', kind: 'yes-no' },
  ...BOARD_OPTION_FIELDS,
  ...glueAndFinishFields('underside'),
  ...DECORATION_FIELDS,
]

export const endGrainBoard: Construction<EndGrainSpec> = {
  id: 'end-grain-board',
  name: 'End-grain board',
  about:
    'Cells standing on end, from two glue-ups: chopping boards and game boards that wear well. A mitered frame if wanted.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: drawEndGrain,
}

function starting(units: Units): SpecInput {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    pattern: 'chequer',
    woodA: 'walnut',
    woodB: 'maple',
    woodC: 'cherry',
    rows: [{ cells: 'AB' }, { cells: 'BA' }],
    cellsAcross: '8',
    cellsAlong: '10',
    cell: size('1 1/2', '40'),
    thickness: size('1 1/2', '40'),
    framed: false,
    ...startingFrame(units),
    food: true,
    ...writeBoardOptions(NO_BOARD_OPTIONS),
    ...startingGlueAndFinish('food'),
    ...startingDecoration(units),
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<EndGrainSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const spec: EndGrainSpec = {
    pattern: readPattern(form),
    cellsAcross: form.count('cellsAcross'),
    cellsAlong: form.count('cellsAlong'),
    cellNm: form.length('cell'),
    thicknessNm: form.length('thickness'),
    frame: form.yes('framed') ? readFrame(form, 'end-grain') : null,
    food: form.yes('food'),
    ...readBoardOptions(form),
    ...readGlueAndFinish(form),
    ...readDecoration(form),
  }
  if (spec.frame !== null) refuseDeepBevel(form, spec.frame, spec.thicknessNm, units)
  return form.result(spec)
}

function readPattern(form: SpecReader): EndGrainPattern {
  const kind = form.choice<EndGrainPattern['kind']>('pattern')
  const woods: readonly [string, string] = [form.wood('woodA'), form.wood('woodB')]
  if (kind !== 'rows') return { kind, woods }
  const rows = form.rows('rows')
  if (rows.length === 0) form.refuse('rows-missing', 'Rows: type at least one, such as AABB.', 'rows')
  const texts = rows.map((row) => row.text('cells').toUpperCase().replaceAll(/[\s,]/g, ''))
  const letters = new Map([
    ['A', woods[0]],
    ['B', woods[1]],
  ])
  if (texts.some((text) => text.includes('C'))) letters.set('C', form.wood('woodC'))
  return {
    kind,
    rows: rows.map((row, index) => {
      const text = texts[index] ?? ''
      if (text === '')
        row.refuse('row-empty', `Row ${index + 1} is empty: type its woods, such as AABB, or take it out.`, 'cells')
      return [...text].map((letter) => {
        const wood = letters.get(letter)
        if (wood === undefined)
          row.refuse('row-letter', `Row ${index + 1}: “${letter}” is none of the woods A, B and C.`, 'cells')
        return wood ?? ''
      })
    }),
  }
}

function write(spec: EndGrainSpec, units: Units): SpecInput {
  const { pattern, frame } = spec
  const woods = pattern.kind === 'rows' ? [...new Set(pattern.rows.flat())] : pattern.woods
  const usual = starting(units)
  return {
    ...usual,
    pattern: pattern.kind,
    woodA: woods[0] ?? '',
    woodB: woods[1] ?? woods[0] ?? '',
    woodC: woods[2] ?? woods[0] ?? '',
    ...(pattern.kind === 'rows'
      ? { rows: pattern.rows.map((row) => ({ cells: row.map((wood) => 'ABC'[woods.indexOf(wood)] ?? '').join('') })) }
      : {}),
    cellsAcross: String(spec.cellsAcross),
    cellsAlong: String(spec.cellsAlong),
    cell: writeLength(spec.cellNm, units),
    thickness: writeLength(spec.thicknessNm, units),
    framed: frame !== null,
    ...(frame === null ? {} : writeFrame(frame, 'end-grain', units)),
    food: spec.food,
    ...writeBoardOptions(spec),
    ...writeGlueAndFinish(spec),
    ...writeDecoration(spec, units),
  }
}

function build(spec: EndGrainSpec, count: number, facts: ShopFacts): Result<Build> {
  const products = glueAndFinishOf(spec, facts)
  if (!products.ok) return products
  const { glue } = products.value
  const boards = count * (1 + (spec.otherFrames?.length ?? 0))
  const geometry = endGrainGeometry(spec, boards, facts)
  const parts = endGrainParts(spec, geometry, count, facts)
  const sizes = boardSizes(spec, geometry)
  const faces = facesOf(products.value, count * total(sizes, slabSurface), {
    underNm2: count * total(sizes, (across, along) => across * along),
  })
  const network = endGrainNetwork(spec, geometry, parts, boards, facts, glue, faces)
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, geometry, facts),
    geometry: [
      ...endGrainFacts(spec, geometry, facts),
      ...boardOptionFacts(spec, endGrainSizeOf(spec, geometry, facts), facts),
      ...decorationFacts(spec),
      ...weightFacts(parts, boards, facts),
    ],
    parts: [...parts, ...inlayParts(spec, boards, facts)],
    fittings: boardOptionFittings(spec, boards),
    steps: network.steps,
    lags: network.lags,
    consumed: [
      glueFor(glue, endGrainJoints(geometry, boards), frameOf(spec, geometry, count)),
      ...finishForFaces(faces, spec.coats),
    ],
    warnings: [...endGrainWarnings(spec, geometry, facts, products.value), ...network.warnings],
  })
}

/** Strips side by side in each panel, then slices side by side in each board. */
function endGrainJoints(
  { panels, plan, panelWidthNm, stripThicknessNm, sliceNm }: EndGrainGeometry,
  count: number,
): number {
  const slices = plan.kinds.reduce((sum, kind) => sum + kind.slices, 0)
  const first = panels.reduce(
    (sum, { kind, lengthNm }) => sum + (kind.strips.length - 1) * lengthNm * stripThicknessNm,
    0,
  )
  return first + count * (slices - 1) * panelWidthNm * sliceNm
}

const frameOf = (spec: EndGrainSpec, geometry: EndGrainGeometry, count: number): number =>
  framesWithSizes(spec, geometry).reduce(
    (sum, [made, sizes]) => sum + frameJoints(made, sizes, wholeNm(spec), count),
    0,
  )

type BoardSize = readonly [acrossNm: number, alongNm: number, thicknessNm: number]

/** Outside sizes of every board of a set. */
function boardSizes(
  spec: EndGrainSpec,
  { fieldAcrossNm, fieldAlongNm, frame, otherFrames }: EndGrainGeometry,
): readonly BoardSize[] {
  const thicknessNm = wholeNm(spec)
  if (frame === null) return [[fieldAcrossNm, fieldAlongNm, thicknessNm]]
  return [frame, ...otherFrames].map((one) => [one.outsideAcrossNm, one.outsideAlongNm, thicknessNm])
}

const total = (sizes: readonly BoardSize[], of: (...size: BoardSize) => number): number =>
  sizes.reduce((sum, size) => sum + of(...size), 0)

/** Board and what its frame stands off the table. */
const wholeNm = ({ thicknessNm, frame }: EndGrainSpec): number => thicknessNm + standsOffNm(frame)

/** Sizes as they are ordered: the room for movement between field and frame is left out. */
function titleOf(spec: EndGrainSpec, { fieldAcrossNm, fieldAlongNm }: EndGrainGeometry, facts: ShopFacts): string {
  const { frame } = spec
  const across = fieldAcrossNm + 2 * (frame?.faceNm ?? 0)
  const along = fieldAlongNm + 2 * (frame?.faceNm ?? 0)
  const woods = [...new Set(spec.pattern.kind === 'rows' ? spec.pattern.rows.flat() : spec.pattern.woods)]
  const names = woods.map((wood) => nameOf(facts.woods, wood).toLowerCase())
  const pattern = { chequer: ' checkerboard', stripes: ' stripes', rows: '' }[spec.pattern.kind]
  const sizes = writeSizes([across, along, wholeNm(spec)], facts.units)
  return `${frame === null ? 'End-grain' : 'Framed end-grain'} board ${sizes}, ${joined(names)}${names.length > 1 ? pattern : ''}`
}

const joined = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`

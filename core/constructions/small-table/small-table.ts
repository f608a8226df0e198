import { inches } from '../../lengths/length.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import type { GrainCut } from '../../wood/movement.ts'
import { failed, ok, type Result } from '../../problems.ts'
import type { Build, Construction, Field, SpecInput, Units } from '../construction.ts'
import { finishFor, finishForPart, glueFor, slabSurface, staveJoints } from '../design/consumed.ts'
import { nutOilWarnings } from '../design/design-warnings.ts'
import { CUT_FIELD } from '../design/cut-field.ts'
import {
  DECORATION_FIELDS,
  decorationFacts,
  readDecoration,
  startingDecoration,
  writeDecoration,
} from '../design/decoration.ts'
import { inlayParts } from '../design/inlay-part.ts'
import { nameOf } from '../design/products.ts'
import {
  glueAndFinishOf,
  glueAndFinishFields,
  readGlueAndFinish,
  startingGlueAndFinish,
  writeGlueAndFinish,
} from '../design/finish-fields.ts'
import type { ShopFacts } from '../shop-facts.ts'
import { tableFacts, tableFittings, tableGeometry, tableParts, type TableGeometry } from './small-table-geometry.ts'
import { drawTable } from './small-table-drawing.ts'
import type { SmallTableSpec } from './small-table-spec.ts'
import { BASE, tableNetwork } from './small-table-steps.ts'
import { specReader } from '../design/spec-reader.ts'
import { weightFacts } from '../design/weight.ts'

const KINDS = [
  { value: 'table', label: 'Table' },
  { value: 'bench', label: 'Bench' },
] as const

const FASTENERS = [
  { value: 'buttons', label: 'Wooden buttons in a groove' },
  { value: 'figure-eights', label: 'Figure-eight fasteners' },
] as const

const FIELDS: readonly Field[] = [
  { key: 'what', label: 'What', kind: 'choice', choices: KINDS },
  {
    key: 'length',
    label: 'Length',
    hint: 'Of the top, along the grain',
    kind: 'length',
    leastNm: inches(8),
    mostNm: inches(96),
  },
  { key: 'width', label: 'Width', kind: 'length', leastNm: inches(6), mostNm: inches(48) },
  { key: 'height', label: 'Height', kind: 'length', leastNm: inches(6), mostNm: inches(48) },
  { key: 'woodA', label: 'Wood of the top', kind: 'wood' },
  { key: 'woodB', label: 'Wood of legs and apron', kind: 'wood' },
  { key: 'thickness', label: 'Thickness of the top', kind: 'length', leastNm: inches(1 / 2), mostNm: inches(3) },
  { key: 'stave', label: 'Widest strip of the top', kind: 'length', leastNm: inches(1), mostNm: inches(24) },
  CUT_FIELD,
  { key: 'leg', label: 'Leg size', kind: 'length', leastNm: inches(3 / 4), mostNm: inches(5) },
  { key: 'apronHeight', label: 'Apron height', kind: 'length', leastNm: inches(1), mostNm: inches(12) },
  { key: 'apron', label: 'Apron thickness', kind: 'length', leastNm: inches(3 / 8), mostNm: inches(2) },
  { key: 'overhang', label: 'Overhang', kind: 'length', leastNm: 0, mostNm: inches(12) },
  { key: 'fasteners', label: 'Top fasteners', kind: 'choice', choices: FASTENERS },
  ...glueAndFinishFields('base'),
  ...DECORATION_FIELDS,
]

export const smallTable: Construction<SmallTableSpec> = {
  id: 'small-table',
  name: 'Small table or bench',
  about: 'An edge-glued top on legs and apron, held by fasteners that let it move through the year.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: drawTable,
}

function starting(units: Units): SpecInput {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    what: 'table',
    length: size('24', '600'),
    width: size('16', '400'),
    height: size('22', '560'),
    woodA: 'cherry',
    woodB: 'cherry',
    thickness: size('7/8', '22'),
    stave: size('5', '125'),
    cut: 'unknown',
    leg: size('1 1/2', '38'),
    apronHeight: size('3 1/2', '90'),
    apron: size('3/4', '20'),
    overhang: size('1', '25'),
    fasteners: 'buttons',
    ...startingGlueAndFinish('furniture'),
    ...startingDecoration(units),
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<SmallTableSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const spec: SmallTableSpec = {
    what: form.choice<SmallTableSpec['what']>('what'),
    lengthNm: form.length('length'),
    widthNm: form.length('width'),
    heightNm: form.length('height'),
    wood: form.wood('woodA'),
    baseWood: form.wood('woodB'),
    topNm: form.length('thickness'),
    staveNm: form.length('stave'),
    cut: form.choice<GrainCut>('cut'),
    legNm: form.length('leg'),
    apronHeightNm: form.length('apronHeight'),
    apronNm: form.length('apron'),
    overhangNm: form.length('overhang'),
    fasteners: form.choice<SmallTableSpec['fasteners']>('fasteners'),
    ...readGlueAndFinish(form),
    ...readDecoration(form),
  }
  const say = (nm: number): string => writeLength(nm, units)
  const between = Math.min(spec.lengthNm, spec.widthNm) - 2 * spec.overhangNm - 2 * spec.legNm
  if (between < inches(1)) {
    const message = `Overhang: with ${say(spec.overhangNm)} all round and legs of ${say(spec.legNm)} there is no room for an apron. Make it less, or the legs thinner.`
    form.refuse('no-apron', message, 'overhang')
  }
  if (spec.apronHeightNm + spec.topNm > spec.heightNm) {
    form.refuse(
      'apron-too-high',
      `Apron height: ${say(spec.apronHeightNm)} and the top are higher than the whole (${say(spec.heightNm)}).`,
      'apronHeight',
    )
  }
  if (spec.apronNm > spec.legNm) {
    form.refuse(
      'apron-too-thick',
      `Apron thickness: ${say(spec.apronNm)} is more than the legs (${say(spec.legNm)}).`,
      'apron',
    )
  }
  return form.result(spec)
}

function write(spec: SmallTableSpec, units: Units): SpecInput {
  const say = (nm: number): string => writeLength(nm, units)
  return {
    what: spec.what,
    length: say(spec.lengthNm),
    width: say(spec.widthNm),
    height: say(spec.heightNm),
    woodA: spec.wood,
    woodB: spec.baseWood,
    thickness: say(spec.topNm),
    stave: say(spec.staveNm),
    cut: spec.cut,
    leg: say(spec.legNm),
    apronHeight: say(spec.apronHeightNm),
    apron: say(spec.apronNm),
    overhang: say(spec.overhangNm),
    fasteners: spec.fasteners,
    ...writeGlueAndFinish(spec),
    ...writeDecoration(spec, units),
  }
}

function build(spec: SmallTableSpec, count: number, facts: ShopFacts): Result<Build> {
  const products = glueAndFinishOf(spec, facts)
  if (!products.ok) return products
  const { glue, finish, part: base } = products.value
  const geometry = tableGeometry(spec, facts)
  const parts = tableParts(spec, geometry, count, facts)
  const topNm2 = count * slabSurface(spec.widthNm, spec.lengthNm, spec.topNm)
  const baseNm2 = count * baseSurface(spec, geometry)
  const network = tableNetwork(spec, geometry, parts, count, facts, glue, { finish, base, topNm2, baseNm2 })
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, facts),
    geometry: [...tableFacts(spec, geometry, facts), ...decorationFacts(spec), ...weightFacts(parts, count, facts)],
    parts: [...parts, ...inlayParts(spec, count, facts)],
    fittings: tableFittings(spec, geometry, count),
    steps: network.steps,
    lags: network.lags,
    consumed: [
      glueFor(glue, staveJoints(geometry.topStaves, count), count * TENONS * 2 * spec.apronHeightNm * geometry.tenonNm),
      ...finishFor(finish, spec.coats, topNm2, base === null ? baseNm2 : 0),
      ...finishForPart(BASE, base, baseNm2),
    ],
    warnings: [...geometry.warnings, ...nutOilWarnings(finish, base), ...network.warnings],
  })
}

/** Two on each of four aprons, glued on both cheeks. */
const TENONS = 8

const baseSurface = (spec: SmallTableSpec, { legLengthNm, longApronNm, shortApronNm }: TableGeometry): number =>
  4 * slabSurface(spec.legNm, legLengthNm, spec.legNm) +
  2 * slabSurface(spec.apronHeightNm, longApronNm, spec.apronNm) +
  2 * slabSurface(spec.apronHeightNm, shortApronNm, spec.apronNm)

function titleOf(spec: SmallTableSpec, facts: ShopFacts): string {
  const woods = [...new Set([spec.wood, spec.baseWood])].map((wood) => nameOf(facts.woods, wood).toLowerCase())
  const sizes = writeSizes([spec.lengthNm, spec.widthNm, spec.heightNm], facts.units)
  return `${spec.what === 'bench' ? 'Bench' : 'Small table'} ${sizes}, ${woods.join(' on ')}`
}

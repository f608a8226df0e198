import { inches } from '../../lengths/length.ts'
import { writeLength, writeSizes } from '../../lengths/write-length.ts'
import { failed, ok, type Result } from '../../problems.ts'
import { drawBox } from './box-drawing.ts'
import { finishFor, finishForPart, glueFor, slabSurface, staveJoints } from '../design/consumed.ts'
import {
  BOX_EXTRA_FIELDS,
  boxExtraFacts,
  boxExtraFittings,
  boxExtraWarnings,
  readBoxExtras,
  startingBoxExtras,
  writeBoxExtras,
} from './box-extras.ts'
import { boxFacts, boxGeometry, boxParts, type BoxGeometry } from './box-geometry.ts'
import { INSIDE } from './box-inside.ts'
import type { BoxSpec } from './box-spec.ts'
import type { GrainCut } from '../../wood/movement.ts'
import { CUT_FIELD } from '../design/cut-field.ts'
import { boxNetwork } from './box-steps.ts'
import type { Build, Construction, Field, Fitting, SpecInput, Units } from '../construction.ts'
import { nutOilWarnings } from '../design/design-warnings.ts'
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
import { specReader, type SpecReader } from '../design/spec-reader.ts'
import { weightFacts } from '../design/weight.ts'

const CORNERS = [
  { value: 'mitred', label: 'Mitered' },
  { value: 'rebated', label: 'Rabbeted' },
] as const

const BOTTOMS = [
  { value: 'groove', label: 'In a groove all round' },
  { value: 'drawer', label: 'Slid in from behind (drawer)' },
] as const

const LIDS = [
  { value: 'none', label: 'None' },
  { value: 'loose', label: 'Loose' },
  { value: 'hinged', label: 'Hinged' },
] as const

const lidded = { key: 'lid', is: ['loose', 'hinged'] } as const

const FIELDS: readonly Field[] = [
  { key: 'length', label: 'Length outside', kind: 'length', leastNm: inches(2), mostNm: inches(72) },
  { key: 'width', label: 'Width outside', kind: 'length', leastNm: inches(2), mostNm: inches(48) },
  {
    key: 'height',
    label: 'Height',
    hint: 'Of the sides, without the lid',
    kind: 'length',
    leastNm: inches(1),
    mostNm: inches(36),
  },
  { key: 'woodA', label: 'Wood', kind: 'wood' },
  { key: 'side', label: 'Thickness of the sides', kind: 'length', leastNm: inches(1 / 8), mostNm: inches(2) },
  { key: 'corners', label: 'Corners', kind: 'choice', choices: CORNERS },
  {
    key: 'splines',
    label: 'Splines a corner',
    hint: '0: none',
    kind: 'count',
    least: 0,
    most: 9,
    when: { key: 'corners', is: ['mitred'] },
  },
  {
    key: 'splineWood',
    label: 'Wood of the splines',
    kind: 'wood',
    extra: true,
    when: { key: 'corners', is: ['mitred'] },
  },
  { key: 'bottom', label: 'Thickness of the bottom', kind: 'length', leastNm: inches(1 / 8), mostNm: inches(1) },
  { key: 'bottomFit', label: 'Bottom', kind: 'choice', choices: BOTTOMS },
  ...BOX_EXTRA_FIELDS,
  { key: 'lid', label: 'Lid', kind: 'choice', choices: LIDS },
  { key: 'lidWood', label: 'Wood of the lid', kind: 'wood', when: lidded },
  {
    key: 'lidThickness',
    label: 'Thickness of the lid',
    kind: 'length',
    leastNm: inches(1 / 8),
    mostNm: inches(2),
    when: lidded,
  },
  { key: 'stave', label: 'Widest strip of bottom and lid', kind: 'length', leastNm: inches(1), mostNm: inches(24) },
  CUT_FIELD,
  { key: 'food', label: 'Serving', kind: 'yes-no' },
  ...glueAndFinishFields('inside'),
  ...DECORATION_FIELDS,
]

export const box: Construction<BoxSpec> = {
  id: 'box',
  name: 'Box or drawer',
  about: 'Mitered or rabbeted sides, a bottom that floats in a groove, splines and a lid if wanted.',
  fields: FIELDS,
  starting,
  read,
  write,
  build,
  draw: drawBox,
}

function starting(units: Units): SpecInput {
  const size = (inch: string, millimetre: string): string => (units === 'inch' ? inch : millimetre)
  return {
    length: size('12', '300'),
    width: size('8', '200'),
    height: size('4', '100'),
    woodA: 'walnut',
    side: size('1/2', '12'),
    corners: 'mitred',
    splines: '0',
    splineWood: 'maple',
    bottom: size('1/4', '6'),
    bottomFit: 'groove',
    ...startingBoxExtras(units),
    lid: 'none',
    lidWood: 'maple',
    lidThickness: size('1/2', '12'),
    stave: size('5', '125'),
    cut: 'unknown',
    food: false,
    ...startingGlueAndFinish('furniture'),
    ...startingDecoration(units),
  }
}

function read(input: SpecInput, units: Units, facts: ShopFacts): Result<BoxSpec> {
  const form = specReader(FIELDS, input, units, facts)
  const usual = specReader(FIELDS, starting(units), units, facts)
  const corners = form.choice<BoxSpec['corners']>('corners')
  const lid = form.choice<BoxSpec['lid']>('lid')
  const spec: BoxSpec = {
    lengthNm: form.length('length'),
    widthNm: form.length('width'),
    heightNm: form.length('height'),
    wood: form.wood('woodA'),
    sideNm: form.length('side'),
    corners,
    ...readSplines(form, corners),
    bottomNm: form.length('bottom'),
    bottomFit: form.choice<BoxSpec['bottomFit']>('bottomFit'),
    lid,
    lidWood: lid === 'none' ? '' : form.wood('lidWood'),
    lidNm: lid === 'none' ? usual.length('lidThickness') : form.length('lidThickness'),
    staveNm: form.length('stave'),
    cut: form.choice<GrainCut>('cut'),
    food: form.yes('food'),
    ...readBoxExtras(form),
    ...readGlueAndFinish(form),
    ...readDecoration(form),
  }
  const say = (nm: number): string => writeLength(nm, units)
  if (2 * spec.sideNm >= Math.min(spec.widthNm, spec.lengthNm) / 1.5) {
    form.refuse(
      'sides-too-thick',
      `Thickness of the sides: two of ${say(spec.sideNm)} leave hardly any room in a box ${say(Math.min(spec.widthNm, spec.lengthNm))} across.`,
      'side',
    )
  }
  if (spec.bottomFit === 'drawer' && spec.bottomNm * 3 > spec.heightNm) {
    form.refuse(
      'bottom-too-thick',
      `Thickness of the bottom: ${say(spec.bottomNm)} in a drawer ${say(spec.heightNm)} high leaves hardly anything of its back. Make it thinner, or the drawer higher.`,
      'bottom',
    )
  } else if (spec.bottomNm * 2 > spec.heightNm) {
    form.refuse(
      'bottom-too-thick',
      `Thickness of the bottom: ${say(spec.bottomNm)} is more than half of the height (${say(spec.heightNm)}).`,
      'bottom',
    )
  }
  return form.result(spec)
}

function readSplines(form: SpecReader, corners: BoxSpec['corners']): Pick<BoxSpec, 'splines' | 'splineWood'> {
  const splines = corners === 'mitred' ? form.count('splines') : 0
  return splines === 0 || form.text('splineWood') === ''
    ? { splines }
    : { splines, splineWood: form.wood('splineWood') }
}

function write(spec: BoxSpec, units: Units): SpecInput {
  const say = (nm: number): string => writeLength(nm, units)
  return {
    ...starting(units),
    length: say(spec.lengthNm),
    width: say(spec.widthNm),
    height: say(spec.heightNm),
    woodA: spec.wood,
    side: say(spec.sideNm),
    corners: spec.corners,
    splines: String(spec.splines),
    ...(spec.splines === 0 ? {} : { splineWood: spec.splineWood ?? spec.wood }),
    bottom: say(spec.bottomNm),
    bottomFit: spec.bottomFit,
    lid: spec.lid,
    ...(spec.lid === 'none' ? {} : { lidWood: spec.lidWood, lidThickness: say(spec.lidNm) }),
    stave: say(spec.staveNm),
    cut: spec.cut ?? 'unknown',
    food: spec.food,
    ...writeBoxExtras(spec, units),
    ...writeGlueAndFinish(spec),
    ...writeDecoration(spec, units),
  }
}

function build(spec: BoxSpec, count: number, facts: ShopFacts): Result<Build> {
  const products = glueAndFinishOf(spec, facts)
  if (!products.ok) return products
  const { glue, finish, part: inside } = products.value
  const geometry = boxGeometry(spec, facts)
  const parts = boxParts(spec, geometry, count, facts)
  const insideNm2 = count * insideOf(spec)
  const ownNm2 = count * outsideOf(spec) + (inside === null ? insideNm2 : 0)
  const network = boxNetwork(spec, geometry, parts, count, facts, glue, { finish, inside, ownNm2, insideNm2 })
  if (network.problems.length > 0) return failed(...network.problems)
  return ok({
    title: titleOf(spec, facts),
    geometry: [
      ...boxFacts(spec, geometry, facts),
      ...boxExtraFacts(spec, facts),
      ...decorationFacts(spec),
      ...weightFacts(parts, count, facts),
    ],
    parts: [...parts, ...inlayParts(spec, count, facts)],
    fittings: [...fittingsOf(spec, count), ...boxExtraFittings(spec, count)],
    steps: network.steps,
    lags: network.lags,
    consumed: [
      glueFor(glue, ...jointsOf(spec, geometry, count)),
      ...finishForPart(INSIDE, inside, insideNm2),
      ...finishFor(finish, spec.coats, ownNm2),
    ],
    warnings: [
      ...geometry.warnings,
      ...boxExtraWarnings(spec, facts),
      ...nutOilWarnings(finish, inside),
      ...network.warnings,
    ],
  })
}

/** Two hinges a lid, three screws a leaf. */
const fittingsOf = ({ lid }: BoxSpec, boxes: number): Fitting[] =>
  lid === 'hinged'
    ? [
        { name: 'Hinges', quantity: 2 * boxes, note: 'No wider than the sides are thick.' },
        { name: 'Screws for the hinges', quantity: 12 * boxes, note: 'Shorter than sides and lid are thick.' },
      ]
    : []

/** Four corners, as long across as a mitre is or as a rebate bends, and the staves of bottom and lid. */
const jointsOf = (spec: BoxSpec, { bottomStaves, lid }: BoxGeometry, count: number): number[] => [
  count * 4 * spec.heightNm * spec.sideNm * (spec.corners === 'mitred' ? Math.SQRT2 : 1.5),
  staveJoints(bottomStaves, count),
  lid === null ? 0 : staveJoints(lid.staves, count),
]

/** Sides and bottom as they are seen from within. */
const insideOf = ({ lengthNm, widthNm, heightNm, sideNm }: BoxSpec): number =>
  2 * heightNm * (lengthNm + widthNm - 4 * sideNm) + lengthNm * widthNm

/** Sides, underside, and lid and front all round. */
function outsideOf({ lengthNm, widthNm, heightNm, lid, lidNm, front }: BoxSpec): number {
  const applied =
    front === undefined ? 0 : slabSurface(heightNm + 2 * front.overNm, lengthNm + 2 * front.overNm, front.thicknessNm)
  const lidded = lid === 'none' ? 0 : slabSurface(widthNm, lengthNm, lidNm)
  return 2 * heightNm * (lengthNm + widthNm) + lengthNm * widthNm + applied + lidded
}

function titleOf(spec: BoxSpec, facts: ShopFacts): string {
  const what = spec.bottomFit === 'drawer' ? 'Drawer' : 'Box'
  const lid = spec.lid === 'none' ? '' : `, ${nameOf(facts.woods, spec.lidWood).toLowerCase()} lid`
  const sizes = writeSizes([spec.lengthNm, spec.widthNm, spec.heightNm], facts.units)
  return `${what} ${sizes}, ${nameOf(facts.woods, spec.wood).toLowerCase()}${lid}`
}

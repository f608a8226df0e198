import type { Almanac } from '../almanac/almanac.ts'
import { startingIn } from '../almanac/usual-choices.ts'
import { constructionOf } from '../constructions/constructions.ts'
import type { OwnConstruction } from '../constructions/own/own-construction.ts'
import type { Construction, SpecInput, Units } from '../constructions/construction.ts'
import { inches, millimetres, type LengthNm } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import { writeLength } from '../lengths/write-length.ts'
import type { SpokenPiece } from './order-line.ts'
import type { SpokenKind, SpokenOption } from './order-line-forms.ts'

/** A piece as the order form holds it: a construction and the texts of its fields. */
export interface AskedPiece {
  readonly construction: string
  readonly input: SpecInput
  readonly count: string
}

/**
 * Fills the form of the construction that makes what was asked for. Fields of which nothing was said keep what they start
 * with; null where no construction makes such a thing. Of what is not known here the construction is empty: the maker chooses it,
 * and its sizes and woods wait for that.
 * @param usual construction that is taken where the kind was not said; the first of its kinds for a plain "board" too
 * @param almanac for the wood and finish that the shop uses most; null: as the construction has them
 */
export function askedPiece(
  spoken: SpokenPiece,
  units: Units,
  usual: string,
  almanac: Almanac | null = null,
): AskedPiece | null {
  if (spoken.isUnknown) return { construction: '', input: unplaced(spoken, units), count: String(spoken.count ?? 1) }
  const wanted = spoken.own !== null ? [spoken.own] : spoken.kind === null ? [usual] : made(spoken.kind, spoken, usual)
  const construction = wanted.map((id) => constructionOf(id, almanac?.constructions)).find((one) => one !== undefined)
  if (construction === undefined) return null
  return {
    construction: construction.id,
    input: { ...startingIn(construction, units, almanac), ...filled(spoken, construction, units) },
    count: String(spoken.count ?? 1),
  }
}

/** What was said of a piece whose construction is still to be chosen, by the keys that most of them have. */
function unplaced({ sizesNm, sidesNm, woods, finish }: SpokenPiece, units: Units): SpecInput {
  const [shorter, longer] = sizesNm.slice(0, 2).toSorted((one, other) => one - other)
  const sides = { length: sidesNm.length ?? longer ?? shorter, width: sidesNm.width ?? shorter, height: sidesNm.height }
  const said = {
    ...Object.fromEntries(
      Object.entries(sides).map(([side, nm]) => [side, nm === undefined ? undefined : writeLength(nm, units)]),
    ),
    ...{ woodA: woods[0], woodB: woods[1] ?? woods[0], finish: finish ?? undefined },
  }
  return Object.fromEntries(Object.entries(said).flatMap(([key, text]) => (text === undefined ? [] : [[key, text]])))
}

/**
 * The fields of another construction for a piece that was being typed: what both have of the same name stays. Glue and finish stay where
 * the maker chose them; as they began they were meant for what the piece was before.
 * @param from what it was; undefined: not chosen yet
 */
export function inputOfAnother(
  before: SpecInput,
  { from, to }: { readonly from: Construction<unknown> | undefined; readonly to: Construction<unknown> },
  units: Units,
  almanac: Almanac | null,
): SpecInput {
  const began = from === undefined ? {} : startingIn(from, units, almanac)
  const input = { ...startingIn(to, units, almanac) }
  for (const { key, kind } of to.fields) {
    const kept = before[key]
    const isChosen = (kind !== 'glue' && kind !== 'finish') || kept !== began[key]
    if (kind !== 'rows' && kind !== 'choice' && isChosen && typeof kept === typeof input[key] && kept !== undefined)
      input[key] = kept
  }
  return input
}

/** An earlier piece with what was said to be different: sizes, woods, finish, how many. */
export function changedPiece(
  earlier: AskedPiece,
  spoken: SpokenPiece,
  units: Units,
  own: readonly OwnConstruction[] = [],
): AskedPiece {
  const construction = constructionOf(earlier.construction, own)
  return {
    construction: earlier.construction,
    input: { ...earlier.input, ...(construction === undefined ? {} : filled(spoken, construction, units)) },
    count: spoken.count === null ? earlier.count : String(spoken.count),
  }
}

/** Constructions that make a kind of piece, best first. A plain board of several woods is usually an end-grain one. */
function made(kind: SpokenKind, { woods }: SpokenPiece, usual: string): readonly string[] {
  const boards = woods.length === 1 ? ['edge-grain-board', 'end-grain-board'] : ['end-grain-board', 'edge-grain-board']
  switch (kind) {
    case 'board':
      return boards.includes(usual) && woods.length === 0 ? [usual] : boards
    case 'end-grain-board':
      return ['end-grain-board']
    case 'edge-grain-board':
      return ['edge-grain-board']
    case 'game-board':
      return ['framed-field', 'end-grain-board']
    // What has low sides that stand up is built as a box; its bottom moves in a groove.
    case 'tray':
    case 'box':
      return ['box']
    case 'table':
    case 'bench':
      return ['small-table']
  }
}

function filled(spoken: SpokenPiece, construction: Construction<unknown>, units: Units): SpecInput {
  const input: Record<string, string | boolean> = {}
  const keys = new Set(construction.fields.map((field) => field.key))
  const put = (name: string, value: string | boolean): void => {
    const key = keyOf(construction, name)
    if (key !== undefined) input[key] = value
  }
  const putChoice = (key: string, value: string): void => {
    if (isChoice(construction, key, value)) put(key, value)
  }
  const { kind, sizesNm, thicknessNm, woods, finish, options, cellNm } = spoken
  const [first, second = first, third] = sizesNm
  if (first !== undefined && second !== undefined) {
    const [shorter, longer] = [Math.min(first, second), Math.max(first, second)]
    put('length', writeLength(longer, units))
    put('width', writeLength(shorter, units))
    if (keys.has('cellsAcross')) {
      const cells = kind === 'game-board' ? gameCells(shorter, construction, units) : cellsOf(shorter, longer, units)
      put('cellsAcross', String(cells.across))
      put('cellsAlong', String(cells.along))
      put('cell', writeLength(cells.cellNm, units))
    }
  } else if (kind === 'game-board') {
    put('cellsAcross', '8')
    put('cellsAlong', '8')
  }
  if (cellNm !== null && keys.has('cellsAcross')) {
    put('cell', writeLength(cellNm, units))
    if (first !== undefined && second !== undefined && kind !== 'game-board') {
      put('cellsAcross', String(Math.max(2, Math.round(Math.min(first, second) / cellNm))))
      put('cellsAlong', String(Math.max(2, Math.round(Math.max(first, second) / cellNm))))
    }
  }
  if (kind === 'tray') put('height', writeLength(units === 'inch' ? inches(2) : millimetres(50), units))
  if (third !== undefined)
    put(keyOf(construction, 'height') !== undefined ? 'height' : 'thickness', writeLength(third, units))
  if (thicknessNm !== null) put('thickness', writeLength(thicknessNm, units))
  for (const [side, nm] of Object.entries(spoken.sidesNm)) put(side, writeLength(nm, units))
  if (kind === 'game-board') putChoice('fieldKind', 'cells')
  if (kind === 'table' || kind === 'bench') putChoice('what', kind)
  if (finish !== null) {
    for (const field of construction.fields) if (field.kind === 'finish') put(field.key, finish)
  }
  for (const option of options) {
    const field = OPTION_FIELDS[option]
    const asked = construction.fields.find(({ key }) => key === field.key)
    if (field.value !== true) putChoice(field.key, field.value)
    else put(field.key, asked?.kind === 'count' ? '1' : true)
  }
  if (spoken.engravingSays !== null) put('engravingSays', spoken.engravingSays)
  // A board of strips says apart from its woods whether there are two of them.
  if (woods.length > 1) putChoice('stripes', 'two')
  for (const [index, field] of construction.fields.filter((one) => one.kind === 'wood').entries()) {
    // Where fewer woods were said than a pattern of two takes, it is of that one wood.
    const wood = woods[index] ?? (index < 2 ? woods.at(-1) : undefined)
    if (wood !== undefined) put(field.key, wood)
  }
  return input
}

/** The key of a field; of the maker's own ones a size also goes by what it is called. */
const keyOf = ({ fields }: Construction<unknown>, name: string): string | undefined =>
  (
    fields.find(({ key }) => key === name) ??
    fields.find(({ kind, label }) => kind === 'length' && label.toLowerCase() === name)
  )?.key

/** The field that an option is, where the construction has it. */
const OPTION_FIELDS: Readonly<Record<SpokenOption, { readonly key: string; readonly value: true | string }>> = {
  'juice-groove': { key: 'juiceGroove', value: true },
  'finger-grips': { key: 'fingerGrips', value: true },
  feet: { key: 'feet', value: true },
  hinged: { key: 'lid', value: 'hinged' },
  'loose-lid': { key: 'lid', value: 'loose' },
  breadboard: { key: 'breadboard', value: true },
  splines: { key: 'splines', value: true },
  engraved: { key: 'engraving', value: 'shop' },
}

/**
 * How sizes that were said change because a board is made of whole cells: `17 3/8" becomes 17 1/2": 7 cells of 2 1/2"`.
 * Empty where nothing changes, or where a frame makes up the rest.
 */
export function sizesInCells(spoken: SpokenPiece, { input }: AskedPiece, units: Units): readonly string[] {
  const [first, second = first] = spoken.sizesNm
  const cell = readLength(typeof input['cell'] === 'string' ? input['cell'] : '', units)
  if (first === undefined || second === undefined || !cell.ok || spoken.kind === 'game-board') return []
  const sides = [
    { saidNm: Math.min(first, second), cells: Number(input['cellsAcross']) },
    { saidNm: Math.max(first, second), cells: Number(input['cellsAlong']) },
  ]
  const changes = sides.flatMap(({ saidNm, cells }) => {
    const madeNm = cells * cell.value
    if (!(cells > 0) || madeNm === saidNm) return []
    const say = (nm: LengthNm): string => writeLength(nm, units)
    return [`${say(saidNm)} becomes ${say(madeNm)}: ${cells} cells of ${say(cell.value)}`]
  })
  return [...new Set(changes)]
}

/** Sizes and options that were said and for which this construction has no field, in plain words: they belong into the notes. */
export function saidWithoutField(
  spoken: SpokenPiece,
  constructionId: string,
  units: Units,
  own: readonly OwnConstruction[] = [],
): readonly string[] {
  const construction = constructionOf(constructionId, own)
  // Every word of an unknown piece stands in the rest already.
  if (spoken.isUnknown || construction === undefined) return []
  const keys = new Set(construction.fields.map((field) => field.key))
  const has = (name: string): boolean => keyOf(construction, name) !== undefined
  const [first, , third] = spoken.sizesNm
  const fits = (has('length') && has('width')) || keys.has('cellsAcross')
  const sizes =
    first === undefined || (fits && (third === undefined || has('height') || has('thickness')))
      ? []
      : [spoken.sizesNm.map((nm) => writeLength(nm, units)).join(' x ')]
  const sides = Object.entries(spoken.sidesNm).flatMap(([side, nm]) =>
    has(side) ? [] : [`${side} ${writeLength(nm, units)}`],
  )
  const options = spoken.options
    .filter((option) => !keys.has(OPTION_FIELDS[option].key))
    .map((option) =>
      option === 'engraved' && spoken.engravingSays !== null
        ? `engraved “${spoken.engravingSays}”`
        : option.replace('-', ' '),
    )
  return [...sizes, ...sides, ...options]
}

const isChoice = (construction: Construction<unknown>, key: string, value: string): boolean =>
  construction.fields.some(
    (field) => field.key === key && field.kind === 'choice' && field.choices.some((choice) => choice.value === value),
  )

/** Eight cells each way; where a frame goes round them, within the size asked for. */
function gameCells(outsideNm: LengthNm, construction: Construction<unknown>, units: Units): Cells {
  const face = construction.id === 'framed-field' ? construction.starting(units)['frameFace'] : undefined
  const faceNm = typeof face === 'string' ? readLength(face, units) : undefined
  return { across: 8, along: 8, cellNm: Math.round((outsideNm - (faceNm?.ok ? 2 * faceNm.value : 0)) / 8) }
}

interface Cells {
  readonly across: number
  readonly along: number
  readonly cellNm: LengthNm
}

/** Square cells that come nearest to the sizes asked for; of equally near ones those nearest to a usual cell. */
function cellsOf(acrossNm: LengthNm, alongNm: LengthNm, units: Units): Cells {
  const { usual, least, most, step } =
    units === 'inch'
      ? { usual: inches(1.5), least: inches(1), most: inches(2.5), step: inches(1 / 8) }
      : { usual: millimetres(40), least: millimetres(25), most: millimetres(60), step: millimetres(1) }
  let best = { across: 2, along: 2, cellNm: usual, off: Infinity }
  for (let cellNm = least; cellNm <= most; cellNm += step) {
    const across = Math.max(2, Math.round(acrossNm / cellNm))
    const along = Math.max(2, Math.round(alongNm / cellNm))
    const off = Math.abs(across * cellNm - acrossNm) + Math.abs(along * cellNm - alongNm)
    // Of two as near to the usual cell the larger one wins: fewer strips.
    const nearer = off === best.off && Math.abs(cellNm - usual) <= Math.abs(best.cellNm - usual)
    if (off < best.off || nearer) best = { across, along, cellNm, off }
  }
  return best
}

import { constructionOf } from '../constructions/constructions.ts'
import type { Construction, SpecInput, Units } from '../constructions/construction.ts'
import { inches, millimetres, type LengthNm } from '../lengths/length.ts'
import { writeLength } from '../lengths/write-length.ts'
import type { SpokenKind, SpokenPiece } from './order-line.ts'

/** A piece as the order form holds it: a construction and the texts of its fields. */
export interface AskedPiece {
  readonly construction: string
  readonly input: SpecInput
  readonly count: string
}

/**
 * Fills the form of the construction that makes what was asked for. Fields of which nothing was said keep what they start
 * with; null where no construction makes such a thing.
 * @param usual construction that is taken where the kind was not said; the first of its kinds for a plain "board" too
 */
export function askedPiece(spoken: SpokenPiece, units: Units, usual: string): AskedPiece | null {
  const construction = [...(spoken.kind === null ? [usual] : made(spoken.kind, spoken, usual))]
    .map((id) => constructionOf(id))
    .find((one) => one !== undefined)
  if (construction === undefined) return null
  return {
    construction: construction.id,
    input: { ...construction.starting(units), ...filled(spoken, construction, units) },
    count: String(spoken.count ?? 1),
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
    case 'tray':
      return ['framed-field', 'box']
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
  const put = (key: string, value: string | boolean): void => {
    if (keys.has(key)) input[key] = value
  }
  const [first, second] = spoken.sizesNm
  const longer = first === undefined ? undefined : Math.max(first, second ?? first)
  const shorter = first === undefined ? undefined : Math.min(first, second ?? first)
  if (longer !== undefined && shorter !== undefined) {
    put('length', writeLength(longer, units))
    put('width', writeLength(shorter, units))
    if (keys.has('cellsAcross')) {
      const cells = spoken.kind === 'game-board' ? gameCells(shorter) : cellsOf(shorter, longer, units)
      put('cellsAcross', String(cells.across))
      put('cellsAlong', String(cells.along))
      put('cell', writeLength(cells.cellNm, units))
    }
  } else if (spoken.kind === 'game-board') {
    put('cellsAcross', '8')
    put('cellsAlong', '8')
  }
  // A framed field is of cells for a game, else of staves.
  if (spoken.kind !== null && choiceOf(construction, 'fieldKind', 'staves')) {
    put('fieldKind', spoken.kind === 'game-board' ? 'cells' : 'staves')
  }
  if (spoken.thicknessNm !== null) put('thickness', writeLength(spoken.thicknessNm, units))
  if (spoken.finish !== null) {
    for (const field of construction.fields) if (field.kind === 'finish') put(field.key, spoken.finish)
  }
  // A board of strips says apart from its woods whether there are two of them.
  if (spoken.woods.length > 1 && choiceOf(construction, 'stripes', 'two')) put('stripes', 'two')
  const woodFields = construction.fields.filter((field) => field.kind === 'wood')
  for (const [index, field] of woodFields.entries()) {
    // Where fewer woods were said than a pattern of two takes, it is of that one wood.
    const wood = spoken.woods[index] ?? (index < 2 ? spoken.woods.at(-1) : undefined)
    if (wood !== undefined) put(field.key, wood)
  }
  return input
}

const choiceOf = (construction: Construction<unknown>, key: string, value: string): boolean =>
  construction.fields.some(
    (field) => field.key === key && field.kind === 'choice' && field.choices.some((choice) => choice.value === value),
  )

const gameCells = (shorterNm: LengthNm): { across: number; along: number; cellNm: LengthNm } => ({
  across: 8,
  along: 8,
  cellNm: Math.round(shorterNm / 8),
})

/** Square cells that come nearest to the sizes asked for; of equally near ones those nearest to a usual cell. */
function cellsOf(
  acrossNm: LengthNm,
  alongNm: LengthNm,
  units: Units,
): { readonly across: number; readonly along: number; readonly cellNm: LengthNm } {
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

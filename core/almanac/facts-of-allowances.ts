import type { Allowances } from '../constructions/shop-facts.ts'
import { readLength } from '../lengths/read-length.ts'
import { writeLength } from '../lengths/write-length.ts'
import { failed, ok, problem } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { ALLOWANCE_SOURCES } from './defaults.ts'
import type { Slot } from './fact.ts'

const ALLOWANCE_LABELS: Readonly<Record<keyof Allowances, string>> = {
  sawKerfNm: 'Saw kerf',
  flattenPanelNm: 'Flatten a panel: total, both faces',
  flattenBoardNm: 'Flatten an end-grain board: total, both faces',
  squareEndNm: 'Square an end',
  trimEdgeNm: 'Trimming takes off each edge',
  holdLastPieceNm: 'Left over to hold the last piece',
  jointEdgeNm: 'Joint an edge',
  planeFaceNm: 'Plane rough stock: total, both faces',
  planeThickNm: 'Plane thick stock, from 8/4 up',
  mitreTrimNm: 'Added to a mitered blank',
  jointerWidthNm: 'Jointer takes up to',
  drumSanderWidthNm: 'Drum sander takes up to',
  planerWidthNm: 'Planer takes up to',
  bladeHeightNm: 'Table saw cuts through',
  shortestPlanedNm: 'Planer takes no shorter than',
  longestPanelNm: 'Longest panel',
  clampSpacingNm: 'Clamps apart, at most',
  clampFromEndNm: 'First clamp from the end',
  clampReachNm: 'Longest clamps open to',
  offcutLengthNm: 'Offcut is kept from a length of',
  offcutWidthNm: 'Offcut is kept from a width of',
}

/** What each operation takes off, and what the machines take. */
export const allowanceSlots = (almanac: Almanac): Slot[] =>
  (Object.keys(ALLOWANCE_LABELS) as (keyof Allowances)[]).map((name) => ({
    key: `allowances.${name.replace(/Nm$/, '')}`,
    group: 'allowances',
    about: '',
    label: ALLOWANCE_LABELS[name],
    kind: 'length',
    unit: '',
    value: writeLength(almanac.allowances[name], almanac.shop.units),
    source: ALLOWANCE_SOURCES[name],
    choices: [],
    change: (text) => {
      const read = readLength(text, almanac.shop.units)
      if (!read.ok)
        return failed(...read.problems.map((one) => ({ ...one, message: `${ALLOWANCE_LABELS[name]}: ${one.message}` })))
      if (read.value === 0 && NEVER_NOTHING.has(name)) {
        return failed(problem('too-small', `${ALLOWANCE_LABELS[name]}: nothing does not work, type the real size.`))
      }
      const changed = { ...almanac.allowances, [name]: read.value }
      if (changed.longestPanelNm < changed.shortestPlanedNm) {
        return failed(
          problem(
            'too-small',
            `${ALLOWANCE_LABELS[name]}: the longest panel would be shorter than what the planer takes.`,
          ),
        )
      }
      return ok({ ...almanac, allowances: changed })
    },
  }))

const NEVER_NOTHING: ReadonlySet<keyof Allowances> = new Set([
  'jointerWidthNm',
  'drumSanderWidthNm',
  'planerWidthNm',
  'bladeHeightNm',
  'longestPanelNm',
  'clampSpacingNm',
  'clampReachNm',
])

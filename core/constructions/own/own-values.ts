import { NM_PER_INCH, NM_PER_MILLIMETRE } from '../../lengths/length.ts'
import type { OwnConstruction, OwnField } from './own-construction.ts'

/**
 * What was typed into the fields of a construction of the maker's own: nanometres, counts, yes or no, choices, ids; with the
 * construction as it was then, so that a piece keeps its parts whatever becomes of the construction.
 */
export interface OwnSpec {
  readonly own: OwnConstruction
  readonly values: { readonly [key: string]: number | boolean | string }
}

/** Numbers that formulas may use: lengths in the construction's units, counts, yes as 1 and no as 0, choices from 1. */
export function numbersOf({ own, values }: OwnSpec): ReadonlyMap<string, number> {
  const unitNm = own.units === 'inch' ? NM_PER_INCH : NM_PER_MILLIMETRE
  return new Map(
    own.fields.flatMap(({ key, kind, choices }): [string, number][] => {
      const value = values[key]
      if (kind === 'length') return [[key, Number(value) / unitNm]]
      if (kind === 'count') return [[key, Number(value)]]
      if (kind === 'choice') return [[key, choices.indexOf(String(value)) + 1]]
      return kind === 'yes-no' ? [[key, value === true ? 1 : 0]] : []
    }),
  )
}

/** Names that formulas of this construction may use. */
export const formulaNames = (fields: readonly OwnField[]): ReadonlySet<string> =>
  new Set(fields.filter(({ kind }) => COUNTED.has(kind)).map(({ key }) => key))

const COUNTED: ReadonlySet<OwnField['kind']> = new Set(['length', 'count', 'yes-no', 'choice'])

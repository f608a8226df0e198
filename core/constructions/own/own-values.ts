import { NM_PER_INCH, NM_PER_MILLIMETRE } from '../../lengths/length.ts'
import type { OwnConstruction, OwnField } from './own-construction.ts'

/** What was typed into the fields of a construction of the maker's own: nanometres, counts, yes or no, ids. */
export interface OwnSpec {
  /** The construction as it was then: pieces stay what they are when it is changed or taken out later. */
  readonly own: OwnConstruction
  readonly values: { readonly [key: string]: number | boolean | string }
}

/** Numbers that formulas may use: lengths in the construction's units, counts, yes as 1 and no as 0. */
export function numbersOf(own: OwnConstruction, { values }: OwnSpec): ReadonlyMap<string, number> {
  const unitNm = own.units === 'inch' ? NM_PER_INCH : NM_PER_MILLIMETRE
  return new Map(
    own.fields.flatMap(({ key, kind }): [string, number][] => {
      const value = values[key]
      if (kind === 'length') return [[key, Number(value) / unitNm]]
      if (kind === 'count') return [[key, Number(value)]]
      return kind === 'yes-no' ? [[key, value === true ? 1 : 0]] : []
    }),
  )
}

/** Names that formulas of this construction may use. */
export const formulaNames = (fields: readonly OwnField[]): ReadonlySet<string> =>
  new Set(fields.filter(({ kind }) => kind === 'length' || kind === 'count' || kind === 'yes-no').map(({ key }) => key))

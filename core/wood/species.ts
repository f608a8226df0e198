import { HARDWOODS } from './hardwoods.ts'
import { IMPORTED_WOODS } from './imported-woods.ts'
import { SOFTWOODS } from './softwoods.ts'
import type { SpeciesRow } from './species-row.ts'
import { SPECIES_SOURCES } from './species-sources.ts'

/** What is known of a wood: means of a species, each with where it comes from. Null: not found. */
export interface Species {
  /** As in the trade's lists, kind first: `Maple, sugar`. It is the key of the table. */
  readonly name: string
  readonly botanical: string
  readonly group: 'hardwood' | 'softwood' | 'imported'
  /** Change of a dimension per 1 % of moisture content, as a fraction of the dimension. Valid for 6-14 %. */
  readonly coefficients: Sourced<{ readonly radial: number | null; readonly tangential: number | null }>
  /** Green to ovendry, percent of green size. */
  readonly shrinkagePct: Sourced<{
    readonly radial: number | null
    readonly tangential: number | null
    readonly volumetric: number | null
  }>
  /** Ovendry weight over the weight of as much water as its volume: green (basic), or at 12 % moisture. */
  readonly gravity: Sourced<{ readonly basic: number | null; readonly at12: number | null }>
  /** Side hardness in pounds force. */
  readonly janka: Sourced<{ readonly lbf: number | null }>
  readonly note: string
}

export type Sourced<T> = T & { readonly source: string }

/** Every wood of the table, in its order: North American hardwoods, softwoods, imported woods. */
export const SPECIES: readonly Species[] = [
  ...HARDWOODS.map((row) => speciesOf(row, 'hardwood')),
  ...SOFTWOODS.map((row) => speciesOf(row, 'softwood')),
  ...IMPORTED_WOODS.map((row) => speciesOf(row, 'imported')),
]

const BY_NAME: ReadonlyMap<string, Species> = new Map(SPECIES.map((one) => [one.name, one]))

/** The wood of that name, or null where the table does not have it. */
export const species = (name: string): Species | null => BY_NAME.get(name) ?? null

function speciesOf(row: SpeciesRow, group: Species['group']): Species {
  const [name, botanical, , radial, tangential, ofCoefficients, radialPct, tangentialPct, volumetric, ofShrinkage] = row
  const [, , , , , , , , , , basic, at12, ofGravity, lbf, ofJanka, note] = row
  return {
    name,
    botanical,
    group,
    coefficients: { radial, tangential, source: sourceOf(ofCoefficients) },
    shrinkagePct: { radial: radialPct, tangential: tangentialPct, volumetric, source: sourceOf(ofShrinkage) },
    gravity: { basic, at12, source: sourceOf(ofGravity) },
    janka: { lbf, source: sourceOf(ofJanka) },
    note,
  }
}

function sourceOf(code: string): string {
  return code === '' ? 'not found' : (SPECIES_SOURCES[code] ?? code)
}

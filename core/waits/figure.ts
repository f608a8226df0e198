/**
 * A figure as it is printed somewhere, in the unit in which it is printed; null where the source gives no such end of the
 * range. Glues and finishes turn these into clocks in minutes; see `clock.ts`.
 */
export interface Figure {
  readonly min: number | null
  readonly typical: number | null
  readonly max: number | null
  readonly unit: string
  readonly conditions: string
  readonly provenance: Provenance
  /** Its provenance in words and what was cited. */
  readonly source: string
}

/** How well a figure is founded. */
export type Provenance = 'published' | 'common practice, no source' | 'from memory' | 'label'

/** The one value to work with where a figure is a plain number: the usual one, else its higher, else its lower end. */
export function usual(figure: Figure): number {
  const value = figure.typical ?? figure.max ?? figure.min
  if (value === null) throw new Error(`a figure without any value: ${figure.conditions}`)
  return value
}

type Ends = readonly [min: number | null, typical: number | null, max: number | null]

/** Seen in a stored copy of the named publications. */
export const published = (ends: Ends, unit: string, conditions: string, ...citations: readonly string[]): Figure =>
  figure(ends, unit, conditions, 'published', ` — ${citations.join('; ')}`)

/** What shops do, without a source. */
export const practice = (ends: Ends, unit: string, conditions: string, note = ''): Figure =>
  figure(ends, unit, conditions, 'common practice, no source', note)

/** Not looked up: a starting value that the maker should replace. */
export const memory = (ends: Ends, unit: string, conditions: string, note = 'not looked up'): Figure =>
  figure(ends, unit, conditions, 'from memory', ` — ${note}`)

const figure = (
  [min, typical, max]: Ends,
  unit: string,
  conditions: string,
  provenance: Provenance,
  note: string,
): Figure => ({ ...{ min, typical, max, unit, conditions, provenance }, source: `${provenance}${note}` })

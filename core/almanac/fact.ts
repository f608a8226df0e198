import type { Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'

/** One fact of the shop as the Almanac screen shows it. Texts are in the maker's units, as they are typed back. */
export interface AlmanacFact {
  readonly key: string
  readonly group: FactGroup
  /** Within the group: the product, the operation; empty where the label says it all. */
  readonly about: string
  readonly label: string
  readonly kind: FactKind
  /** What is counted where the value does not say it: "places", "strip". */
  readonly unit: string
  readonly value: string
  /** What it is when the maker says nothing; null where there is no such thing (a station of the maker's own). */
  readonly default: string | null
  readonly source: string
  readonly choices: readonly { readonly value: string; readonly label: string }[]
}

export type FactGroup =
  | 'shop'
  | 'air'
  | 'stations'
  | 'glues'
  | 'finishes'
  | 'yard'
  | 'price'
  | 'tax'
  | 'papers'
  | 'standard-times'
  | 'allowances'
export type FactKind =
  | 'text'
  | 'choice'
  | 'time-zone'
  | 'currency'
  | 'temperature'
  | 'fraction'
  | 'count'
  | 'length'
  /** Several, with commas between. */
  | 'lengths'
  /** Of a wood; empty: none yet. */
  | 'price'
  | 'money'
  | 'share'
  /** Several lines. */
  | 'long-text'
  | 'duration'
  | 'range'
  | 'minutes'
  /** Twelve temperatures or fractions, January first, with commas between. */
  | 'months'
  | 'spread'

/** A fact with the way to change it. */
export interface Slot extends Omit<AlmanacFact, 'default'> {
  /** Where the default is not the starting almanac's: the class behind a label. */
  readonly ownDefault?: string
  readonly change: (text: string) => Result<Almanac>
}

export const OWN = 'the shop’s own'
export const PRACTICE = 'common practice, no source'

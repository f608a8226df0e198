import type { MitredFrame } from '../design/mitred-frame.ts'

export interface EndGrainSpec {
  readonly cellsAcross: number
  readonly cellsAlong: number
  readonly cellNm: number
  readonly thicknessNm: number
  readonly pattern: EndGrainPattern
  readonly frame: MitredFrame | null
  /** Cut on or eaten from. */
  readonly food: boolean
  readonly juiceGroove: boolean
  readonly fingerGrips: boolean
  readonly feet: boolean
  readonly glue: string
  readonly finish: string
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
}

export type EndGrainPattern =
  | { readonly kind: 'chequer'; readonly woods: readonly [string, string] }
  | { readonly kind: 'stripes'; readonly woods: readonly [string, string] }
  /** Rows of wood ids, repeated along the board; a row's cells are repeated across it. */
  | { readonly kind: 'rows'; readonly rows: readonly (readonly string[])[] }

import type { PieceUse } from '../../cautions/cautions-for-step.ts'

/** What a piece is for, to choose from; an empty value is nothing special. */
export const PIECE_USES = [
  { value: '', label: 'No' },
  { value: 'food', label: 'Serving' },
  { value: 'chopping', label: 'Cutting' },
  { value: 'child', label: 'For a child' },
] as const satisfies readonly { readonly value: Exclude<PieceUse, 'other'> | ''; readonly label: string }[]

type Chosen = (typeof PIECE_USES)[number]['value']

/** As it is kept: nothing where nothing special was said. */
export const keptUse = (chosen: Chosen): { readonly isFor?: Exclude<PieceUse, 'other'> } =>
  chosen === '' ? {} : { isFor: chosen }

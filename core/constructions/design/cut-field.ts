import type { GrainCut } from '../../wood/movement.ts'
import type { Field } from '../construction.ts'

/**
 * Asked where a panel's movement matters: half of it hangs on how the boards were sawn. Once for the piece, not for each board: when an order
 * is taken nobody knows which boards it will be, and a panel of mixed ones moves no more than `unknown` plans for, however they are mixed.
 */
export const CUT_FIELD: Field = {
  key: 'cut',
  label: 'Cut of the boards',
  hint: 'Quartersawn moves about half as much.',
  kind: 'choice',
  choices: [
    { value: 'unknown', label: 'Mixed or not known' },
    { value: 'flatsawn', label: 'Flatsawn' },
    { value: 'riftsawn', label: 'Rift' },
    { value: 'quartersawn', label: 'Quartersawn' },
  ] satisfies readonly { readonly value: GrainCut; readonly label: string }[],
  formerly: { '': 'unknown' },
}

/** How the rings lie across the width that moves: of staves turned on edge it is the plank's thickness. */
export const cutAcross = (cut: GrainCut, lay: 'edge-up' | 'face-up'): GrainCut =>
  lay === 'face-up' ? cut : cut === 'flatsawn' ? 'quartersawn' : cut === 'quartersawn' ? 'flatsawn' : cut

import { type ConsumableNeeded, consumablesNeeded } from '../../core/timber/consumables-needed.ts'
import { type TimberWork, lengthUnitsOf } from './timber-work.ts'

export interface ConsumableLine {
  readonly kind: 'glue' | 'finish'
  readonly product: string
  readonly name: string
  /** Null: nothing is published, see the label. */
  readonly amount: { readonly min: number; readonly typical: number; readonly max: number } | null
  readonly why: readonly string[]
}

const SQUARE_FEET_PER_SQUARE_METRE = 10.763910417

/** Glue and finish that the open orders still take. */
export const stillTaken = ({ lots, moment }: TimberWork): readonly ConsumableNeeded[] =>
  consumablesNeeded(
    lots.flatMap((lot) => lot.consumed),
    moment.almanac,
  )

export function consumableLines(work: TimberWork): ConsumableLine[] {
  const area = (squareMetres: number): string =>
    lengthUnitsOf(work) === 'inch'
      ? `${(squareMetres * SQUARE_FEET_PER_SQUARE_METRE).toFixed(1)} sq ft`
      : `${squareMetres.toFixed(2)} m²`
  return stillTaken(work).map(({ kind, product, name, squareMetres, quantity }) => ({
    ...{ kind, product, name },
    amount: quantity && { min: quantity.min, typical: quantity.typical, max: quantity.max },
    why: [
      kind === 'glue'
        ? `${area(squareMetres)} of joints in the glue-ups that are not done, each joint counted once.`
        : `${area(squareMetres)} of surface, all coats that are not on yet together.`,
      quantity === null
        ? 'How far it goes is not published for its kind: see the label.'
        : `How far it goes: ${quantity.source}. The label wins; end grain takes the upper figure and more.`,
      kind === 'glue'
        ? 'A tenth is added for squeeze-out. What is on the shelf is not taken off.'
        : 'What is on the shelf is not taken off. Nothing is added for what stays in the brush.',
    ],
  }))
}

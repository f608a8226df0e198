/** Pieces that nobody eats from and no child chews: for all others allergies and small children are asked about. */
const NEITHER = new Set(['small-table', 'table', 'bench'])

export const isForFoodOrPlay = (construction: string): boolean => !NEITHER.has(construction)

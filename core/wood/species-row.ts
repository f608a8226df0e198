/**
 * One wood as the tables print it: change of a dimension per 1 % of moisture (C_R radial, C_T tangential, fractions of the
 * dimension), shrinkage green to ovendry in percent of green size, specific gravity (ovendry weight; basic: green volume; at 12 %
 * moisture), side hardness in pounds force. Null: not found. Every group of values is followed by its code of `SPECIES_SOURCES`.
 */
export type SpeciesRow = readonly [
  name: string,
  botanical: string,
  botanicalSource: string,
  radialCoefficient: number | null,
  tangentialCoefficient: number | null,
  coefficientSource: string,
  radialShrinkage: number | null,
  tangentialShrinkage: number | null,
  volumetricShrinkage: number | null,
  shrinkageSource: string,
  basicGravity: number | null,
  gravityAt12: number | null,
  gravitySource: string,
  jankaLbf: number | null,
  jankaSource: string,
  note: string,
]

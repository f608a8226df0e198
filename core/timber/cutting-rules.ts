import type { Allowances } from '../constructions/shop-facts.ts'
import type { CuttingRules } from './cutting-model.ts'

/** What the saw and the planer take, from the almanac's allowances. */
export const cuttingRules = (allowances: Allowances): CuttingRules => ({
  kerfNm: allowances.sawKerfNm,
  squareEndNm: allowances.squareEndNm,
  planing: { planeFaceNm: allowances.planeFaceNm, planeThickNm: allowances.planeThickNm },
  usableLengthNm: allowances.offcutLengthNm,
  usableWidthNm: allowances.offcutWidthNm,
})

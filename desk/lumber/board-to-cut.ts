import type { BoardOnHand } from '../../core/timber/cutting-model.ts'
import type { Board } from '../../db/boards.ts'

/** A board as the cutting plan takes it. */
export const boardToCut = ({ id, number, wood, thicknessNm, widthNm, lengthNm, flaws }: Board): BoardOnHand => ({
  ...{ id, wood, thicknessNm, widthNm, lengthNm },
  name: `no. ${number}`,
  defects: flaws,
})

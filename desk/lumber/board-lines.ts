import { writeLength } from '../../core/lengths/write-length.ts'
import { typeMoney } from '../../core/money/money.ts'
import type { BoardInput } from '../../core/timber/read-board.ts'
import { writeFlaws } from '../../core/timber/read-flaws.ts'
import { tooWetToGlue } from '../../core/timber/too-wet.ts'
import { boardFeet } from '../../core/wood/board-measure.ts'
import type { Board } from '../../db/boards.ts'
import { restsUntil } from './lumber-ahead.ts'
import type { TimberWork } from './timber-work.ts'

export interface BoardLine {
  readonly id: string
  readonly number: number
  readonly wood: string
  readonly thicknessNm: number
  readonly widthNm: number
  readonly lengthNm: number
  readonly boardFeet: number
  readonly flaws: readonly { readonly fromNm: number; readonly toNm: number }[]
  readonly quality: string
  readonly place: string
  readonly priceMinor: number | null
  /** Last reading, and what is wrong with it for gluing up now; null: not measured. */
  readonly moisture: { readonly pct: number; readonly day: string; readonly tooWet: string | null } | null
  /** Local day on which it may be cut; null: it may. */
  readonly restsUntil: string | null
  /** Number of the order that it was bought for. */
  readonly boughtFor: number | null
  /** Number of the board that it is an offcut of. */
  readonly cutFrom: number | null
  readonly photoId: string | null
  /** The form as it was typed, for changing it. */
  readonly input: BoardInput
}

export function boardLine(board: Board, { moment }: TimberWork): BoardLine {
  const { id, number, wood, thicknessNm, widthNm, lengthNm, flaws, quality, place, priceMinor, cutFrom, photoId } =
    board
  const { units, currency } = moment.almanac.shop
  return {
    ...{ id, number, wood, thicknessNm, widthNm, lengthNm, flaws, quality, place, priceMinor, photoId },
    boardFeet: boardFeet(thicknessNm, widthNm, lengthNm),
    moisture: board.moisture && { ...board.moisture, tooWet: tooWetToGlue(board.moisture.pct) },
    restsUntil: restsUntil(board, moment.today, moment.almanac.restDays),
    boughtFor: moment.book.commissions.find((commission) => commission.id === board.boughtFor)?.number ?? null,
    cutFrom: cutFrom?.number ?? null,
    input: {
      ...{ wood, quality, place },
      thickness: writeLength(thicknessNm, units),
      width: writeLength(widthNm, units),
      length: writeLength(lengthNm, units),
      flaws: writeFlaws(flaws, units),
      price: priceMinor === null ? '' : typeMoney(priceMinor, currency),
      moisture: board.moisture === null ? '' : String(board.moisture.pct),
      hereSince: board.hereSince ?? '',
    },
  }
}

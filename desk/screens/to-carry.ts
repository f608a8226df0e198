import type { OpenWait } from '../../core/book/open-waits.ts'
import { WORTH_CARRYING_MIN } from '../../core/book/where-it-dries.ts'
import type { Moment } from '../moment.ts'
import { labelAt, type PieceLabel } from '../piece-label.ts'
import { movesOf, type MoveOffered } from '../steps/move-piece.ts'

/** A waiting piece that is ready much sooner in another place. */
export interface CarryLine {
  /** Step after which it waits: it is carried in its name. */
  readonly afterStepId: string
  readonly piece: PieceLabel
  readonly waitName: string
  /** Where it is now; null: it stands still there. */
  readonly readyAt: number | null
  readonly move: MoveOffered
}

/** What is worth a walk: half a day sooner, or ready at all. The longest wait after a step decides. */
export function toCarry(moment: Moment): readonly CarryLine[] {
  return moment.lots.flatMap((lot) =>
    [...Map.groupBy(lot.waits, ({ from }) => from.id)].flatMap(([afterStepId, waits]): CarryLine[] => {
      const wait = waits.reduce((longest, one) => (whenReady(one) > whenReady(longest) ? one : longest))
      const move = soonest(movesOf(wait, moment))
      if (move?.readyAt == null || whenReady(wait) - Math.max(move.readyAt, moment.now) < WORTH_CARRYING_MIN) return []
      return [
        {
          afterStepId,
          piece: { ...labelAt(wait.from, lot), count: moment.piecesLeft(wait.from) },
          waitName: wait.lag.name,
          readyAt: wait.readyAt,
          move,
        },
      ]
    }),
  )
}

const whenReady = ({ readyAt }: Pick<OpenWait, 'readyAt'>): number => readyAt ?? Infinity

const soonest = (moves: readonly MoveOffered[]): MoveOffered | undefined =>
  moves.reduce<MoveOffered | undefined>(
    (best, one) => (best === undefined || whenReady(one) < whenReady(best) ? one : best),
    undefined,
  )

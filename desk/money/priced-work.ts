import type { BookStep, Commission } from '../../core/book/book.ts'
import type { BuiltPiece } from '../built-piece.ts'
import type { Moment } from '../moment.ts'
import { whoDoes } from '../screens/people-today.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import type { PricedWork } from './price-of-work.ts'

/** A piece as far as its price asks. */
interface PieceOfOrder extends BuiltPiece {
  readonly piece: { readonly pieceId: string; readonly title: string; readonly count: number }
}

/** An order of the book as something that has a price. */
export function pricedWork(commission: Commission, pieces: readonly PieceOfOrder[], moment: Moment): PricedWork {
  const steps = moment.stepsOf(commission.id).map((step) => pricedStep(step, moment))
  return {
    ...termsOf(commission),
    pieces: pieces.map(({ piece: { pieceId, title, count }, parts, fittings, consumed }) => ({
      ...{ title, count, parts, fittings, consumed },
      steps: steps.filter((step) => step.pieceId === pieceId),
    })),
    typedMinor: commission.priceMinor,
  }
}

/** A step with the setup that belongs to it, as logged or planned, and who does it. */
export const pricedStep = <Step extends BookStep>(step: Step, moment: Moment) => ({
  ...step,
  setUp: step.setUp && { ...step.setUp, minutes: setUpMinutes(step, moment) },
  who: whoDoes(step.id, moment),
})

/** What of an order's terms its price goes by. */
export const termsOf = ({
  lumber,
  extraLines,
  untaxedWhy,
}: Commission): Pick<PricedWork, 'ownWood' | 'extraLines' | 'untaxed'> => ({
  ownWood: lumber.from === 'customer',
  extraLines,
  untaxed: untaxedWhy !== '',
})

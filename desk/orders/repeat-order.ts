import { randomUUID } from 'node:crypto'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Belonging, Book, BookStep, Commission } from '../../core/book/book.ts'
import { progressOf } from '../../core/book/step-progress.ts'
import { NO_WORK, setUpWorked, workAt } from '../../core/book/work-done.ts'
import { freeList, rowText } from '../../core/constructions/free-list/free-list.ts'
import { typedSpec, useOf } from '../../core/constructions/constructions.ts'
import { sum } from '../../core/money/exact.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { localDay } from '../../core/time/local-day.ts'
import { bookOfCommission, commissionIdByNumber } from '../../db/commissions.ts'
import { saveDraft } from '../../db/drafts.ts'
import { billOf } from '../money/order-money.ts'
import { remakesOf } from '../learning/remakes.ts'
import { priceOfWork } from '../money/price-of-work.ts'
import { builtPiece } from '../built-piece.ts'
import { termsOf } from '../money/priced-work.ts'
import type { Moment } from '../moment.ts'
import { setUpMinutes } from '../steps/set-up-minutes.ts'
import { woodPaid } from '../money/wood-spent.ts'
import type { OpenShop } from '../open-shop.ts'
import { draftName } from './order-drafts.ts'
import type { Draft, DraftPiece } from './draft.ts'

/** An earlier order, by its id or by the number that people know it by. */
export type EarlierOrder = { readonly id: string } | { readonly number: number }

/** What an earlier order was, for making it again. */
export interface MadeBefore {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  /** As its form would hold them today; sizes, wood and finish may be changed. */
  readonly pieces: readonly DraftPiece[]
  /** Day of the last step that was done; null: nothing was done yet. */
  readonly workedOn: string | null
  readonly stepsDone: number
  readonly stepsTotal: number
  /** Minutes worked on steps with a start and a done, and what was estimated for the same steps. */
  readonly workedMin: number
  readonly estimatedMin: number
  /** Of the minutes worked, those whose result failed and was made again: they are in both figures. */
  readonly lostMin: number
  /** Done steps that nobody timed: in neither figure. */
  readonly stepsUntimed: number
  /** With extras, before tax; null: it never had a price. */
  readonly soldMinor: number | null
  /** What the boards cost that were cut for it; 0: none had a price. */
  readonly woodPaidMinor: number
  /** By the almanac of today, with the hours that it took. */
  readonly costMinor: number
  /** What the cost leaves open, as sentences. */
  readonly missing: readonly string[]
}

/** Problem: `unknown-commission`, `unknown-number`. */
export async function madeBefore(shop: OpenShop, asked: EarlierOrder): Promise<Result<MadeBefore>> {
  const found = await earlierOrder(shop, asked)
  if (!found.ok) return found
  const { book, commission } = found.value
  const { almanac } = shop
  const moment = shop.moment()
  const timed = timesOf(book, moment)
  const facts = shopFactsOf(almanac, shop.now, commission.home)
  const price = priceOfWork(
    {
      ...termsOf(commission),
      pieces: book.pieces.map((piece) => ({
        ...builtPiece(piece, facts),
        ...{ title: piece.title, count: piece.count },
        steps: book.steps.filter(({ pieceId }) => pieceId === piece.id).map((step) => timed.asTaken(step)),
      })),
      typedMinor: commission.priceMinor,
    },
    { almanac, wording: moment.wording, remakes: await remakesOf(shop) },
  )
  const { lastAt, ...sums } = timed.sums
  return ok({
    commissionId: commission.id,
    number: commission.number,
    customer: commission.customer.name,
    pieces: piecesAgain(book, facts.units),
    workedOn: lastAt === null ? null : localDay(lastAt, almanac.shop.timeZone),
    ...sums,
    soldMinor: billOf(commission, almanac)?.netMinor ?? null,
    woodPaidMinor: woodPaid(commission, book.pieces, moment),
    costMinor: price.costMinor,
    missing: price.missing,
  })
}

/**
 * Begins a draft for the same customer, beside the drafts that there are: with the pieces of the earlier order, or with steps of one's
 * own where it is repaired or answered for.
 */
export async function makeAgain(
  shop: OpenShop,
  asked: EarlierOrder,
  as: Belonging['as'],
): Promise<Result<{ readonly key: string }>> {
  const found = await earlierOrder(shop, asked)
  if (!found.ok) return found
  const { book, commission } = found.value
  const draft: Draft = {
    customer: commission.customer,
    takenWhere: commission.takenWhere,
    pieces: as === 'again' ? piecesAgain(book, shop.almanac.shop.units) : [workOn(book, commission, as)],
    home: ALMANAC_HOME,
    again: commission.id,
    againAs: as,
    ...{
      neededBy: '',
      neededWhy: '',
      notes: as === 'again' ? commission.notes : '',
      price: '',
      deposit: '',
      depositHow: '',
    },
  }
  const key = randomUUID()
  await saveDraft(shop.db, { id: draftName(key), content: draft }, shop.nowMs)
  return ok({ key })
}

async function earlierOrder(
  shop: OpenShop,
  asked: EarlierOrder,
): Promise<Result<{ readonly book: Book; readonly commission: Commission }>> {
  const id = 'id' in asked ? asked.id : await commissionIdByNumber(shop.db, asked.number)
  const book = id === null ? null : await bookOfCommission(shop.db, id)
  const [commission] = book?.commissions ?? []
  if (book !== null && commission !== undefined) return ok({ book, commission })
  return 'number' in asked
    ? failed(problem('unknown-number', `No order no. ${asked.number} in the book.`, 'number'))
    : failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
}

/** Of several pieces the one speaks for the work that takes most care. */
const usesByCare = ['child', 'chopping', 'food'] as const

/** One step of the maker's own to begin with, an hour until it is known better, named after what it is done to. */
const workOn = ({ pieces }: Book, { number }: Commission, as: 'repair' | 'complaint'): DraftPiece => ({
  construction: freeList.id,
  input: {
    ...freeList.starting('inch'),
    isFor: usesByCare.find((use) => pieces.some((piece) => useOf(piece) === use)) ?? '',
    rows: [rowText({ name: as === 'repair' ? 'Repair it' : 'Look it over and fix it', minutes: '60 min' })],
    title:
      `${as === 'repair' ? 'Repair' : 'Complaint'}, no. ${number}: ${pieces.map(({ title }) => title).join(', ')}`.slice(
        0,
        80,
      ),
  },
  count: '1',
})

const piecesAgain = ({ pieces }: Book, units: OpenShop['almanac']['shop']['units']): DraftPiece[] =>
  pieces.flatMap((piece) => {
    const input = typedSpec(piece, units)
    return input === null ? [] : [{ construction: piece.construction, input, count: String(piece.count) }]
  })

/** What the log says of how long its steps took. */
function timesOf({ steps, log }: Book, moment: Moment) {
  const progress = progressOf(log)
  const works = workAt(log)
  // What is still to do of an open order has its place in the plan.
  const setUpOf = (step: BookStep): number =>
    moment.step(step.id) === undefined ? setUpWorked(step, works.get(step.id) ?? NO_WORK) : setUpMinutes(step, moment)
  const lostMin = sum(log.map(({ action }) => (action.kind === 'failed' ? (action.lostMin ?? 0) : 0)))
  const sums = { stepsDone: 0, stepsTotal: steps.length, workedMin: 0, estimatedMin: 0, lostMin, stepsUntimed: 0 }
  let lastAt: number | null = null
  for (const step of steps) {
    const how = progress.get(step.id)
    if (how?.kind !== 'done') continue
    sums.stepsDone += 1
    lastAt = Math.max(lastAt ?? 0, how.endedAt)
    if (how.workedMin < 1) sums.stepsUntimed += 1
    else {
      sums.workedMin += how.workedMin
      sums.estimatedMin += step.minutes + setUpOf(step)
    }
  }
  return {
    sums: { ...sums, lastAt },
    asTaken: (step: BookStep) => {
      const how = progress.get(step.id)
      if (how?.kind !== 'done' || how.workedMin < 1)
        return { ...step, setUp: step.setUp && { ...step.setUp, minutes: setUpOf(step) } }
      const minutes = Math.round(how.workedMin)
      return { minutes, optimisticMin: minutes, pessimisticMin: minutes, setUp: null }
    },
  }
}

import { minutesOver, setUpWorked } from '../../core/book/work-done.ts'
import { untimedWords } from '../untimed-words.ts'
import { tenthsOfPromises, type TenthOfPromises, type JudgedPromise } from '../../core/tally/kept-promises.ts'
import { entriesOf } from '../../db/log.ts'
import type { HandedOver } from '../../db/finished-orders.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import { type NewestWork, whileOver } from '../learning/newest-work.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { durationWords } from '../../core/time/duration.ts'
import { judgedOf, ownRecordOf, type OwnRecord } from './judged-promises.ts'

/** How many promises came true. */
export interface PromisesJudged {
  /** By stated chance, the surest first; the newest of each. */
  readonly tenths: readonly TenthOfPromises[]
  readonly judged: number
  readonly kept: number
  /** Judged, but given without a chance: in no tenth. */
  readonly withoutChance: number
  /** Judged, and moved to a later day by the maker before. */
  readonly movedByMaker: number
  /** What came true of them, as new dates count it; null: the maker does not want it to count. */
  readonly record: OwnRecord | null
}

/** A promise that was not kept, with what is known of the reason. */
export interface LateOrder {
  readonly commissionId: string
  readonly number: number
  readonly customer: string
  readonly promisedFor: string
  /** Null: work is left. */
  readonly finishedOn: string | null
  /** So far, where work is left. */
  readonly daysLate: number
  readonly why: readonly string[]
}

const LATE_SHOWN = 20

/** Every promise of the shop that came true or did not, and the late ones with their reasons. */
export async function promisesOfShop(
  shop: OpenShop,
  handedOver: readonly HandedOver[],
  newest: NewestWork,
): Promise<{ readonly judged: PromisesJudged; readonly late: readonly LateOrder[] }> {
  const moment = shop.moment()
  const judged = await judgedOf(shop, handedOver, newest)
  const notKept = judged
    .filter(({ kept }) => !kept)
    .sort((a, b) => b.day.localeCompare(a.day))
    .slice(0, LATE_SHOWN)
  const ids = notKept.map(({ commissionId }) => commissionId)
  const names = namesOf(ids, handedOver, moment)
  const heldOf = await keptUntilMore(shop, 'why on hold', [ids.join()], () => whyOnHold(shop, ids))
  const overOf = whileOver(newest.over, 'minutes over', [], () => minutesOverEstimates(newest))
  const late = notKept.map((promise) => ({
    ...(names.get(promise.commissionId) ?? { number: 0, customer: '' }),
    commissionId: promise.commissionId,
    promisedFor: promise.day,
    finishedOn: promise.finishedOn,
    daysLate: promise.daysLate,
    why: whyLate(promise, heldOf.get(promise.commissionId) ?? [], overOf.get(promise.commissionId) ?? NOT_OVER),
  }))
  return {
    judged: {
      tenths: tenthsOfPromises(judged),
      judged: judged.length,
      kept: judged.filter(({ kept }) => kept).length,
      withoutChance: judged.filter(({ stated }) => stated === null).length,
      movedByMaker: judged.filter(({ movedByMaker }) => movedByMaker > 0).length,
      record: shop.almanac.countRecord === 'no' ? null : ownRecordOf(judged),
    },
    late,
  }
}

/** Of these orders alone: after years there are thousands. */
function namesOf(commissionIds: readonly string[], handedOver: readonly HandedOver[], { book }: Moment) {
  const asked = new Set(commissionIds)
  return new Map([
    ...handedOver
      .filter(({ commissionId }) => asked.has(commissionId))
      .map(({ commissionId, number, customer }) => [commissionId, { number, customer }] as const),
    ...book.commissions.map(({ id, number, customer }) => [id, { number, customer: customer.name }] as const),
  ])
}

/** Minutes over the estimates that are worth telling. */
const LEAST_OVER_MIN = 30

/** What was written down when it was moved or put on hold, and how far its own steps ran over. */
const whyLate = ({ why }: JudgedPromise, held: readonly string[], over: Over): string[] => [
  ...why,
  ...held.map((reason) => `On hold: ${reason}`),
  ...(over.minutes < LEAST_OVER_MIN
    ? []
    : [`Its steps ran ${durationWords(over.minutes)} over${untimedWords(over.untimed)}`]),
]

/** The reasons for which each of these orders was put on hold. */
async function whyOnHold({ db }: OpenShop, ids: readonly string[]): Promise<ReadonlyMap<string, readonly string[]>> {
  const held = new Map<string, readonly string[]>()
  for (const id of new Set(ids))
    held.set(
      id,
      (await entriesOf(db, id)).flatMap((entry) =>
        entry.action === 'commission-held' && entry.counts && entry.event.kind === 'rows'
          ? entry.event.changes
              .flatMap(({ after }) => after?.['on_hold_why'] ?? '')
              .flatMap((reason) => (reason === '' ? [] : [String(reason)]))
          : [],
      ),
    )
  return held
}

/** By how much steps took longer than they were estimated, and how many were done without a time and are not counted. */
interface Over {
  readonly minutes: number
  readonly untimed: number
}

const NOT_OVER: Over = { minutes: 0, untimed: 0 }

/** By how much the done steps of each order ran over, each with the setup that was in its work. */
function minutesOverEstimates(newest: NewestWork): ReadonlyMap<string, Over> {
  const over = new Map<string, Over>()
  for (const { step, work } of newest.all()) {
    if (work.done === null) continue
    const sum = over.get(step.commissionId) ?? NOT_OVER
    const worked = minutesOver(work)
    over.set(
      step.commissionId,
      worked < 1
        ? { ...sum, untimed: sum.untimed + 1 }
        : { ...sum, minutes: sum.minutes + worked - step.minutes - setUpWorked(step, work) },
    )
  }
  return over
}

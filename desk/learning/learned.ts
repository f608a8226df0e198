import { standardTimesOf } from '../../core/almanac/standard-times.ts'
import { minutesBy } from '../../core/almanac/times-in-use.ts'
import {
  attendanceFrom,
  estimateTimes,
  observe,
  andStarted,
  pressesOf,
  mishapsFrom,
  ordersPerWeek,
  type AttendanceModel,
  type Evenings,
  type MishapModel,
  type Observed,
  type TimesModel,
} from '../../core/learning/index.ts'
import { NO_WORK, type StepWork } from '../../core/book/work-done.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { takenAt } from '../../db/commissions.ts'
import { hoursHeld, type HoursHeld } from '../../db/hours-held.ts'
import { failuresLogged, gluedAndLots } from '../../db/work-logged.ts'
import { keptUntilMore } from '../kept-until-more.ts'
import type { OpenShop } from '../open-shop.ts'
import { workWaiting } from './work-waiting.ts'
import { type NewestWork, newestWork, whileOver } from './newest-work.ts'
import { inTurns, othersFirst } from '../others-first.ts'

/** Work of the shop as the log knows it. */
export interface SeenAtWork {
  readonly newest: NewestWork
  readonly observed: Observed
  readonly attendance: AttendanceModel
}

/** What the log of the shop teaches, as of now. */
export interface Learned extends SeenAtWork {
  readonly times: TimesModel
  readonly mishaps: MishapModel
  readonly ordersPerWeek: number
}

/**
 * Learns from the newest work in the log, orders that are closed included. Where the maker keeps the book's time for an operation, only what is
 * planned stays with the book: what is expected to happen does not.
 */
export async function learnedBy(shop: OpenShop): Promise<Learned> {
  const { almanac, now } = shop
  await othersFirst()
  const seen = await seenAtWork(shop)
  await othersFirst()
  const { observed } = seen
  const times = standardTimesOf(almanac)
  const timeOf = (operation: string) => times.get(operation)
  const said = almanac.times.asked.flatMap(({ operation, minutes, units }) => {
    const time = timeOf(operation)
    if (time === undefined) return []
    const standard = minutesBy({ minutes, units: { count: units, eachMin: time.perUnitMin } }, time)
    return [{ operation, y: Math.log(minutes / standard) }]
  })
  return {
    ...seen,
    times: await inTurns(
      estimateTimes({
        makers: almanac.makers.map(({ id }) => id),
        operations: [...times.values()].map(({ operation, optimisticFactor, pessimisticFactor }) => ({
          ...{ id: operation, optimisticFactor, pessimisticFactor },
        })),
        observations: observed.observations,
        said,
        now,
      }),
    ),
    mishaps: mishapsFrom(await mishapsOf(shop, seen)),
    ordersPerWeek: ordersPerWeek(await takenAt(shop.db), now),
  }
}

/** The same work as it was, without what it teaches of times, mishaps and orders to come: for what only tells of it. */
export async function seenAtWork(shop: OpenShop): Promise<SeenAtWork> {
  const { almanac, now } = shop
  const newest = await newestWork(shop)
  const times = standardTimesOf(almanac)
  const observed = whileOver(newest.over, 'observed', [almanac], () =>
    observe(newest.steps(), newest.entries(), (id) => times.get(id), almanac.times, almanac.shop.timeZone),
  )
  await othersFirst()
  const waiting = await workWaiting(shop, newest)
  const held = await hoursOfShopHeld(shop)
  return { newest, observed, attendance: attendanceFrom(eveningsOf(shop, newest, held), waiting, now) }
}

/** When the hours of each maker were what they are; whose never changed is not in it. */
export const hoursOfShopHeld = (shop: OpenShop): Promise<HoursHeld> =>
  keptUntilMore(shop, 'hours held', [], () => hoursHeld(shop.db, shop.starting.makers))

/** Glue-ups and lots that were worked on, and those of them that failed. */
async function mishapsOf({ db }: OpenShop, { newest }: SeenAtWork) {
  const all = newest.all()
  const begun = new Map(all.flatMap(({ step, work }) => (work === NO_WORK ? [] : [[step.id, work] as const])))
  const { glueUps, lotOf } = await gluedAndLots(
    db,
    all.map(({ step }) => step.id),
    othersFirst,
  )
  const failures = (await failuresLogged(db)).filter(({ stepId }) => begun.has(stepId))
  const failedAt = new Set(failures.filter(({ reason }) => reason === 'glue-up').map(({ stepId }) => stepId))
  const lotsOf = (stepIds: readonly string[]) => new Set(stepIds.map((stepId) => lotOf.get(stepId) ?? stepId)).size
  const cracked = failures.filter(({ reason }) => reason === 'crack').map(({ stepId }) => stepId)
  const held = [...begun].filter(([id, { done }]) => done !== null && glueUps.has(id) && !failedAt.has(id)).length
  return {
    gluedUp: { held, failed: failedAt.size },
    lots: { begun: lotsOf([...begun.keys()]), cracked: lotsOf(cracked) },
  }
}

function eveningsOf({ almanac, now }: OpenShop, newest: NewestWork, held: HoursHeld): Evenings[] {
  const { over } = newest
  const running = newest.running().flatMap(({ work }) => work.running ?? [])
  const { first, byMaker } = whileOver(over, 'presses', [], () => pressesOver(newest.all().map(({ work }) => work)))
  const from = running.reduce((least, { since }) => Math.min(least, since), Math.min(first, now))
  return almanac.makers.map((maker) => {
    const isOwn = (makerId: string | null): boolean =>
      makerId === maker.id || (makerId === null && almanac.makers.length === 1)
    const presses = whileOver(over, `presses of ${maker.id}`, [almanac], () =>
      pressesOf([...byMaker].flatMap(([makerId, own]) => (isOwn(makerId) ? own : []))),
    )
    return {
      id: maker.id,
      attendance: maker.attendance,
      hoursHeld: held.get(maker.id) ?? null,
      sessions: workingHours(almanac.shop.timeZone, maker, almanac.specialDays, from, now),
      presses: andStarted(
        presses,
        running.flatMap(({ since, makerId }) => (isOwn(makerId) ? [since] : [])),
      ),
    }
  })
}

type Press = Parameters<typeof pressesOf>[0][number] & { readonly makerId: string | null }

/** When somebody was at work for sure: stretches of work that are over, as they are taken to have been, each with its begin and its end. */
function pressesOver(works: readonly StepWork[]): {
  readonly first: number
  readonly byMaker: ReadonlyMap<string | null, readonly Press[]>
} {
  const presses = works.flatMap(({ stretches, done }): Press[] => [
    ...stretches.flatMap(({ from, to, makerId }): Press[] => [
      { atMin: from, makerId, action: { kind: 'started' } },
      { atMin: to, makerId, action: { kind: to === done?.at ? 'done' : 'paused' } },
    ]),
    ...(done === null ? [] : [{ atMin: done.at, makerId: done.makerId, action: { kind: 'done' } } as const]),
  ])
  return {
    first: presses.reduce((least, { atMin }) => Math.min(least, atMin), Infinity),
    byMaker: Map.groupBy(presses, ({ makerId }) => makerId),
  }
}

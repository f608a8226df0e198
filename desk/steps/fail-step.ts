import { randomUUID } from 'node:crypto'
import type { StepAction } from '../../core/book/book.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import { FAILURE_WORDS, type FailureReason } from '../../core/book/failure-reasons.ts'
import { remake, type Remade } from '../../core/book/remake.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import type { LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { dayToSay } from '../orders/promise-of-quote.ts'
import { sayChance, tenthsOf } from '../../core/book/chance.ts'
import { writeMoney } from '../../core/money/money.ts'
import { chanceBy } from '../../core/planning/index.ts'
import { partsCutOfLot } from '../../db/boards.ts'
import { changeCommission } from '../../db/commissions.ts'
import type { Db } from '../../db/schema.ts'
import { logStep } from '../../db/steps.ts'
import { cutLotKey } from '../../core/timber/wood-taken.ts'
import { builtAt } from '../built-at.ts'
import { lotBuild } from '../lot-build.ts'
import { woodNeeded } from '../lumber/wood-needed.ts'
import type { Lot, Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { dateOf, outlookOf } from '../screens/outlook.ts'
import { durationWords } from '../../core/time/duration.ts'
import type { Moved, NewDay } from '../moved.ts'

/** Something failed at a step: how many of its pieces, why, and from which step they are made again. */
export interface SaidFailure {
  readonly stepId: string
  readonly count: number
  readonly fromStepId: string
  readonly reason: FailureReason
  readonly note: string
  /** It was said so many minutes ago, on a phone that was away from the desk. */
  readonly minutesAgo: number
}

/**
 * Writes a failure down and puts the work that it makes beside the old: one act, which one press takes back. The hours spent stay
 * counted. What it makes of the promise is said as a chance, and the day that would be quoted now where that is later.
 */
export async function failStep(shop: OpenShop, said: SaidFailure): Promise<Result<Moved>> {
  const moment = shop.moment()
  const [step, lot] = [moment.step(said.stepId), moment.lotOf(said.stepId)]
  if (step === undefined || lot === undefined)
    return failed(problem('unknown-step', 'This step is not in the book any more. Open the order again.', 'stepId'))
  if (lot.commission.standing !== 'agreed')
    return failed(problem('not-agreed', `No. ${lot.commission.number} is closed: nothing is made again.`, 'stepId'))
  const made = remakeOf(moment, lot, said)
  if (!made.ok) return made
  const remade = made.value
  const wood = woodLost(moment, lot, said)
  const action: StepAction = {
    kind: 'failed',
    ...{ reason: said.reason, count: said.count, fromStepId: said.fromStepId, woodMinor: wood.minor },
    lostMin: minutesLost(remade, moment, said),
  }
  const atMs = shop.nowMs - said.minutesAgo * 60_000
  const stamp = { atMs, makerId: null, ...(said.minutesAgo > 0 ? { pressedAtMs: shop.nowMs } : {}) }
  const { chance: was } = outlookOf(lot.commission, moment)
  const write = (db: Db) =>
    db.transaction().execute(async (trx) => {
      const written = await logStep(trx, step.id, action, stamp, { note: said.note.trim() })
      if (!written.ok) return written
      const act = written.value
      for (const { id, sinceMs } of endedBy(remade, moment)) {
        const ended = await logStep(trx, id, { kind: 'done' }, { ...stamp, atMs: Math.max(atMs, sinceMs) }, { act })
        if (!ended.ok) throw new Error('A step of the book is not in the store.')
      }
      const cut = wood.isLost && said.count === step.lotCount ? await partsCutOfLot(trx, lot.piece.id, lot.lot) : []
      const changed = await changeCommission(
        trx,
        lot.commission.id,
        'pieces-again',
        (order) => ({
          ...order,
          steps: [...order.steps.filter(({ pieceId }) => pieceId !== lot.piece.id), ...remade.steps],
          lags: [...order.lags.filter(({ pieceId }) => pieceId !== lot.piece.id), ...remade.lags],
        }),
        stamp,
        null,
        { act, partsLost: cut },
      )
      return changed.ok ? ok(`Failed: ${step.name.toLowerCase()} of ${lot.label.title}.`) : changed
    })
  const moved = await shop.change(write, 'planned', lot.commission.id)
  if (!moved.ok) return moved
  const costs = whatItCosts(shop, lot, remade, said)
  const lost =
    wood.minor === null || wood.minor === 0
      ? undefined
      : `Wood lost: ${writeMoney(wood.minor, shop.almanac.shop.currency, shop.locale)}.`
  const now = await dayNow(shop, lot, was)
  return ok({
    ...moved.value,
    said: [moved.value.said, ...costs, ...now.lines].join(' '),
    sums: lost,
    ...(now.later === null ? {} : { newDay: { ...now.later, why: whyAnotherDay(step.name, said) } }),
  })
}

interface DayNow {
  readonly lines: readonly string[]
  /** The day that would be quoted, where it is after the promised one. */
  readonly later: Omit<NewDay, 'why'> | null
}

/**
 * What can be told to the customer now: the chance of the promised day, and the day that would be quoted.
 * @param was the chance before it failed; null: none was known
 */
async function dayNow(shop: OpenShop, { commission }: Lot, was: number | null): Promise<DayNow> {
  const odds = await shop.oddsOf(commission.id)
  const moment = shop.moment()
  const { doneAt } = dateOf(commission, moment)
  const { promisedFor } = commission
  if (odds === null || doneAt === null || promisedFor === null) return { lines: [], later: null }
  const chanceOf = (of: LocalDay) => chanceBy(odds, moment.setting.endOfDay(of))
  const day = dayToSay({ doneAt, odds }, moment.almanac.shop.timeZone)
  const word = writeLocalDay(day, shop.locale)
  const chance = chanceOf(promisedFor)
  const before = was === null || tenthsOf(was) === tenthsOf(chance) ? '' : `, was ${sayChance(was)}`
  const promised = `Promised ${writeLocalDay(promisedFor, shop.locale)}: ${sayChance(chance)} now${before}.`
  return day <= promisedFor
    ? { lines: [promised], later: null }
    : { lines: [promised, `${word}: ${sayChance(chanceOf(day))}.`], later: { commissionId: commission.id, day, word } }
}

/** "Glue the shelf failed (glue-up): ran out of open time" */
function whyAnotherDay(step: string, { reason, note }: SaidFailure): string {
  const said = note.trim()
  return `${step} failed (${FAILURE_WORDS[reason].toLowerCase()})${said === '' ? '' : `: ${said}`}`
}

/** What a failure would make of the work, as it stands. */
function remakeOf(moment: Moment, lot: Lot, said: SaidFailure): Result<Remade> {
  const steps = moment.book.steps.filter(({ pieceId }) => pieceId === lot.piece.id)
  const lags = moment.book.lags.filter(({ pieceId }) => pieceId === lot.piece.id)
  const progress = new Map(steps.map(({ id }) => [id, moment.progress(id)]))
  return remake({ steps, lags }, said, {
    progress,
    newId: randomUUID,
    networkOf: (count) => {
      const build = lotBuild(lot.piece, count, moment.almanac, builtAt(lot.steps, moment), lot.commission.home)
      return build?.ok ? build.value.steps : null
    },
  })
}

/**
 * Wood is lost where they are made again from rough stock: from a step that follows no other. It cost what the boards of the lot cost,
 * where they had a price, else what new stock would.
 */
function woodLost(
  moment: Moment,
  lot: Lot,
  said: SaidFailure,
): { readonly isLost: boolean; readonly minor: number | null } {
  const isLost = moment.lagsTo(said.fromStepId).length === 0
  if (!isLost) return { isLost, minor: 0 }
  const paid = moment.stock.taken.byLot.get(cutLotKey(lot.piece.id, lot.lot))
  if (paid !== undefined) return { isLost, minor: Math.round((paid * said.count) / lot.label.count) }
  const build = lotBuild(lot.piece, said.count, moment.almanac, builtAt(lot.steps, moment), lot.commission.home)
  const needed = build?.ok ? woodNeeded(build.value.parts, moment) : null
  return { isLost, minor: needed === null || needed.unpriced.length > 0 ? null : needed.costMinor }
}

/** Hands-on minutes of the pieces that are made again: their part of what was worked on the steps that they repeat. */
const minutesLost = ({ repeated }: Remade, moment: Moment, { count, minutesAgo }: SaidFailure): number =>
  Math.round(
    repeated.reduce((sum, id) => {
      const pieces = moment.step(id)?.lotCount ?? count
      return sum + (Math.max(0, workedMinutes(moment.progress(id), moment.now - minutesAgo)) * count) / pieces
    }, 0),
  )

/** What was in hand of a lot that is lost ends with it. */
const endedBy = ({ lost }: Remade, moment: Moment): { readonly id: string; readonly sinceMs: number }[] =>
  lost.flatMap((id) => {
    const progress = moment.progress(id)
    if (progress.kind === 'running') return [{ id, sinceMs: progress.since * 60_000 }]
    return progress.kind === 'paused' ? [{ id, sinceMs: 0 }] : []
  })

function whatItCosts(shop: OpenShop, lot: Lot, remade: Remade, said: SaidFailure): string[] {
  const moment = shop.moment()
  const minutes = remade.again.reduce((sum, id) => sum + (moment.step(id)?.minutes ?? 0), 0)
  const join = remade.joinsAt === null ? null : moment.step(remade.joinsAt)
  return [
    `${said.count === lot.label.count ? 'To do again' : `${said.count} of ${lot.label.count} again`}: ${durationWords(minutes)}.`,
    ...(join ? [`${said.count === 1 ? 'It joins' : 'They join'} the others at ${join.name.toLowerCase()}.`] : []),
  ]
}

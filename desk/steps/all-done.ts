import { isThroughTheNight } from '../../core/book/left-running.ts'
import type { BookStep, StepAction } from '../../core/book/book.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { daysLater, startOfLocalDay, type LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { logStep } from '../../db/steps.ts'
import type { Moment } from '../moment.ts'
import type { Moved } from '../moved.ts'
import type { OpenShop } from '../open-shop.ts'

/**
 * Work that was finished without a press: every step of the order that is left is written down as done on `day`, as one act, which one
 * press takes back. How long it took nobody knows, so nothing is learned from it.
 * Problems: `unknown-commission`, `not-agreed`, `nothing-left`, `day` (to come, or before work that is logged).
 */
export async function allDone(
  shop: OpenShop,
  { id, day }: { readonly id: string; readonly day: LocalDay },
): Promise<Result<Moved>> {
  const moment = shop.moment()
  const commission = moment.book.commissions.find((each) => each.id === id)
  if (commission === undefined) return failed(problem('unknown-commission', 'This order is not in the book.', 'id'))
  const { number, standing } = commission
  if (standing !== 'agreed')
    return failed(problem('not-agreed', `No. ${number} is not in work: take the order first.`, 'id'))
  const left = moment.stepsOf(id).filter((step) => step.lost !== true && moment.progress(step.id).kind !== 'done')
  if (left.length === 0) return failed(problem('nothing-left', `No. ${number} is done already.`, 'id'))
  const atMin = day === moment.today ? moment.now : startOfLocalDay(daysLater(day, 1), shop.almanac.shop.timeZone) - 1
  const against = objection(id, day, atMin, moment)
  if (against !== null) return failed(against)
  const stamp = { atMs: atMin * 60_000, pressedAtMs: shop.nowMs, makerId: null }
  return shop.change((db) =>
    db.transaction().execute(async (trx) => {
      let act: number | undefined
      for (const step of left) {
        const logged = await logStep(trx, step.id, doneBy(step, atMin, moment), stamp, { act })
        if (!logged.ok) throw new Error('A step of the book is not in the store.')
        act ??= logged.value
      }
      const steps = left.length === 1 ? '1 step' : `${left.length} steps`
      return ok(`All done: No. ${number}, ${commission.customer.name}. ${steps} entered.`)
    }),
  )
}

function objection(id: string, day: LocalDay, atMin: number, moment: Moment): Problem | null {
  if (day > moment.today) return problem('day', 'That day is still to come. Type like Nov 12.', 'day')
  const last = Math.max(0, ...moment.stepsOf(id).map((step) => lastWork(step, moment)))
  if (last <= atMin) return null
  const { locale } = moment.wording
  return problem('day', `Work is logged after ${writeLocalDay(day, locale)}. Pick a later day.`, 'day')
}

/** The newest instant of work at a step that is logged. */
function lastWork(step: BookStep, moment: Moment): number {
  const { stretches, running, done } = moment.work(step.id)
  return Math.max(0, ...stretches.map(({ to }) => to), running?.since ?? 0, done?.at ?? 0)
}

/** What was worked stays; what is in hand since before the night ended nobody knows when. */
function doneBy(step: BookStep, atMin: number, moment: Moment): StepAction {
  const { stretches, running } = moment.work(step.id)
  const ended = stretches.map(({ from, to, makerId }) => ({ fromMin: from, toMin: to, makerId }))
  const isSure = running !== null && !isThroughTheNight(running.since, atMin, moment.almanac.shop.timeZone)
  const now =
    isSure && running.since < atMin ? [{ fromMin: running.since, toMin: atMin, makerId: running.makerId }] : []
  return { kind: 'put-right', why: 'entered', stretches: [...ended, ...now], runningSinceMin: null, doneAtMin: atMin }
}

import { capital } from '../capital.ts'
import type { BookLag, BookStep, Commission } from './book.ts'
import { type Carrying, staysOf } from './carrying.ts'
import { untouched, type StepProgress } from './step-progress.ts'
import { endOfWait, foundReadyAt } from './wait-over.ts'
import type { PlanningSetting } from './planning-setting.ts'
import { productsPutOn } from './products-put-on.ts'

/** Why the steps of a commission on hold with no end have no date. */
export const onHoldForGood = 'On hold, nobody knows until when.'

/** Steps that no plan can date: on hold with no end, or downstream of a wait on a clock that stands still for good. */
export function undatedSteps(
  steps: readonly BookStep[],
  lags: readonly BookLag[],
  commissions: ReadonlyMap<string, Commission>,
  progress: ReadonlyMap<string, StepProgress>,
  setting: PlanningSetting,
  carrying: Carrying,
): Map<string, string> {
  const undated = new Map<string, string>()
  for (const step of steps) {
    const commission = commissions.get(step.commissionId)
    if (commission?.onHoldUntil === 'open-end' && (progress.get(step.id) ?? untouched).kind === 'to-do') {
      undated.set(step.id, onHoldForGood)
    }
  }
  const putsOn = productsPutOn(steps, lags)
  const following = new Map<string, BookLag[]>()
  for (const lag of lags) following.set(lag.fromStep, [...(following.get(lag.fromStep) ?? []), lag])
  const spread = (stepId: string, why: string): void => {
    if (undated.has(stepId) || (progress.get(stepId) ?? untouched).kind !== 'to-do') return
    undated.set(stepId, why)
    for (const lag of following.get(stepId) ?? []) spread(lag.toStep, why)
  }
  for (const step of steps) {
    const supplies = setting.suppliesFor(step)
    if (supplies?.until === null) spread(step.id, `${supplies.why}.`)
    const application = setting.applicationOf(putsOn.get(step.id) ?? '', carrying.place.get(step.id)?.id ?? null)
    if (application !== null && !application.windows.some(({ to }) => to > setting.now))
      spread(step.id, application.help)
  }
  for (const lag of lags) {
    if (lag.product === null || lag.minMin <= 0) continue
    const before = progress.get(lag.fromStep)
    if (before?.kind === 'done' && foundReadyAt(before, lag) !== null) continue
    const start = before?.kind === 'done' ? before.endedAt : setting.now
    const clock = setting.clockOf(lag.product, lag.wait, staysOf(lag.fromStep, progress, carrying))
    if (endOfWait(start, lag.minMin, clock) === null) {
      spread(
        lag.toStep,
        `${capital(lag.name)} stands still: it does not cure in the shop's temperature and humidity. Warm the shop, or change them in the Almanac.`,
      )
    }
  }
  for (const [stepId, why] of [...undated]) for (const lag of following.get(stepId) ?? []) spread(lag.toStep, why)
  return undated
}

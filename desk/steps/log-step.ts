import { setUpPaid } from '../../core/book/set-up-paid.ts'
import { untouched } from '../../core/book/step-progress.ts'
import type { BookStep, StepAction } from '../../core/book/book.ts'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { logStep } from '../../db/steps.ts'
import { followOwnTimes } from '../learning/choose-times.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { hindranceOf } from '../screens/bench.ts'
import type { Moved } from '../views.ts'
import { writeMinutes } from '../words.ts'

export interface Press {
  readonly stepId: string
  readonly makerId: string | null
  /** It happened so many minutes ago: whoever forgot to press. */
  readonly minutesAgo?: number
  /** Although something speaks against it: what happened in the shop, happened. */
  readonly anyway?: boolean
}

/** Longest time ago that a press can be made up for: a week, for those who write it down on Saturday. */
export const longestAgoMin = 7 * 24 * 60

export const startStep = (shop: OpenShop, press: Press): Promise<Result<Moved>> =>
  pressStep(shop, press, startedAt(shop, press), 'Started', (step, moment) => {
    const { kind } = moment.progress(step.id)
    if (kind === 'running') return problem('already-running', `${step.name} is on the bench already.`)
    if (kind === 'done')
      return problem('already-done', `${step.name} is done already. Take that back first if it was a slip.`)
    const hindrance = kind === 'to-do' && !press.anyway ? hindranceOf(step, moment) : null
    return hindrance?.blocks ? problem('not-yet', `${step.name} cannot be started yet. ${hindrance.text}`) : null
  })

export const pauseStep = (shop: OpenShop, press: Press): Promise<Result<Moved>> =>
  pressStep(shop, press, { kind: 'paused' }, 'Paused', (step, moment) =>
    moment.progress(step.id).kind === 'running' ? null : problem('not-running', `${step.name} is not on the bench.`),
  )

/** Own times are taken on before the press, so that undo takes back the press. */
export const finishStep = async (shop: OpenShop, press: Press): Promise<Result<Moved>> => {
  await followOwnTimes(shop)
  return pressStep(shop, press, { kind: 'done' }, 'Done', (step, moment) => {
    const progress = moment.progress(step.id)
    if (progress.kind === 'done') return problem('already-done', `${step.name} is done already.`)
    const hindrance = progress.kind === 'to-do' && !press.anyway ? hindranceOf(step, moment) : null
    return hindrance?.blocks ? problem('not-yet', `${step.name} cannot be done yet. ${hindrance.text}`) : null
  })
}

/** The start with the set-up that it pays. */
function startedAt(shop: OpenShop, { stepId, makerId, minutesAgo = 0 }: Press): StepAction {
  const moment = shop.moment()
  const step = moment.step(stepId)
  if (!step?.setUp || moment.progress(stepId).kind !== 'to-do') return { kind: 'started', setUpMin: 0 }
  const at = shop.now - minutesAgo
  return { kind: 'started', setUpMin: setUpPaid(step, at, makerId ?? onlyMaker(shop), moment.book, moment.setting) }
}

/** Looked at and not dry: what follows waits so many minutes from now. */
export function pushBack(shop: OpenShop, stepId: string, minutes: number): Promise<Result<Moved>> {
  const untilMin = shop.now + minutes
  return pressStep(
    shop,
    { stepId, makerId: null },
    { kind: 'still-tacky', untilMin },
    `Still tacky, looked at again in ${writeMinutes(minutes)}`,
    (step, moment) =>
      moment.progress(step.id).kind === 'to-do'
        ? null
        : problem('already-begun', `${step.name} has been begun, there is nothing to wait for.`),
  )
}

export const pinStep = (shop: OpenShop, stepId: string, day: string | null): Promise<Result<Moved>> =>
  pressStep(
    shop,
    { stepId, makerId: null },
    { kind: 'pinned', day },
    day === null ? 'No day asked for' : `Wanted on ${day}`,
    (step, moment) =>
      moment.progress(step.id).kind === 'to-do' ? null : problem('already-begun', `${step.name} has been begun.`),
  )

async function pressStep(
  shop: OpenShop,
  press: Press,
  action: StepAction,
  word: string,
  objection: (step: BookStep, moment: Moment) => ReturnType<typeof problem> | null,
): Promise<Result<Moved>> {
  const moment = shop.moment()
  const step = moment.step(press.stepId)
  const lot = moment.lotOf(press.stepId)
  if (!step || !lot)
    return failed(problem('unknown-step', 'This step is not in the book any more. Look at the commission again.'))
  if (lot.commission.standing !== 'agreed') {
    return failed(problem('not-agreed', `No. ${lot.commission.number} is not agreed: agree it before working on it.`))
  }
  const against = objection(step, moment)
  if (against) return failed(against)
  const atMs = shop.nowMs - (press.minutesAgo ?? 0) * 60_000
  const progress = moment.progress(step.id)
  if (progress.kind === 'running' && atMs < progress.since * 60_000) {
    return failed(
      problem('before-start', `${step.name} was started later than that. Say a shorter time ago.`, 'minutesAgo'),
    )
  }
  const makerId =
    press.makerId ?? (progress !== untouched && 'makerId' in progress ? progress.makerId : null) ?? onlyMaker(shop)
  return shop.change(async (db) => {
    const logged = await logStep(db, step.id, action, {
      ...{ atMs, makerId },
      ...(press.minutesAgo ? { pressedAtMs: shop.nowMs } : {}),
    })
    return logged.ok ? ok(`${word}: ${step.name.toLowerCase()} of ${lot.label.title}.`) : logged
  })
}

const onlyMaker = (shop: OpenShop): string | null =>
  shop.almanac.makers.length === 1 ? (shop.almanac.makers[0]?.id ?? null) : null

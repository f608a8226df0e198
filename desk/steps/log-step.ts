import { isLeftRunning, isThroughTheNight } from '../../core/book/left-running.ts'
import { setUpPaid } from '../../core/book/set-up-paid.ts'
import { untouched } from '../../core/book/step-progress.ts'
import type { BookStep, StepAction } from '../../core/book/book.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { writeDay } from '../../core/time/write-instant.ts'
import { logStep } from '../../db/steps.ts'
import { writingBefore } from '../../db/written-from.ts'
import { followOwnTimes } from '../learning/choose-times.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { isBegunAhead, workUpToNow } from './begun-ahead.ts'
import type { Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { remedyLogged } from './remedy-logged.ts'
import { hindranceOf } from '../screens/hindrance.ts'
import { durationWords } from '../../core/time/duration.ts'
import type { Moved } from '../moved.ts'

export interface Press {
  readonly stepId: string
  readonly makerId: string | null
  /** It happened so many minutes ago: whoever forgot to press. */
  readonly minutesAgo?: number
  /** How long it took, where nobody pressed Start, or did while the clock was ahead; null: nobody knows. */
  readonly workedMin?: number | null | undefined
  /** Although something speaks against it: what happened in the shop, happened. */
  readonly anyway?: boolean
}

/** Longest time ago that a press can be made up for: a year, for a step that was left running and found again. */
export const longestAgoMin = 366 * 24 * 60

export const startStep = (shop: OpenShop, press: Press): Promise<Result<Moved>> =>
  pressStep(shop, press, startedAt(shop, press), 'Started', (step, moment) => {
    const { kind } = moment.progress(step.id)
    const left = leftByMaker(moment, press.makerId)
    if (left !== undefined) return untilWhen(left, moment)
    if (kind === 'running') return problem('already-running', `${step.name} is on the bench already.`)
    if (kind === 'done')
      return problem('already-done', `${step.name} is done already. Undo that first if it was a slip.`)
    const hindrance = kind === 'to-do' && !press.anyway ? hindranceOf(step, moment) : null
    return hindrance?.blocks ? problem('not-yet', `${step.name} cannot be started yet. ${hindrance.text}`) : null
  })

export const pauseStep = (shop: OpenShop, press: Press): Promise<Result<Moved>> =>
  pressStep(shop, press, { kind: 'paused' }, 'Paused', (step, moment) =>
    moment.progress(step.id).kind === 'running' ? null : problem('not-running', `${step.name} is not on the bench.`),
  )

/**
 * Own times are taken on before the press, so that undo takes back the press. Where the plan has the piece carried off to dry, it is
 * carried there with the same press.
 */
export const finishStep = async (shop: OpenShop, press: Press): Promise<Result<Moved>> => {
  await writingBefore(() => followOwnTimes(shop))
  return pressStep(shop, press, doneAfter(shop, press), 'Done', (step, moment) => {
    const progress = moment.progress(step.id)
    if (progress.kind === 'done') return problem('already-done', `${step.name} is done already.`)
    const hindrance = progress.kind === 'to-do' && !press.anyway ? hindranceOf(step, moment) : null
    return hindrance?.blocks ? problem('not-yet', `${step.name} cannot be done yet. ${hindrance.text}`) : null
  })
}

/** How long it took is asked only where nobody pressed Start; where its piece is carried to dry, the plan knows. */
function doneAfter(shop: OpenShop, { stepId, makerId, minutesAgo = 0, workedMin }: Press): StepAction {
  const moment = shop.moment()
  const step = moment.step(stepId)
  const to = moment.asked.carrying.place.get(stepId)?.id
  const at = shop.now - minutesAgo
  return {
    kind: 'done',
    ...(step !== undefined && moment.progress(stepId).kind === 'to-do' && workedMin
      ? {
          ...{ workedMin, setUpMin: setUpLogged(shop, step, makerId, at) },
          ...remedyLogged(step, at - workedMin, moment),
        }
      : {}),
    ...(to === undefined ? {} : { to }),
  }
}

/** What a maker left in hand before the last night: it is asked about before anything else is started. */
const leftByMaker = (moment: Moment, makerId: string | null): BookStep | undefined =>
  moment.book.steps.find((step) => {
    const progress = moment.progress(step.id)
    if (progress.kind !== 'running' || !isLeftRunning(progress, moment.now, moment.almanac.shop.timeZone)) return false
    return makerId === null || progress.makerId === null || progress.makerId === makerId
  })

function untilWhen(step: BookStep, moment: Moment): Problem {
  const progress = moment.progress(step.id)
  const since = progress.kind === 'running' ? ` on ${writeDay(progress.since, moment.wording)}` : ''
  return problem('until-when', `${step.name} was left running${since}. Say on the Bench until when.`, 'minutesAgo')
}

/** The start with the setup that it pays, and the remedy that it begins with. */
function startedAt(shop: OpenShop, { stepId, makerId, minutesAgo = 0 }: Press): StepAction {
  const moment = shop.moment()
  const step = moment.step(stepId)
  if (step === undefined || moment.progress(stepId).kind !== 'to-do') return { kind: 'started', setUpMin: 0 }
  const at = shop.now - minutesAgo
  const setUpMin = step.setUp ? setUpLogged(shop, step, makerId, at) : 0
  return { kind: 'started', setUpMin, ...remedyLogged(step, at, moment) }
}

/**
 * The setup in the work at a step that is logged for the first time.
 * @param at when it began; of work that is entered afterwards, when it ended: what was entered just before may run over the same time
 */
export const setUpLogged = (shop: OpenShop, step: BookStep, makerId: string | null, at: number): number =>
  setUpPaid(step, at, makerId ?? onlyMaker(shop), shop.book, shop.moment().setting)

/** Looked at and not dry: what follows waits so many minutes from now. */
export function pushBack(shop: OpenShop, stepId: string, minutes: number): Promise<Result<Moved>> {
  const untilMin = shop.now + minutes
  return pressStep(
    shop,
    { stepId, makerId: null },
    { kind: 'still-tacky', untilMin },
    `Still tacky, looked at again in ${durationWords(minutes)}`,
    (step, moment) =>
      moment.progress(step.id).kind === 'to-do'
        ? null
        : problem('already-begun', `${step.name} has been begun, there is nothing to wait for.`),
  )
}

/** Looked at and ready, before its time: what follows may start. Problem: `nothing-waits`. */
export function foundReady(shop: OpenShop, stepId: string): Promise<Result<Moved>> {
  const wait = shop
    .moment()
    .lotOf(stepId)
    ?.waits.find(({ to }) => to.id === stepId)
  if (wait === undefined || wait.lag.wait === 'in-clamps')
    return Promise.resolve(failed(problem('nothing-waits', 'Nothing waits there any more. Look at the Rack again.')))
  const { wait: kind, minMin } = wait.lag
  const action: StepAction = { kind: 'found-ready', afterStep: wait.from.id, wait: kind, minMin }
  return pressStep(shop, { stepId, makerId: null }, action, 'Found ready', (step, moment) =>
    moment.progress(step.id).kind === 'to-do'
      ? null
      : problem('already-begun', `${step.name} has been started. There is no wait left.`),
  )
}

export const pinStep = (shop: OpenShop, stepId: string, day: string | null): Promise<Result<Moved>> =>
  pressStep(
    shop,
    { stepId, makerId: null },
    { kind: 'pinned', day },
    day === null ? 'No day asked for' : `Set for ${writeLocalDay(day, shop.locale)}`,
    (step, moment) =>
      moment.progress(step.id).kind === 'to-do' ? null : problem('already-begun', `${step.name} has been begun.`),
  )

/** One press at a step: one entry in the log, unless something speaks against it. */
export async function pressStep(
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
    return failed(problem('unknown-step', 'This step is not in the book any more. Look at the order again.'))
  if (lot.commission.standing !== 'agreed') {
    return failed(
      problem('not-agreed', `No. ${lot.commission.number} is an inquiry: take the order before you work on it.`),
    )
  }
  const against = objection(step, moment)
  if (against) return failed(against)
  const atMs = shop.nowMs - (press.minutesAgo ?? 0) * 60_000
  const progress = moment.progress(step.id)
  const makerId =
    press.makerId ?? (progress !== untouched && 'makerId' in progress ? progress.makerId : null) ?? onlyMaker(shop)
  const write = (entry: StepAction, at: { readonly atMs: number; readonly pressedAtMs?: number }) =>
    shop.change(async (db) => {
      const logged = await logStep(db, step.id, entry, { ...at, makerId })
      return logged.ok ? ok(`${word}: ${step.name.toLowerCase()} of ${lot.label.title}.`) : logged
    }, 'kept')
  const ends = action.kind === 'paused' || action.kind === 'done'
  if (ends && isBegunAhead(step, moment)) {
    const really = workUpToNow(step, moment, action.kind === 'done', press.workedMin)
    return really.ok ? write(really.value, { atMs: shop.nowMs }) : really
  }
  if (progress.kind === 'running' && atMs < progress.since * 60_000) {
    return failed(
      problem('before-start', `${step.name} was started later than that. Say a shorter time ago.`, 'minutesAgo'),
    )
  }
  if (
    progress.kind === 'running' &&
    ends &&
    isThroughTheNight(progress.since, Math.floor(atMs / 60_000), moment.almanac.shop.timeZone)
  ) {
    return failed(untilWhen(step, moment))
  }
  return write(action, { atMs, ...(press.minutesAgo ? { pressedAtMs: shop.nowMs } : {}) })
}

const onlyMaker = (shop: OpenShop): string | null =>
  shop.almanac.makers.length === 1 ? (shop.almanac.makers[0]?.id ?? null) : null

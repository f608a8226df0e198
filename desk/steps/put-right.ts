import type { BookStep, LoggedStretch, PutRightWhy, StepAction } from '../../core/book/book.ts'
import { NO_WORK, type StepWork } from '../../core/book/work-done.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import { logStep } from '../../db/steps.ts'
import type { Lot, Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { setUpLogged } from './log-step.ts'
import { remedyLogged } from './remedy-logged.ts'
import { stillBefore } from './still-before.ts'
import { readWork, type TypedStretch } from './read-work.ts'
import type { Moved } from '../moved.ts'

/** All work at a step as somebody says it really was. */
export interface SaidWork {
  readonly stepId: string
  readonly stretches: readonly TypedStretch[]
  readonly isDone: boolean
}

/**
 * Puts the work at a step right, whatever was logged before: an evening that nobody pressed for, another start or end, a pause, another
 * maker. One entry more in the log, which one press takes back.
 */
export async function putRight(shop: OpenShop, said: SaidWork): Promise<Result<Moved>> {
  const moment = shop.moment()
  const found = stepToPutRight(moment, said.stepId, 'stepId')
  if (!found.ok) return found
  const { step, lot } = found.value
  const read = readWork(said.stretches, shop.now, moment.wording)
  if (!read.ok) return read
  const unknown = unknownMaker(said.stretches, moment)
  if (unknown !== null) return failed(unknown)
  const before = moment.work(step.id)
  const { stretches, runningSinceMin } = read.value
  if (said.isDone && runningSinceMin !== null)
    return failed(problem('end-missing', 'Done when? Say until when you worked, like 9 PM.', untilField(said)))
  const doneAtMin = said.isDone ? doneAt(stretches, before, shop.now) : null
  const atMin = runningSinceMin ?? doneAtMin ?? stretches.at(-1)?.toMin ?? shop.now
  const makerId = said.stretches.at(-1)?.makerId ?? null
  const action: StepAction = {
    kind: 'put-right',
    why: isMoreOf(stretches, before) ? 'entered' : 'corrected',
    ...{ stretches, runningSinceMin, doneAtMin },
    ...(before === NO_WORK
      ? {
          setUpMin: setUpLogged(shop, step, makerId, atMin),
          ...remedyLogged(step, stretches[0]?.fromMin ?? atMin, moment),
        }
      : {}),
  }
  return shop.change(async (db) => {
    const logged = await logStep(db, step.id, action, { atMs: atMin * 60_000, makerId, pressedAtMs: shop.nowMs })
    if (!logged.ok) return logged
    const open = before.done === null && doneAtMin !== null ? stillBefore(step, moment) : []
    const first = open.length === 0 ? '' : ` Not done before it: ${open.join(', ').toLowerCase()}.`
    return ok(`${WORDS[action.why]}: ${step.name.toLowerCase()} of ${lot.label.title}.${first}`)
  })
}

/** A press on the wrong line: all work at one step belongs to another, which had none. */
export async function moveWork(shop: OpenShop, stepId: string, toStepId: string): Promise<Result<Moved>> {
  const moment = shop.moment()
  const [from, to] = [stepToPutRight(moment, stepId, 'stepId'), stepToPutRight(moment, toStepId, 'toStepId')]
  if (!from.ok) return from
  if (!to.ok) return to
  const work = moment.work(stepId)
  if (moment.progress(stepId).kind === 'to-do')
    return failed(problem('no-work', `Nothing is logged at ${from.value.step.name.toLowerCase()}.`, 'stepId'))
  if (stepId === toStepId || moment.progress(toStepId).kind !== 'to-do')
    return failed(
      problem('has-work', `${to.value.step.name} has times of its own: choose a step without any.`, 'toStepId'),
    )
  const makerId = work.running?.makerId ?? work.done?.makerId ?? work.stretches.at(-1)?.makerId ?? null
  const last = work.running?.since ?? work.done?.at ?? work.stretches.at(-1)?.to ?? null
  const moved: StepAction = {
    kind: 'put-right',
    why: 'moved-here',
    stretches: work.stretches.map(({ from: fromMin, to: toMin, makerId }) => ({ fromMin, toMin, makerId })),
    runningSinceMin: work.running?.since ?? null,
    doneAtMin: work.done?.at ?? null,
    ...(last === null
      ? {}
      : {
          setUpMin: setUpLogged(shop, to.value.step, makerId, last),
          ...remedyLogged(to.value.step, work.stretches[0]?.from ?? last, moment),
        }),
  }
  const none: StepAction = {
    kind: 'put-right',
    why: 'wrong-step',
    stretches: [],
    runningSinceMin: null,
    doneAtMin: null,
  }
  const stamp = { atMs: shop.nowMs, makerId }
  return shop.change((db) =>
    db.transaction().execute(async (trx) => {
      const emptied = await logStep(trx, stepId, none, stamp)
      if (!emptied.ok) return emptied
      const filled = await logStep(trx, toStepId, moved, stamp, { act: emptied.value })
      if (!filled.ok) throw new Error('A step of the book is not in the store.')
      return ok(`Moved to ${to.value.step.name.toLowerCase()} of ${to.value.lot.label.title}.`)
    }),
  )
}

const WORDS: Readonly<Record<PutRightWhy, string>> = {
  entered: 'Entered',
  corrected: 'Times fixed',
  'wrong-step': 'Not this step',
  'moved-here': 'Moved here',
}

function stepToPutRight(
  moment: Moment,
  stepId: string,
  field: string,
): Result<{ readonly step: BookStep; readonly lot: Lot }> {
  const [step, lot] = [moment.step(stepId), moment.lotOf(stepId)]
  if (step === undefined || lot === undefined)
    return failed(problem('unknown-step', 'This step is not in the book any more. Open the order again.', field))
  return lot.commission.standing === 'agreed'
    ? ok({ step, lot })
    : failed(problem('not-agreed', `No. ${lot.commission.number} is not taken yet: take the order first.`, field))
}

function unknownMaker(stretches: readonly TypedStretch[], { almanac }: Moment): Problem | null {
  const at = stretches.findIndex(({ makerId }) => makerId !== null && !almanac.makers.some(({ id }) => id === makerId))
  return at === -1 ? null : problem('unknown-maker', 'Choose who worked from the list.', `stretches.${at}.makerId`)
}

/** Done with its last stretch; without any when it was said to be done before, or now. */
const doneAt = (stretches: readonly LoggedStretch[], before: StepWork, now: number): number =>
  stretches.reduce<number | null>((last, { toMin }) => Math.max(last ?? toMin, toMin), null) ?? before.done?.at ?? now

/** Whether it only adds to what was logged. */
const isMoreOf = (stretches: readonly LoggedStretch[], before: StepWork): boolean =>
  before.running === null &&
  stretches.length > before.stretches.length &&
  before.stretches.every((known) =>
    stretches.some((each) => each.fromMin === known.from && each.toMin === known.to && each.makerId === known.makerId),
  )

const untilField = ({ stretches }: SaidWork): string =>
  `stretches.${stretches.findIndex(({ until }) => until.trim() === '')}.until`

import { z } from 'zod'
import { FAILURE_REASONS } from '../../core/book/failure-reasons.ts'
import { type Result, failed, ok, problem } from '../../core/problems.ts'
import { takeBack } from '../../db/undo.ts'
import { changeSteps, type StepChange } from './change-steps.ts'
import { allDone } from './all-done.ts'
import { finishStep, foundReady, longestAgoMin, pauseStep, pinStep, pushBack, startStep } from './log-step.ts'
import { type SaidFailure, failStep } from './fail-step.ts'
import { type SaidWork, moveWork, putRight } from './put-right.ts'
import { movePiece } from './move-piece.ts'
import { doneWhen } from './done-ahead.ts'
import { dueNotices } from './due-notices.ts'
import { day, id, listedId, short, text } from '../forms.ts'
import { inShop } from '../in-shop.ts'
import { noInput } from '../procedure.ts'
import type { Moved } from '../moved.ts'

const press = z.strictObject({
  stepId: id,
  makerId: id.nullable().default(null),
  minutesAgo: z.int().min(0).max(longestAgoMin).default(0),
  anyway: z.boolean().default(false),
})

const workedMin = z
  .int()
  .min(1)
  .max(24 * 60)

const mostStretches = 60

const workSaid = z.strictObject({
  stepId: id,
  stretches: z
    .array(z.strictObject({ day: short, from: short, until: short, makerId: id.nullable() }))
    .max(mostStretches)
    .readonly(),
  isDone: z.boolean(),
}) satisfies z.core.$ZodType<SaidWork>

const failure = z.strictObject({
  stepId: id,
  count: z.int().min(1).max(999),
  fromStepId: id,
  reason: z.enum(FAILURE_REASONS),
  note: text,
  minutesAgo: z.int().min(0).max(longestAgoMin).default(0),
}) satisfies z.core.$ZodType<SaidFailure>

const stepChange = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('add'),
    stepId: id,
    extra: z.strictObject({
      name: short,
      minutes: short,
      kind: z.enum(['hand', 'machine', 'outside']),
      away: short,
    }),
  }),
  z.strictObject({ kind: z.enum(['leave-out', 'earlier']), stepId: id }),
]) satisfies z.core.$ZodType<StepChange>

const noticeId = z.string().max(400)
const LONGEST_SLEEP_MIN = 14 * 24 * 60

/** Presses at steps and their undoing, and what is told of them. */
export const stepsProcedures = {
  stepStart: inShop(press, startStep),
  stepPause: inShop(press.extend({ workedMin: workedMin.optional() }), pauseStep),
  stepDone: inShop(press.extend({ workedMin: workedMin.nullable().optional() }), finishStep),
  stepPutRight: inShop(workSaid, putRight),
  stepDoneWhen: inShop(
    z.strictObject({
      stepId: id,
      minutesAgo: z
        .int()
        .min(0)
        .max(14 * 24 * 60),
    }),
    doneWhen,
  ),
  stepsAllDone: inShop(z.strictObject({ id, day }), allDone),
  stepMove: inShop(z.strictObject({ stepId: id, toStepId: id }), (shop, { stepId, toStepId }) =>
    moveWork(shop, stepId, toStepId),
  ),
  stepStillTacky: inShop(
    z.strictObject({
      stepId: id,
      minutes: z
        .int()
        .min(5)
        .max(30 * 24 * 60),
    }),
    (shop, { stepId, minutes }) => pushBack(shop, stepId, minutes),
  ),
  pieceMove: inShop(z.strictObject({ stepId: id, place: listedId.nullable() }), (shop, { stepId, place }) =>
    movePiece(shop, stepId, place),
  ),
  stepFoundReady: inShop(z.strictObject({ stepId: id }), (shop, { stepId }) => foundReady(shop, stepId)),
  noticesDue: inShop(z.strictObject({ ids: z.array(noticeId).max(500) }), (shop, { ids }) => {
    const due = new Set(dueNotices(shop.moment()).map((notice) => notice.id))
    return ok(ids.filter((one) => due.has(one)))
  }),
  noticesTold: inShop(noInput, async (shop) => ok(await shop.notices.stillDue(shop.db, shop.moment(), shop.nowMs))),
  noticeSleep: inShop(
    z.strictObject({ id: noticeId, wakesAtMin: z.int() }),
    async (shop, { id: notice, wakesAtMin }) => {
      if (wakesAtMin <= shop.now || wakesAtMin > shop.now + LONGEST_SLEEP_MIN)
        return failed(problem('wakes-at', 'Choose a time within the next two weeks.', 'wakesAtMin'))
      await shop.sleep(notice, wakesAtMin * 60_000)
      return ok(null)
    },
  ),
  stepPin: inShop(z.strictObject({ stepId: id, day: day.nullable() }), (shop, input) =>
    pinStep(shop, input.stepId, input.day),
  ),
  stepFailed: inShop(failure, failStep),
  stepsChange: inShop(stepChange, changeSteps),
  undo: inShop(z.strictObject({ entryId: z.int() }), (shop, { entryId }): Promise<Result<Moved>> =>
    shop.change(async (db) => {
      const taken = await takeBack(db, entryId, { atMs: shop.nowMs, makerId: null })
      return taken.ok ? ok('Undone.') : taken
    }, 'kept'),
  ),
}

import { randomUUID } from 'node:crypto'
import type { PieceNetwork } from '../../core/book/remake.ts'
import { addExtraStep, doEarlier, type ExtraStep, leaveOut } from '../../core/book/steps-by-hand.ts'
import { failed, ok, problem, within, type Result } from '../../core/problems.ts'
import { readDuration } from '../../core/time/duration.ts'
import { changeCommission } from '../../db/commissions.ts'
import type { Lot, Moment } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import type { Moved } from '../moved.ts'

/** What is done at the steps of one order beside what its construction says. */
export type StepChange =
  | { readonly kind: 'add'; readonly stepId: string; readonly extra: TypedExtra }
  | { readonly kind: 'leave-out'; readonly stepId: string }
  | { readonly kind: 'earlier'; readonly stepId: string }

/** An extra step as typed: times like `45 min`, `5 days`. */
export type TypedExtra = Pick<ExtraStep, 'name' | 'kind'> & { readonly minutes: string; readonly away: string }

/** Changes the steps of one order by hand: one entry. What it makes of the chances is told once they are worked out. Problems: those of the step, and `not-agreed`. */
export async function changeSteps(shop: OpenShop, change: StepChange): Promise<Result<Moved>> {
  const moment = shop.moment()
  const [step, lot] = [moment.step(change.stepId), moment.lotOf(change.stepId)]
  if (step === undefined || lot === undefined)
    return failed(problem('unknown-step', 'This step is not in the book any more. Open the order again.', 'stepId'))
  const { standing, number, id } = lot.commission
  if (standing !== 'agreed' && standing !== 'asked-about')
    return failed(problem('not-agreed', `No. ${number} is closed: its steps stay as they are.`, 'stepId'))
  const made = changed(moment, lot, change)
  if (!made.ok) return made
  const name = change.kind === 'add' ? change.extra.name.trim() : step.name
  return shop.change(async (db) => {
    const written = await changeCommission(
      db,
      id,
      ACTIONS[change.kind],
      (order) => ({
        ...order,
        steps: [...order.steps.filter(({ pieceId }) => pieceId !== lot.piece.id), ...made.value.steps],
        lags: [...order.lags.filter(({ pieceId }) => pieceId !== lot.piece.id), ...made.value.lags],
      }),
      { atMs: shop.nowMs, makerId: null },
      null,
      { note: name },
    )
    return written.ok ? ok(`${WORDS[change.kind]}: ${name.toLowerCase()}, ${lot.label.title}.`) : written
  })
}

const ACTIONS = { add: 'step-added', 'leave-out': 'step-left-out', earlier: 'step-earlier' } as const
const WORDS = { add: 'Step added', 'leave-out': 'Left out', earlier: 'Done earlier' } as const

function changed(moment: Moment, { piece, commission }: Lot, change: StepChange): Result<PieceNetwork> {
  const network: PieceNetwork = {
    steps: moment.stepsOf(commission.id).filter(({ pieceId }) => pieceId === piece.id),
    lags: moment.book.lags.filter(({ pieceId }) => pieceId === piece.id),
  }
  if (change.kind === 'leave-out') return leaveOut(network, change.stepId, moment.progress)
  if (change.kind === 'earlier') return doEarlier(network, change.stepId, moment.progress)
  const { name, kind } = change.extra
  const minutes = readDuration(change.extra.minutes, 'min')
  const away = kind === 'outside' ? readDuration(change.extra.away, 'd') : ok(0)
  const problems = [
    ...(minutes.ok ? [] : minutes.problems.map((each) => within('minutes', each))),
    ...(away.ok ? [] : away.problems.map((each) => within('away', each))),
  ]
  if (!minutes.ok || !away.ok) return failed(...problems)
  return addExtraStep(network, change.stepId, { name, kind, minutes: minutes.value, awayMin: away.value }, randomUUID)
}

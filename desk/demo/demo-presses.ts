import type { PlannedStep } from '../../core/planning/index.ts'
import { progressOf } from '../../core/book/step-progress.ts'
import { logStep } from '../../db/steps.ts'
import { momentOf } from '../moment.ts'
import type { OpenShop } from '../open-shop.ts'
import { planBook } from '../planner/plan-book.ts'

/** Logs what the plan, as it was at `fromMin`, had begun before `toMin`. */
export async function workOn(shop: OpenShop, fromMin: number, toMin: number): Promise<void> {
  await shop.readAgain()
  const { asked } = momentOf(shop.book, shop.almanac, null, fromMin, shop.locale, { stock: shop.stock })
  const planned = planBook(asked.problem)
  if (!planned.ok) throw new Error(`The demo shop cannot be planned: ${JSON.stringify(planned.problems)}`)
  const before = progressOf(shop.book.log)
  const makerId = shop.almanac.makers[0]?.id ?? null
  const entries = planned.value.plan.steps.flatMap((step) =>
    before.get(step.id)?.kind === 'done'
      ? []
      : pressesOf(step).filter((press) => press.at <= toMin && step.start < toMin),
  )
  for (const press of entries.sort(
    (a, b) => a.at - b.at || Number(a.did === 'started') - Number(b.did === 'started'),
  )) {
    await logStep(shop.db, press.id, { kind: press.did }, { atMs: press.at * 60_000, makerId })
  }
}

interface DemoPress {
  readonly at: number
  readonly id: string
  readonly did: 'started' | 'paused' | 'done'
}

/** What a tidy maker presses for one planned step: paused at the end of each evening but the last. */
function pressesOf(step: PlannedStep): DemoPress[] {
  const stretches = step.stretches.length > 0 ? step.stretches : [{ from: step.start, to: step.end }]
  return stretches.flatMap((stretch, index) => [
    { at: stretch.from, id: step.id, did: 'started' },
    { at: stretch.to, id: step.id, did: index === stretches.length - 1 ? 'done' : 'paused' },
  ])
}

import type { Result } from '../../core/problems.ts'
import type { OpenShop } from '../open-shop.ts'
import { forecastOf } from './forecast.ts'
import { otherwise } from './otherwise.ts'

/** Why the plan's date of a commission is what it is, or why it has none, as sentences; empty when it is over or not agreed. */
export async function whyDate(shop: OpenShop, commissionId: string): Promise<readonly string[]> {
  const refused = shop.planned?.refused.find((each) => each.commissionId === commissionId)
  if (refused) return [refused.problem.message]
  const { book, asked, wording } = shop.moment()
  const undated = book.steps.find((step) => step.commissionId === commissionId && asked.undated.has(step.id))
  if (undated) return [asked.undated.get(undated.id) ?? '']
  const answer = await shop.planner.ask(
    `why/${commissionId}`,
    { kind: 'why', commissionId, wording },
    'has-this-answer',
  )
  return answer.ok ? answer.value : []
}

/** What would make an order's promise surer or bring its date nearest, as a sentence. Takes a while: it is planned anew for it. */
export async function sayWhatWouldHelp(shop: OpenShop, commissionId: string): Promise<Result<string | null>> {
  const { wording } = shop.moment()
  const [forecast, more] = [await forecastOf(shop), await otherwise(shop, commissionId)]
  const request = { kind: 'help' as const, commissionId, more, forecast, wording }
  return shop.planner.ask(`help/${commissionId}`, request, 'has-this-answer')
}

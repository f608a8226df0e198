import type { Result } from '../../core/problems.ts'
import type { OpenShop } from '../open-shop.ts'
import { forecastOf } from './forecast.ts'
import { otherwise } from './otherwise.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'

/** Why the plan's date of a commission is what it is, or why it has none, as sentences; empty when it is over or not agreed. */
export async function whyDate(shop: OpenShop, commissionId: string): Promise<readonly string[]> {
  const refused = shop.planned?.refused.find((each) => each.commissionId === commissionId)
  if (refused) return [refused.problem.message]
  const { book, asked, wording } = shop.moment()
  const undated = book.steps.find((step) => step.commissionId === commissionId && asked.undated.has(step.id))
  if (undated) return [asked.undated.get(undated.id) ?? '']
  const answer = await askForAll(shop, `why/${commissionId}`, { kind: 'why', commissionId, wording })
  return answer.ok ? answer.value : []
}

/** What would make an order's promise surer or bring its date nearest, as a sentence. Takes a while: it is planned anew for it. */
export async function sayWhatWouldHelp(shop: OpenShop, commissionId: string): Promise<Result<string | null>> {
  const { wording } = shop.moment()
  const [forecast, more] = [await forecastOf(shop), await otherwise(shop, commissionId)]
  return askForAll(shop, `help/${commissionId}`, { kind: 'help', commissionId, more, forecast, wording })
}

const newestAsked = new WeakMap<OpenShop, Map<string, Promise<Result<unknown>>>>()

/** Several screens may ask the same at once: who is superseded by another has the answer that the other one gets. */
async function askForAll<Request extends PlanningRequest>(
  shop: OpenShop,
  topic: string,
  request: Request,
): Promise<Result<PlanningAnswers[Request['kind']]>> {
  const newest = newestAsked.get(shop) ?? new Map<string, Promise<Result<unknown>>>()
  newestAsked.set(shop, newest)
  let asked = shop.planner.ask(topic, request)
  newest.set(topic, asked)
  for (;;) {
    const answer = await asked
    const newer = newest.get(topic)
    if (newer === asked) newest.delete(topic)
    const isSuperseded = !answer.ok && answer.problems[0]?.code === 'superseded'
    if (!isSuperseded || newer === undefined || newer === asked) return answer
    asked = newer as typeof asked
  }
}

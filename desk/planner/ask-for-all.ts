import { isSuperseded, type Result } from '../../core/problems.ts'
import type { OpenShop } from '../open-shop.ts'
import type { PlanningAnswers, PlanningRequest } from './planning-request.ts'

const newestAsked = new WeakMap<OpenShop, Map<string, Promise<Result<unknown>>>>()

/** Several screens may ask the same at once: who is superseded by another has the answer that the other one gets. */
export async function askForAll<Request extends PlanningRequest>(
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
    if (!isSuperseded(answer) || newer === undefined || newer === asked) return answer
    asked = newer as typeof asked
  }
}

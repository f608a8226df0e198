import type { BindingChain, PlanningProblem } from '../core/planning/model.ts'
import { chainWords, helpWords } from '../core/planning/words.ts'
import { writeDayAndTime, type Wording } from '../core/time/write-instant.ts'
import type { Moment } from './moment.ts'
import type { OpenShop } from './open-shop.ts'
import type { PlanAnswer } from './planning-request.ts'

/** What decides one commission's date, as sentences, and the one change that would help most. */
export interface WhyDate {
  readonly sentences: readonly string[]
  readonly whatWouldHelp: string | null
}

export const noReason: WhyDate = { sentences: [], whatWouldHelp: null }

/** Why the plan's date of a commission is what it is, or why it has none. */
export function whyDate(planned: PlanAnswer | null, moment: Moment, commissionId: string): WhyDate {
  const refused = planned?.refused.find((each) => each.commissionId === commissionId)
  if (refused) return { sentences: [refused.problem.message], whatWouldHelp: null }
  const undated = moment.book.steps.find(
    (step) => step.commissionId === commissionId && moment.asked.undated.has(step.id),
  )
  if (undated) return { sentences: [moment.asked.undated.get(undated.id) ?? ''], whatWouldHelp: null }
  const chain = planned?.chains.find((each) => each.commissionId === commissionId)
  if (!planned || !chain) return noReason
  return { sentences: whySentences(planned.problem, chain, moment.wording), whatWouldHelp: null }
}

/** The same with the one change that would help most: worked out only where somebody reads it, as it is planned anew for. */
export async function whyDateWithHelp(shop: OpenShop, moment: Moment, commissionId: string): Promise<WhyDate> {
  const { planned } = shop
  const why = whyDate(planned, moment, commissionId)
  const chain = planned?.chains.find((each) => each.commissionId === commissionId)
  if (!planned || !chain || chain.links.length === 0) return why
  const { problem, plan } = planned
  const help = await shop.planner.ask(`help/${commissionId}`, { kind: 'help', problem, plan, chain })
  if (!help.ok || help.value === null) return why
  return { ...why, whatWouldHelp: helpWords(help.value, { at: (instant) => writeDayAndTime(instant, moment.wording) }) }
}

/** More would be read by nobody. */
const mostSentences = 7

/** The links of a chain that account for most of the time, first link first, as sentences. */
export function whySentences(problem: PlanningProblem, chain: BindingChain, wording: Wording): string[] {
  const words = chainWords(problem, chain, { at: (instant) => writeDayAndTime(instant, wording) })
  const weights = chain.links.map((link) => minutesOf(link))
  const least = [...weights].sort((a, b) => b - a)[mostSentences - 1] ?? 0
  return words
    .filter((_, index) => (weights[index] ?? 0) > 0 && (weights[index] ?? 0) >= least)
    .slice(-mostSentences)
    .map(({ text }) => `${text}.`)
}

/** How much time a link accounts for, in minutes; 0 for links that say nothing that anybody would ask about. */
function minutesOf({ cause, start }: BindingChain['links'][number]): number {
  switch (cause.kind) {
    case 'now':
    case 'pinned':
      return 0
    case 'wait':
      return Math.max(0, cause.lag.minMin)
    case 'closed':
      return cause.to - cause.from
    // Others in the way are what can be changed: they outrank a night of the same length.
    case 'hands':
    case 'station':
    case 'clean-air':
    case 'release':
      return 12 * 60 + Math.max(0, start - cause.until)
    case 'window':
      return 12 * 60
  }
}

import { type BindingChain, chainWords, type PlanningProblem } from '../../core/planning/index.ts'
import { writeDayAndTime, type Wording } from '../../core/time/write-instant.ts'

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
    case 'air':
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

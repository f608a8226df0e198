import { type BindingChain, chainWords, type PlanningProblem } from '../../core/planning/index.ts'
import { dayNumber, localDay } from '../../core/time/local-day.ts'
import { partOfDay, writeDay, writeWeekday, type Wording } from '../../core/time/write-instant.ts'

/** More would be read by nobody. */
const mostSentences = 7

/** The links of a chain that account for most of the time, first link first, as sentences: one a step. */
export function whySentences(problem: PlanningProblem, chain: BindingChain, wording: Wording): string[] {
  const words = chainWords(problem, chain, { at: (instant) => sessionWords(instant, problem.now, wording) })
  const weights = chain.links.map((link) => minutesOf(link))
  const least = [...weights].sort((a, b) => b - a)[mostSentences - 1] ?? 0
  const told = words
    .map((word, index) => ({ ...word, start: chain.links[index]?.start ?? problem.now, weight: weights[index] ?? 0 }))
    .filter(({ weight }) => weight > 0 && weight >= least)
    .slice(-mostSentences)
  const steps: { step: string; name: string; start: number; causes: string[] }[] = []
  for (const { step, name, start, cause } of told) {
    const last = steps.at(-1)
    if (last?.step === step) last.causes.push(cause)
    else steps.push({ step, name, start, causes: [cause] })
  }
  return steps.map(
    ({ name, start, causes }) =>
      `${name} waits for ${sessionWords(start, problem.now, wording)}: ${causes.join(', then ')}.`,
  )
}

/** How many more orders a day's chance counts on; nothing where that is less than one. @param day an instant */
export function laterOrdersSentence(now: number, day: number, perWeek: number): string[] {
  const orders = Math.round((perWeek * (day - now)) / WEEK_MIN)
  if (orders < 1) return []
  return [
    `The chances leave room for about ${orders} more ${orders === 1 ? 'order' : 'orders'} by then, as in the last 8 weeks.`,
  ]
}

const WEEK_MIN = 7 * 1440

/** `Tue evening` within a week, then `Tue, Dec 8, evening`: a plan is not known to the minute. */
export function sessionWords(instant: number, now: number, wording: Wording): string {
  const ahead = dayNumber(localDay(instant, wording.timeZone)) - dayNumber(localDay(now, wording.timeZone))
  const part = partOfDay(instant, wording.timeZone)
  return ahead >= 0 && ahead < 7
    ? `${writeWeekday(instant, wording)} ${part}`
    : `${writeDay(instant, wording)}, ${part}`
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

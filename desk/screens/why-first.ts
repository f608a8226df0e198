import type { BookStep } from '../../core/book/book.ts'
import { sayChance, sayDaysLate } from '../../core/book/chance.ts'
import { capital } from '../../core/capital.ts'
import { keepsDustDown, type Interval, type Tonight } from '../../core/planning/index.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'
import { when } from './hindrance.ts'
import { outlookOf } from './outlook.ts'

/**
 * Why the first of the Bench's list comes first, as sentences; empty where nothing can be started.
 * @param canStart with the instant at which each is planned to begin; infinite: it is not planned
 */
export function whyFirst(
  canStart: readonly { readonly step: BookStep; readonly start: number }[],
  tonight: Tonight | null,
  session: Interval | null,
  moment: Moment,
): string[] {
  const step = canStart[0]?.step
  if (step === undefined) return []
  const item = tonight?.items.find((each) => each.step === step.id)
  const commission = moment.lotOf(step.id)?.commission
  const forNow = session === null ? [] : canStart.filter(({ start }) => start < session.to)
  const coats = new Set(moment.asked.problem.steps.filter(keepsDustDown).map(({ id }) => id))
  const coat = forNow.find((each) => coats.has(each.step.id))
  const outlook = commission === undefined ? null : outlookOf(commission, moment)
  // Of the plan before it would be told as a fact, as a sentence cannot be gray.
  const chance = outlook?.fresh === true ? outlook.chance : null
  const sure =
    outlook !== null && outlook.daysLate > 0
      ? sayDaysLate(outlook.daysLate)
      : chance === null
        ? null
        : sayChance(chance)
  return [
    ...(item === undefined
      ? []
      : [`${capital(item.wait.name)} follows it: started by ${when(item.latestStart, moment)}, it uses the night.`]),
    ...(commission?.promisedFor == null
      ? []
      : [
          `No. ${commission.number} is promised for ${writeLocalDay(commission.promisedFor, moment.wording.locale)}${sure === null ? '' : `: ${sure}`}.`,
        ]),
    ...(forNow[0]?.step.id === step.id ? [] : [coat === undefined ? NOTHING_PLANNED : dustFirst(coat.step)]),
    BENCH_RULE,
  ]
}

const NOTHING_PLANNED = 'Everything planned for this session is done or waits.'

const dustFirst = ({ name }: BookStep): string => `No dust may fly once “${name}” is on: dusty work goes first.`

/** The rule of the list in one sentence. */
const BENCH_RULE =
  'First what keeps promises and lets waits use the night, then the orders promised soonest, if it fits the time left.'

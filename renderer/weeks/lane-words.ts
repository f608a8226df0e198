import { localDay } from '../../core/time/local-day.ts'
import { writeDay, writeLocalDay, writeTime, type Wording } from '../../core/time/write-instant.ts'
import { sayMinutes, sayMoment } from '../say-time.ts'
import { isLate } from '../widgets/outlook-words.ts'
import { fillOf, fillWords } from './lane-fills.ts'
import type { WeeksBar, WeeksLane } from '../../desk/screens/weeks.ts'

/** A bar as a sentence: `First glue-up: hands-on work, Wed 19:00 to 19:45`. */
export function barInWords(bar: WeeksBar, nowMin: number, wording: Wording): string {
  const sameDay = localDay(bar.fromAt, wording.timeZone) === localDay(bar.toAt, wording.timeZone)
  const from = sayMoment(bar.fromAt, nowMin, wording)
  const to = sameDay ? writeTime(bar.toAt, wording) : sayMoment(bar.toAt, nowMin, wording)
  const word = fillWords[fillOf(bar)]
  const what = bar.name.toLowerCase().includes(word) ? bar.name : `${bar.name}: ${word}`
  const long = bar.kind === 'wait' ? ` (${sayMinutes(bar.toAt - bar.fromAt)})` : ''
  return `${what}, ${from} to ${to}${long}${bar.done ? ', done' : ''}`
}

/** A whole lane as one sentence, for those who hear the page. */
export function laneInWords(lane: WeeksLane, wording: Wording): string {
  const { piece } = lane
  const count = piece.count > 1 ? `${piece.count} times ` : ''
  const lot = piece.lot === null ? '' : `, ${piece.lot}`
  const done = lane.doneAt === null ? 'no date yet' : `done ${writeDay(lane.doneAt, wording)} if all goes as planned`
  const starts = lane.startsAt === null ? '' : `starts ${writeDay(lane.startsAt, wording)}, `
  const promised =
    lane.promisedFor === null
      ? 'nothing promised'
      : `promised for ${writeLocalDay(lane.promisedFor, wording.locale)}, ${isLate(lane.outlook) ? 'late' : dangerWords[lane.outlook.danger]}`
  const needed =
    lane.outlook.missesNeed && lane.neededBy !== null
      ? `, but needed ${writeLocalDay(lane.neededBy, wording.locale)}`
      : ''
  return `${count}${piece.title}${lot}, ${piece.customer}: ${starts}${done}, ${promised}${needed}`
}

const dangerWords = {
  none: 'on time',
  tight: 'tight',
  late: 'likely late',
  unknown: 'chance not worked out yet',
} as const

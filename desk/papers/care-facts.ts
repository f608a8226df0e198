import type { BookStep, Commission } from '../../core/book/book.ts'
import type { CareFacts } from '../../core/papers/care.ts'
import { localDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import { classOf } from '../../core/waits/product.ts'
import type { Moment } from '../moment.ts'

/** Constructions whose face a knife works on. */
const CUT_ON: ReadonlySet<string> = new Set(['end-grain-board', 'edge-grain-board'])

/** What a care card says of an order follows from its pieces, their coats and what the buyer was asked. */
export function careFacts({ id, customer }: Commission, moment: Moment): CareFacts {
  const steps = moment.stepsOf(id)
  const coat = steps.findLast(({ tackyMin }) => tackyMin > 0)
  const finish = moment.almanac.finishes.find((product) => product.id === coat?.tackyProduct) ?? null
  const of = finish === null ? null : classOf(finish)
  const food = steps.some(({ cautions }) => cautions.some((caution) => caution.startsWith('food')))
  const cutOn = moment.book.pieces.some((piece) => piece.commissionId === id && CUT_ON.has(piece.construction))
  const on = coat === undefined ? null : doneAt(coat, moment)
  const cured = coat === undefined || on === null ? null : curedAt(coat, moment)
  const say = (instant: number | null): string | null =>
    instant === null ? null : writeLocalDay(localDay(instant, moment.wording.timeZone), moment.wording.locale)
  return {
    use: !food && !cutOn ? 'neither' : cutOn ? 'cut-on' : 'eaten-from',
    child: customer.childUnder3 === 'yes',
    finish: finish?.name ?? null,
    film: of?.kind === 'finish' && of.finish.film,
    lastCoat: say(on),
    curedOn: say(cured),
    celsius: moment.almanac.shop.units === 'millimetre',
  }
}

function doneAt(step: BookStep, moment: Moment): number | null {
  const progress = moment.progress(step.id)
  return progress.kind === 'done' ? progress.endedAt : null
}

/** The end of the longest wait that follows the coat; null where none does. */
function curedAt(coat: BookStep, moment: Moment): number | null {
  const ended = doneAt(coat, moment)
  const longest = Math.max(0, ...moment.lagsFrom(coat.id).map(({ minMin }) => minMin))
  return ended === null || longest === 0 ? null : ended + longest
}

import type { OpenWait } from '../../core/book/open-waits.ts'
import { minuteOfLocalDay } from '../../core/time/local-day.ts'
import { writeTime } from '../../core/time/write-instant.ts'
import type { Notice } from '../desk-event.ts'
import type { Lot, Moment } from '../moment.ts'

/** People sleep then: what becomes due is told in the morning. Minutes of the local day. */
const quiet = { fromMin: 22 * 60, toMin: 7 * 60 }

/** A window is about to close when so much of it is left. */
const closingMin = 90

/** What is told now: all that is due, but nothing at night. The caller remembers which ids were shown. */
export function noticesToTell(moment: Moment): Notice[] {
  const minute = minuteOfLocalDay(moment.now, moment.almanac.shop.timeZone)
  return minute >= quiet.fromMin || minute < quiet.toMin ? [] : dueNotices(moment)
}

/** What the maker can act on now. */
export function dueNotices(moment: Moment): Notice[] {
  const waits = moment.lots
    .filter((lot) => lot.commission.standing === 'agreed')
    .flatMap((lot) => lot.waits.flatMap((wait) => noticesOf(lot, wait, moment)))
  return [...waits, ...reminders(moment)]
}

/** Orders that the maker wanted to be told of by today. */
function reminders({ book, today }: Moment): Notice[] {
  return book.commissions.flatMap(({ id, number, customer, remindOn, standing, onHoldWhy }) =>
    remindOn === null || remindOn > today
      ? []
      : [
          {
            id: `remind/${id}/${remindOn}`,
            title:
              standing === 'asked-about' ? `Call back ${customer.name}` : `Look after no. ${number}, ${customer.name}`,
            body: [onHoldWhy, customer.reach].filter((text) => text !== '').join('. '),
            opens: `#/commission/${encodeURIComponent(id)}`,
          },
        ],
  )
}

function noticesOf(lot: Lot, wait: OpenWait, moment: Moment): Notice[] {
  const { readyAt, window } = wait
  if (readyAt === null || readyAt > moment.now) return []
  const ready: Notice = {
    id: `ready/${wait.from.id}/${wait.to.id}/${readyAt}`,
    title: readyTitle(wait),
    body: `${lot.label.title}, ${lot.label.customer}. Next: ${wait.to.name.toLowerCase()}.`,
    opens: '#/rack',
  }
  if (window === null || window.closesAt - moment.now > closingMin) return [ready]
  const { closesAt, remedy, to } = window
  const closing: Notice = {
    id: `closing/${wait.from.id}/${to.id}/${closesAt}`,
    title:
      closesAt > moment.now
        ? `Recoat by ${writeTime(closesAt, moment.wording)}`
        : `Recoat window closed ${writeTime(closesAt, moment.wording)}`,
    body: `${lot.label.title}: ${to.name.toLowerCase()} ${closesAt > moment.now ? 'before then' : 'is overdue'}${remedy === null ? '' : `; later: ${remedy.toLowerCase()}`}.`,
    opens: '#/bench',
  }
  return [ready, closing]
}

function readyTitle({ lag, to }: OpenWait): string {
  switch (lag.wait) {
    case 'in-clamps':
      return 'Clamps can come off'
    case 'drying':
      return `Ready for ${to.name.toLowerCase()}`
    case 'curing':
      return 'Cured: OK to machine'
    case 'resting':
    case 'none':
      return 'Rested: OK to go on'
  }
}

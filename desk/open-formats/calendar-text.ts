import ical, { ICalCalendarMethod, ICalEventStatus } from 'ical-generator'
import { daysLater } from '../../core/time/local-day.ts'

export interface CalendarEntry {
  /** The same for ever for the same thing. */
  readonly id: string
  /** Grows whenever it moves. */
  readonly sequence: number
  readonly summary: string
  readonly description?: string
  readonly canceled?: boolean
  /** A whole day, or an interval in minutes since the Unix epoch. */
  readonly when: { readonly day: string } | { readonly from: number; readonly to: number }
}

/**
 * Entries as iCalendar: CRLF after each line, folded at 75 octets, days with the day after as their end, hours in UTC.
 * @param stampMs when it was written, milliseconds since the Unix epoch
 * @source RFC 5545; RFC 7986 (name, refresh interval). The library leaves the last CRLF off.
 */
export function calendarText(name: string, entries: readonly CalendarEntry[], stampMs: number): string {
  const calendar = ical({
    name,
    prodId: { company: 'Out of Clamps', product: 'Order book', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    ttl: 3600,
  })
  for (const { id, sequence, summary, description, canceled, when } of entries) {
    calendar.createEvent({
      id: `${id}@out-of-clamps`,
      sequence,
      summary,
      ...(description === undefined ? {} : { description }),
      stamp: new Date(stampMs),
      ...('day' in when
        ? { allDay: true, start: dayAsDate(when.day), end: dayAsDate(daysLater(when.day, 1)) }
        : { start: new Date(when.from * 60_000), end: new Date(when.to * 60_000) }),
      ...(canceled === true ? { status: ICalEventStatus.CANCELLED } : {}),
    })
  }
  return `${calendar.toString()}\r\n`
}

/** The library writes a day by the clock of this computer. */
const dayAsDate = (day: string): Date => {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
  return new Date(year, month - 1, date)
}

/**
 * Times and days in words, in the shop's time zone. Instants are whole minutes since the Unix epoch, days `YYYY-MM-DD`.
 */
const formats = new Map<string, Intl.DateTimeFormat>()

function format(timeZone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${timeZone} ${JSON.stringify(options)}`
  let found = formats.get(key)
  if (found === undefined) {
    found = new Intl.DateTimeFormat('en-GB', { timeZone, ...options })
    formats.set(key, found)
  }
  return found
}

/** `Thu 18:00`; with the date where it is more than six days away: `Thu 3 Dec 18:00`; today only `18:00`. */
export function sayMoment(atMin: number, nowMin: number, timeZone: string): string {
  const time = sayClock(atMin, timeZone)
  const days = daysBetween(localDay(nowMin, timeZone), localDay(atMin, timeZone))
  if (days === 0) return time
  if (Math.abs(days) < 7) return `${part(atMin, timeZone, { weekday: 'short' })} ${time}`
  return `${saySlot(atMin, timeZone)} ${time}`
}

/** `18:00` */
export const sayClock = (atMin: number, timeZone: string): string =>
  part(atMin, timeZone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' })

/** `Sat morning`, `Thu evening`, with the date where it is more than six days away: `Sat 12 Dec, morning`. */
export function saySession(atMin: number, nowMin: number, timeZone: string): string {
  const hour = Number(part(atMin, timeZone, { hour: '2-digit', hourCycle: 'h23' }))
  const time = hour < 5 ? 'night' : hour < 12 ? 'morning' : hour < 17 ? 'afternoon' : 'evening'
  const days = daysBetween(localDay(nowMin, timeZone), localDay(atMin, timeZone))
  if (days === 0) return time === 'night' ? 'tonight' : `this ${time}`
  if (Math.abs(days) < 7) return `${part(atMin, timeZone, { weekday: 'short' })} ${time}`
  return `${saySlot(atMin, timeZone)}, ${time}`
}

/** `Saturday 14 March`; with the year where it is not the year of `nowMin`. */
export function sayDay(day: string, nowMin: number): string {
  const at = dayAsUtc(day)
  const sameYear = day.slice(0, 4) === new Date(nowMin * 60_000).toISOString().slice(0, 4)
  return format('UTC', {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    ...(sameYear ? {} : { year: 'numeric' }),
  })
    .format(at)
    .replace(',', '')
}

/** `Sat 14 Mar` */
export const sayShortDay = (day: string): string =>
  format('UTC', { weekday: 'short', day: 'numeric', month: 'short' }).format(dayAsUtc(day)).replace(',', '')

/** How long: `2 d 4 h`, `3 h 20 min`, `45 min`, `under a minute`. Whole minutes, zero or more. */
export function sayMinutes(minutes: number): string {
  if (minutes < 1) return 'under a minute'
  const days = Math.floor(minutes / 1440)
  const hours = Math.floor((minutes % 1440) / 60)
  const rest = Math.round(minutes % 60)
  if (days >= 2) return hours === 0 ? `${days} d` : `${days} d ${hours} h`
  const allHours = days * 24 + hours
  if (allHours === 0) return `${rest} min`
  return rest === 0 ? `${allHours} h` : `${allHours} h ${rest} min`
}

/** The local civil day of an instant. */
export function localDay(atMin: number, timeZone: string): string {
  const parts = format(timeZone, { year: 'numeric', month: '2-digit', day: '2-digit' }).formatToParts(atMin * 60_000)
  const of = (type: string) => parts.find((one) => one.type === type)?.value ?? ''
  return `${of('year')}-${of('month')}-${of('day')}`
}

/** Whole days from one civil day to another. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((dayAsUtc(to).getTime() - dayAsUtc(from).getTime()) / 86_400_000)

const saySlot = (atMin: number, timeZone: string): string =>
  part(atMin, timeZone, { weekday: 'short', day: 'numeric', month: 'short' }).replace(',', '')

const part = (atMin: number, timeZone: string, options: Intl.DateTimeFormatOptions): string =>
  format(timeZone, options).format(atMin * 60_000)

const dayAsUtc = (day: string): Date => new Date(`${day}T00:00:00Z`)

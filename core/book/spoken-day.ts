import { daysLater, isLocalDay, isoWeekday, type IsoWeekday, type LocalDay } from '../time/local-day.ts'

/** A day found inside a line of words: which stretch of the line says it, and the day. */
export interface FoundDay {
  readonly from: number
  readonly to: number
  readonly day: LocalDay
  /** The feast by which it was named, as it was said: "Christmas". */
  readonly feast: string | null
}

/**
 * The day that a line names after *by*, *before*, *until*, *due* or *needed*, or else the first one that it names plainly: `12 Dec`, `Dec 12th`, `the 15th`, `Saturday`, `next Friday`, `in 3 weeks`, `end of March`, `Christmas`,
 * `2026-12-12`, `12 Dec 2027`. Never a day before `today`, unless the year was said: what is said on the day itself means that day. `before` a day means the day before it;
 * a feast means the day before it too, so that the piece is there on the morning. `3/4` is never taken for a day: makers
 * write fractions that way, and countries read it differently.
 */
export function findDay(line: string, today: LocalDay): FoundDay | null {
  for (const found of [...line.matchAll(AFTER_WORD), ...line.matchAll(ALONE), ...line.matchAll(BARE_WEEKDAY)]) {
    const day = readSpokenDay(found[2] ?? found[3] ?? '', today)
    if (day === null) continue
    const before = /^before/i.test(found[1] ?? '') && !day.dayBefore ? 1 : 0
    return { from: found.index, to: found.index + found[0].length, day: daysLater(day.day, -before), feast: day.feast }
  }
  return null
}

/** One day as it is said, the whole text being the day; null where it is none. */
export function readSpokenDay(
  text: string,
  today: LocalDay,
): { readonly day: LocalDay; readonly feast: string | null; readonly dayBefore: boolean } | null {
  const words = text
    .trim()
    .toLowerCase()
    .replace(/^the\s+/, '')
    .replace(LEADING_WEEKDAY, '')
  for (const reading of READINGS) {
    const match = reading.form.exec(words)
    const day = match === null ? null : reading.day(match, today)
    if (day !== null) {
      const feast = 'feast' in reading ? text.trim() : null
      return { day: feast === null ? day : daysLater(day, -1), feast, dayBefore: feast !== null }
    }
  }
  return null
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']
const MONTH =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\\.?'
const WEEKDAY =
  '(mon(?:day)?|tue(?:s(?:day)?)?|wed(?:nesday)?|thu(?:rs?(?:day)?)?|fri(?:day)?|sat(?:urday)?|sun(?:day)?)'
const NUMBER_WORDS = ['a', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']
const NUMBER = `(\\d{1,2}|an?|${NUMBER_WORDS.slice(1).join('|')})`
const DAY = '(\\d{1,2})(?:st|nd|rd|th)?\\.?'
const YEAR = '(?:,?\\s+(\\d{4}))?'
const FEASTS =
  'christmas(?:\\s+day)?|xmas|new\\s+year(?:\\W?s(?:\\s+day)?)?|valentine\\W?s(?:\\s+day)?|halloween|thanksgiving(?:\\s+day)?'

/** Forms that can be nothing but a day, wherever they stand. */
const PLAIN_DAYS = [
  '\\d{4}-\\d{2}-\\d{2}',
  `(?:${WEEKDAY}\\.?,?\\s+)?(?:the\\s+)?${DAY}\\s+(?:of\\s+)?${MONTH}${YEAR}`,
  `(?:${WEEKDAY}\\.?,?\\s+)?${MONTH}\\s+${DAY}${YEAR}(?![\\d/])`,
  `in\\s+${NUMBER}\\s+(?:days?|weeks?|months?)`,
  `next\\s+${WEEKDAY}`,
]
/** Forms that are a day only after a word such as *by*. */
const OTHER_DAYS = [
  `(?:the\\s+)?(?:end|middle|start|beginning)\\s+of\\s+(?:next\\s+month|(?:the|this)\\s+month|${MONTH})`,
  `(?:(?:this|a)\\s+)?${WEEKDAY}(?:\\s+week)?`,
  '(?:the\\s+)?\\d{1,2}(?:st|nd|rd|th)',
  FEASTS,
  'today|tonight|tomorrow|next\\s+week|(?:the\\s+)?end\\s+of\\s+(?:the\\s+)?week',
]
/** A weekday by itself: in full before a comma or the end, short ("Fri") between commas alone, as *Sat on the bench* names none. */
const BARE_WEEKDAY = new RegExp(
  `()(?:(?<=^\\s*|[,;]\\s*)${WEEKDAY}|\\b((?:mon|tues|wednes|thurs|fri|satur|sun)day))(?=\\s*(?:[,;]|$))`,
  'gi',
)
const oneOf = (forms: readonly string[]): string => forms.join('|').replaceAll(/\((?!\?)/g, '(?:')

/** `Sat 12 Dec`, `Saturday, Dec 12`: the date says it all. */
const LEADING_WEEKDAY = new RegExp(`^${WEEKDAY}\\.?,?\\s+(?=\\d|${MONTH})`)

const FOR_A_DAY = `for(?=\\s+(?:the\\s+)?(?:\\d|${MONTHS.join('|')}|${FEASTS}))`
const AFTER_WORD = new RegExp(
  `\\b(by|before|until|till|due(?:\\s+by|\\s+on)?|need(?:s|ed)?(?:\\s+(?:it|them))?(?:\\s+by)?|${FOR_A_DAY})\\s+(${oneOf([...PLAIN_DAYS, ...OTHER_DAYS])})(?!\\w)`,
  'gi',
)
/** The empty group stands where the word would. */
const ALONE = new RegExp(`()(?<![\\w/-])(${oneOf(PLAIN_DAYS)})(?!\\w)`, 'gi')

const READINGS: readonly {
  readonly form: RegExp
  readonly feast?: true
  day(match: RegExpExecArray, today: LocalDay): LocalDay | null
}[] = [
  { form: /^(\d{4}-\d{2}-\d{2})$/, day: ([, day = '']) => (isLocalDay(day) ? day : null) },
  {
    form: new RegExp(`^${DAY}\\s+(?:of\\s+)?${MONTH}${YEAR}$`),
    day: ([, day, month, year], today) => dayOf(month, day, year, today),
  },
  {
    form: new RegExp(`^${MONTH}\\s+${DAY}${YEAR}$`),
    day: ([, month, day, year], today) => dayOf(month, day, year, today),
  },
  { form: new RegExp(`^(?:(this|next|a)\\s+)?${WEEKDAY}(\\s+week)?$`), day: weekdayAfter },
  { form: /^(\d{1,2})(?:st|nd|rd|th)$/, day: ([, day], today) => nextDayOfMonth(Number(day), today) },
  { form: new RegExp(`^in\\s+${NUMBER}\\s+(day|week|month)s?$`), day: daysFromNow },
  {
    form: new RegExp(`^(end|middle|start|beginning)\\s+of\\s+(next\\s+month|(?:the|this)\\s+month|${MONTH})$`),
    day: partOfMonth,
  },
  { form: /^christmas(\s+day)?$|^xmas$/, feast: true, day: (_, today) => comingDay('12-25', today) },
  { form: /^new\s+year(\W?s(\s+day)?)?$/, feast: true, day: (_, today) => comingDay('01-01', today) },
  { form: /^valentine\W?s(\s+day)?$/, feast: true, day: (_, today) => comingDay('02-14', today) },
  { form: /^halloween$/, feast: true, day: (_, today) => comingDay('10-31', today) },
  { form: /^thanksgiving(\s+day)?$/, feast: true, day: (_, today) => comingThanksgiving(today) },
  { form: /^to(?:day|night)$/, day: (_, today) => today },
  { form: /^tomorrow$/, day: (_, today) => daysLater(today, 1) },
  { form: /^end\s+of\s+(?:the\s+)?week$/, day: (_, today) => daysLater(today, 7 - isoWeekday(today)) },
  { form: /^next\s+week$/, day: (_, today) => daysLater(today, 14 - isoWeekday(today)) },
]

function dayOf(
  month: string | undefined,
  day: string | undefined,
  year: string | undefined,
  today: LocalDay,
): LocalDay | null {
  const number = MONTHS.indexOf((month ?? '').slice(0, 3)) + 1
  const monthAndDay = `${twoDigits(number)}-${twoDigits(Number(day))}`
  if (year !== undefined) return isLocalDay(`${year}-${monthAndDay}`) ? `${year}-${monthAndDay}` : null
  return comingDay(monthAndDay, today)
}

/** The next time that day of the year comes, today counted; 29 Feb waits for a leap year. */
function comingDay(monthAndDay: string, today: LocalDay): LocalDay | null {
  const thisYear = Number(today.slice(0, 4))
  for (let year = thisYear; year <= thisYear + 8; year += 1) {
    const day = `${year}-${monthAndDay}`
    if (isLocalDay(day) && day >= today) return day
  }
  return null
}

/** @source 5 U.S.C. 6103(a): Thanksgiving Day is the fourth Thursday in November */
function comingThanksgiving(today: LocalDay): LocalDay {
  const inYear = (year: number): LocalDay => {
    const first = `${year}-11-01`
    return daysLater(first, ((11 - isoWeekday(first)) % 7) + 21)
  }
  const thisYear = Number(today.slice(0, 4))
  return inYear(thisYear) >= today ? inYear(thisYear) : inYear(thisYear + 1)
}

function nextDayOfMonth(dayOfMonth: number, today: LocalDay): LocalDay | null {
  for (let day = today, looked = 0; looked < 62; day = daysLater(day, 1), looked += 1) {
    if (Number(day.slice(8)) === dayOfMonth) return day
  }
  return null
}

/** "Saturday" is the next one after today; "next Saturday" the one of next week, "Saturday week" a week after the next one. */
function weekdayAfter([, which, name, week]: RegExpExecArray, today: LocalDay): LocalDay | null {
  const wanted = (WEEKDAYS.indexOf((name ?? '').slice(0, 3)) + 1) as IsoWeekday
  const days = wanted - isoWeekday(today)
  if (which === 'next') return daysLater(today, days + 7)
  return daysLater(today, (days > 0 ? days : days + 7) + (week === undefined ? 0 : 7))
}

function daysFromNow([, count = '', unit]: RegExpExecArray, today: LocalDay): LocalDay | null {
  const number = /\d/.test(count) ? Number(count) : Math.max(1, NUMBER_WORDS.indexOf(count))
  if (unit !== 'month') return daysLater(today, number * (unit === 'week' ? 7 : 1))
  const months = Number(today.slice(5, 7)) - 1 + number
  const month = `${Number(today.slice(0, 4)) + Math.floor(months / 12)}-${twoDigits((months % 12) + 1)}`
  return lastDayUpTo(month, Number(today.slice(8)))
}

function partOfMonth([, part, which = '', month]: RegExpExecArray, today: LocalDay): LocalDay | null {
  const named = month === undefined ? monthFromNow(which.startsWith('next') ? 1 : 0, today) : namedMonth(month, today)
  if (part === 'end') return lastDayUpTo(named, 31)
  return `${named}-${part === 'middle' ? '15' : '05'}`
}

const monthFromNow = (months: number, today: LocalDay): string => {
  const index = Number(today.slice(5, 7)) - 1 + months
  return `${Number(today.slice(0, 4)) + Math.floor(index / 12)}-${twoDigits((index % 12) + 1)}`
}

const namedMonth = (month: string, today: LocalDay): string => {
  const number = MONTHS.indexOf(month.slice(0, 3)) + 1
  const year = Number(today.slice(0, 4)) + (number < Number(today.slice(5, 7)) ? 1 : 0)
  return `${year}-${twoDigits(number)}`
}

/** The last existing day of a month (`2027-02`) that is not after `dayOfMonth`. */
function lastDayUpTo(month: string, dayOfMonth: number): LocalDay {
  for (let day = dayOfMonth; day > 28; day -= 1)
    if (isLocalDay(`${month}-${twoDigits(day)}`)) return `${month}-${twoDigits(day)}`
  return `${month}-${twoDigits(Math.min(dayOfMonth, 28))}`
}

const twoDigits = (number: number): string => String(number).padStart(2, '0')

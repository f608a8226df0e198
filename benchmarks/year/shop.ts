import type { Almanac } from '../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { airAhead } from '../../core/almanac/air-ahead.ts'
import { cureClockOf } from '../../core/almanac/cure-clock.ts'
import { readHours } from '../../core/almanac/read-hours.ts'
import type { Said } from '../../core/learning/index.ts'
import type { WaitKind } from '../../core/planning/index.ts'
import { ASKED_FIRST } from '../../desk/learning/asked-first.ts'
import { isoWeekdayOf } from '../../core/time/local-day.ts'
import { workingHours, type DayHours, type WeeklyHours } from '../../core/time/shop-calendar.ts'
import { DAY_MIN, firstDayWith, LAST_DAY } from './calendar.ts'
import type { Evening } from './executor/evening.ts'
import type { TrueClock } from './executor/truth.ts'
import { between, normal, uniform } from './luck.ts'
import type { World } from './world.ts'

/** One shop of a world: what its maker has in the almanac, and what is true. */
export interface Shop {
  readonly world: World
  /** Begins the name of all its luck. */
  readonly name: string
  /** Opens on this day. */
  readonly firstDay: number
  readonly almanac: Almanac
  /** Sessions of the almanac, far beyond the years that are lived. */
  readonly hours: readonly Evening[]
  readonly attendance: number
  /** Logarithm of true minutes over the book's, of the maker. */
  readonly makerBias: number
  /** How fast the maker said to be before anything was logged. */
  readonly said: readonly Said[]
  readonly operationBias: (operation: string) => number
  /** The clock on which a wait for a glue or finish really runs. */
  readonly clockOf: (product: string, wait: WaitKind) => TrueClock
  /** When the maker is there on a day; null: not at all. */
  readonly evening: (day: number) => Evening | null
}

/** Years of hours beyond the last day, so that no plan runs out of them. */
const HORIZON_DAYS = 4 * 365

/** @param yearsOfHistory whole years before the judged one */
export function shopOf(world: World, seed: number, yearsOfHistory = 2): Shop {
  const name = `${world.name}/${seed}`
  const attendance = between(`${name}/attendance`, ...world.evenings.attendance)
  const almanac = almanacOf(world, attendanceSaid(world, name, attendance))
  const firstDay = firstDayWith(yearsOfHistory)
  const first = firstDay * DAY_MIN
  const maker = almanac.makers[0]!
  const hours = workingHours('UTC', maker, [], first, (LAST_DAY + HORIZON_DAYS) * DAY_MIN)
  const { temperatureOff } = world.waits
  const trueAlmanac = {
    ...almanac,
    shop: {
      ...almanac.shop,
      temperatureC: almanac.shop.temperatureC + between(`${name}/air`, -temperatureOff, temperatureOff),
    },
  }
  const air = airAhead(trueAlmanac, first)
  const clocks = new Map<string, TrueClock>()
  const byDay = new Map(hours.map((session) => [Math.floor(session.from / DAY_MIN), session]))
  const makerBias = world.minutes.makerMean + world.minutes.makerSpread * normal(`${name}/maker`)
  const operationBias = (operation: string): number =>
    world.minutes.operationSpread * normal(`${name}/operation ${operation}`)
  const timesSaid = ({ timesSpread }: NonNullable<World['answers']>): readonly Said[] =>
    ASKED_FIRST.map(({ operation }) => ({
      operation,
      y: makerBias + operationBias(operation) + timesSpread * normal(`${name}/said ${operation}`),
    }))
  return {
    ...{ world, name, firstDay, almanac, hours, attendance, makerBias, operationBias },
    said: world.answers === null ? [] : timesSaid(world.answers),
    clockOf: (product, wait) => {
      const key = `${product} ${wait}`
      const known = clocks.get(key) ?? cureClockOf(trueAlmanac, product, wait, air).segments
      clocks.set(key, known)
      return known
    },
    evening: (day) => {
      const session = byDay.get(day)
      return session === undefined ? null : metEvening(world, name, attendance, day, session)
    },
  }
}

/** `19:00-21:30` as minutes of the day; null: these are no hours. */
export function hoursOfDay(text: string): DayHours | null {
  const [from = '', to = ''] = text.split('-')
  const read = readHours(from, to)
  return read.ok ? read.value : null
}

/** What the almanac counts on: in whole tenths, as it is asked for. */
function attendanceSaid({ answers, evenings }: World, shop: string, attendance: number): number {
  if (answers === null) return evenings.almanacAttendance
  const { attendanceOff } = answers
  const guess = attendance + between(`${shop}/attendance said`, -attendanceOff, attendanceOff)
  return Math.min(1, Math.max(0.1, Math.round(guess * 10) / 10))
}

function almanacOf({ evenings }: World, attendance: number): Almanac {
  const starting = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
  const weeklyHours: WeeklyHours = Object.fromEntries(
    Object.entries(evenings.hours).map(([weekday, text]) => [weekday, [hoursOfDay(text)!]]),
  )
  const maker = { id: 'maker', name: 'The maker', weeklyHours, attendance }
  return { ...starting, makers: [maker] }
}

/** Up to this share of an evening is lost when it ends early. */
const MOST_LOST = 0.5

function metEvening(
  { evenings }: World,
  shop: string,
  attendance: number,
  day: number,
  session: Evening,
): Evening | null {
  // Weeks begin on Monday.
  const week = day - isoWeekdayOf(day)
  if (uniform(`${shop}/week ${week}`) < evenings.lostWeek) return null
  const luck = `${shop}/evening ${day}`
  if (uniform(luck) >= attendance) return null
  const from = session.from + Math.round(between(`${luck}/late`, 0, evenings.lateUpToMin))
  const length = session.to - from
  const lost = uniform(`${luck}/early`) < evenings.closesEarly ? between(`${luck}/lost`, 0, MOST_LOST) : 0
  const to = session.to - Math.round(lost * length)
  return to > from ? { from, to } : null
}

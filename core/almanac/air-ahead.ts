import { NOTHING_LOGGED, type HoursLogged } from '../book/hours-logged.ts'
import type { ClimateSegment } from '../waits/temperature-profile.ts'
import type { Almanac } from './almanac.ts'
import { hoursWorked, shopAirBetween } from './shop-air.ts'

/**
 * The shop's air as far as anything is planned, and the instants between which a cure clock may take its mean: every hour
 * for what is near, then sessions, cooling rooms and cold ones, at last a whole year for ever. Null: the air is steady.
 */
export interface AirAhead {
  readonly hours: readonly ClimateSegment[]
  readonly steps: readonly number[] | null
}

const DAY = 24 * 60
const MONTH = 30 * DAY
const YEAR = 365 * DAY

/** Waits that began longer ago than this are over, or count with the means of months. */
const HOURLY_BACK = 62 * DAY
const MONTHS_BACK = 6 * MONTH
const HOURLY_AHEAD = 120 * DAY
const SESSIONS_AHEAD = 400 * DAY

/**
 * @param today first minute of the local day
 * @param logged when somebody really was in the shop
 */
export function airAhead(almanac: Almanac, today: number, logged: HoursLogged = NOTHING_LOGGED): AirAhead {
  // Months begin at the same instants whatever day it is, so that a wait is not over at another time tomorrow.
  const from = Math.floor((today - MONTHS_BACK) / MONTH) * MONTH
  const hours = shopAirBetween(almanac, from, today + SESSIONS_AHEAD + YEAR, logged)
  if (almanac.air.heated === 'always') return { hours, steps: null }
  const [near, far, last] = [today - HOURLY_BACK, today + HOURLY_AHEAD, today + SESSIONS_AHEAD]
  const steps: number[] = []
  for (let month = from; month < near; month += MONTH) steps.push(month)
  for (const hour of hours) if (hour.from >= near && hour.from < far) steps.push(hour.from)
  for (const session of hoursWorked(almanac, far, last)) {
    const edges = [session.from, session.to, session.to + almanac.air.coolDownMin]
    steps.push(...edges.filter((at) => at >= far && at < last))
  }
  return { hours, steps: [...new Set([...steps, last])].sort((a, b) => a - b) }
}

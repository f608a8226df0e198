import { joined, NOTHING_LOGGED, type HoursLogged } from '../book/hours-logged.ts'
import type { Interval } from '../planning/index.ts'
import { localDay } from '../time/local-day.ts'
import { workingHours } from '../time/shop-calendar.ts'
import type { Conditions } from '../waits/finish-bands.ts'
import { airOf, climateProfile, type ClimateSegment, type ShopClimate } from '../waits/temperature-profile.ts'
import type { Almanac } from './almanac.ts'

/**
 * The shop's air between two instants, hour by hour, heated in the hours of its makers: as they were logged, where they were, else as the
 * almanac has them.
 */
export function shopAirBetween(
  almanac: Almanac,
  fromMin: number,
  toMin: number,
  logged: HoursLogged = NOTHING_LOGGED,
): readonly ClimateSegment[] {
  const climate = shopClimate(almanac)
  return climate.kind === 'steady'
    ? climateProfile(climate, [], 0, 0)
    : climateProfile(climate, hoursWorked(almanac, fromMin, toMin, logged), fromMin, toMin)
}

/**
 * When anybody works, from a day before `fromMin`, whose evening still warms the night: sorted, disjoint. What was logged counts at
 * whatever hour. Sessions of the almanac count as well, as not everything is logged that is done in a shop; but one that is over, in which
 * nothing was logged though something was on that day, is taken as left out.
 */
export function hoursWorked(
  { shop, makers, specialDays }: Almanac,
  fromMin: number,
  toMin: number,
  { stretches, until }: HoursLogged = NOTHING_LOGGED,
): Interval[] {
  const first = fromMin - 24 * 60
  const sessions = makers.flatMap((maker) => workingHours(shop.timeZone, maker, specialDays, first, toMin))
  const days = new Set(stretches.map(({ from }) => localDay(from, shop.timeZone)))
  const tookPlace = (session: Interval): boolean =>
    session.to >= until ||
    !days.has(localDay(session.from, shop.timeZone)) ||
    stretches.some(({ from, to }) => from < session.to && session.from < to)
  return joined([...sessions.filter(tookPlace), ...stretches.filter(({ from, to }) => to > first && from < toMin)])
}

/** The air at an instant at which somebody works: at least as warm as the shop is heated for work. */
export function airAtWork(almanac: Almanac, at: number): Conditions {
  const { celsius, rh } = airOf(shopAirBetween(almanac, at, at + 60), at)
  return { celsius: Math.max(celsius, almanac.shop.temperatureC), rh }
}

function shopClimate({ shop, air }: Almanac): ShopClimate {
  const atWork = { celsius: shop.temperatureC, rh: shop.humidityRh }
  if (air.heated === 'always') return { kind: 'steady', ...atWork }
  return {
    kind: 'heated-for-work',
    ...atWork,
    restC: air.unheatedC,
    restRh: air.unheatedRh,
    warmUpHours: air.warmUpMin / 60,
    coolDownHours: air.coolDownMin / 60,
  }
}

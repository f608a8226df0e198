import type { Interval } from '../planning/model.ts'
import { workingHours } from '../time/shop-calendar.ts'
import { climateProfile, type ClimateSegment, type ShopClimate } from '../waits/temperature-profile.ts'
import type { Almanac } from './almanac.ts'

/** The shop's air between two instants, hour by hour, heated in the hours of its makers as the almanac has them. */
export function shopAirBetween(almanac: Almanac, fromMin: number, toMin: number): readonly ClimateSegment[] {
  const climate = shopClimate(almanac)
  return climate.kind === 'steady'
    ? climateProfile(climate, [], 0, 0)
    : climateProfile(climate, hoursWorked(almanac, fromMin, toMin), fromMin, toMin)
}

/** When anybody works, from a day before `fromMin`, whose evening still warms the night: sorted, disjoint. */
export function hoursWorked({ shop, makers, specialDays }: Almanac, fromMin: number, toMin: number): Interval[] {
  const sessions = makers
    .flatMap((maker) => workingHours(shop.timeZone, maker, specialDays, fromMin - 24 * 60, toMin))
    .sort((a, b) => a.from - b.from)
  const merged: { from: number; to: number }[] = []
  for (const { from, to } of sessions) {
    const last = merged.at(-1)
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to)
    else merged.push({ from, to })
  }
  return merged
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

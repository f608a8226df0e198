import { localDay, startOfLocalDay } from '../time/local-day.ts'
import { airDoubts, equilibriumMoisture } from '../wood/moisture.ts'
import { movementDoubts } from '../wood/movement.ts'
import type { Air, HomeAir, WoodMoisture } from '../wood/seasons.ts'
import type { Almanac } from './almanac.ts'
import { homeOf } from './home.ts'
import { MONTHS } from './months.ts'
import { writeFraction, writeTemperature } from './read-figures.ts'
import { shopAirBetween } from './shop-air.ts'

/**
 * Moisture of the wood when it is worked at an instant, and what it comes to in the customer's home. In steady air it is the
 * equilibrium moisture content of that air; in a shop that is heated only for work, the mean of it over the hours of two
 * weeks in the middle of that month, as wood is too slow to follow an evening but follows the season. The month is
 * enough, and sizes stay the same when a plan moves by a day.
 * @source Wood Handbook, FPL-GTR-282 (2021), Eq. 4-5; the mean over two weeks is derived: wood lies seven to fourteen days in the
 * shop before it is milled (Franklin International, Product and Application Technical Guide I)
 * @param orderHome where the piece will live, as said with the order; null: the almanac's usual home
 */
export function woodMoisture(almanac: Almanac, at: number, orderHome: HomeAir | null = null): WoodMoisture {
  const { shop } = almanac
  const home = orderHome ?? almanac.home
  const month = localDay(at, shop.timeZone).slice(0, 7)
  const [from, to] = ['08', '22'].map((day) => startOfLocalDay(`${month}-${day}`, shop.timeZone)) as [number, number]
  const hours = almanac.air.heated === 'always' ? [] : shopAirBetween(almanac, from, to)
  const atWork = { celsius: shop.temperatureC, rh: shop.humidityRh }
  const buildPct = hours.length === 0 ? moistureIn(atWork) : meanOver(hours, to)
  const dryPct = moistureIn(home.driest)
  const dampPct = moistureIn(home.dampest)
  const say = ({ celsius, rh }: Air): string => `${writeTemperature(celsius, shop.units)}, ${writeFraction(rh)}`
  const coldest = hours.reduce((least, air) => (air.celsius < least.celsius ? air : least), atWork)
  const built =
    hours.length === 0
      ? `as at rest in the shop’s air (${say(atWork)})`
      : `in ${MONTHS[Number(month.slice(5)) - 1]}: the mean of the shop’s air over two weeks, from ${say(coldest)} at rest to ${say(atWork)} at work`
  const doubts = [
    ...new Set([
      ...[coldest, home.driest, home.dampest].flatMap(({ celsius, rh }) => airDoubts(celsius, rh)),
      ...movementDoubts(buildPct, dryPct, dampPct),
    ]),
  ]
  return {
    buildPct,
    dryPct,
    dampPct,
    because: [
      `Wood at ${percent(buildPct)} when built, ${built}.`,
      `${orderHome === null ? 'In the customer’s home' : 'In this customer’s home, as said with the order,'} it goes from ${percent(dryPct)} (${say(home.driest)}) to ${percent(dampPct)} (${say(home.dampest)}).`,
      ...doubts,
    ].join(' '),
    source: `Wood Handbook, FPL-GTR-282 (2021), Eq. 4-5${hours.length === 0 ? '' : '; two weeks in the shop before milling: Franklin International'}; home: ${sourceOf(home, orderHome)}`,
  }
}

const sourceOf = (home: HomeAir, orderHome: HomeAir | null): string => {
  const { kind, source } = homeOf(home)
  return kind === 'own' && orderHome !== null ? 'as said with the order' : source
}

const moistureIn = ({ celsius, rh }: Air): number => equilibriumMoisture(celsius, Math.min(rh, MOST_RH))

/** The formula has no meaning at full humidity. */
const MOST_RH = 0.98

function meanOver(hours: readonly (Air & { readonly from: number })[], to: number): number {
  let [sum, minutes] = [0, 0]
  for (const [index, hour] of hours.entries()) {
    const until = Math.min(to, hours[index + 1]?.from ?? to)
    if (until <= hour.from) continue
    sum += moistureIn(hour) * (until - hour.from)
    minutes += until - hour.from
  }
  return sum / minutes
}

const percent = (value: number): string => `${value.toFixed(1)}%`

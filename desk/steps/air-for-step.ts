import type { Almanac } from '../../core/almanac/almanac.ts'
import { alongStays, type Stay } from '../../core/book/stays.ts'
import { productsPutOn } from '../../core/book/products-put-on.ts'
import type { BookStep } from '../../core/book/book.ts'
import { writeTemperature } from '../../core/almanac/read-figures.ts'
import { rateAt } from '../../core/waits/cure-rate.ts'
import { clockOf } from '../../core/waits/product.ts'
import { applicationHold, spoiledSince, spoilingOf, type Spoiled } from '../../core/waits/application.ts'
import { airOf, type ClimateSegment } from '../../core/waits/temperature-profile.ts'
import type { ShopSetting } from '../planner/planning-setting.ts'
import { writeDayAndTime } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'

type AirOf = Pick<Moment, 'almanac' | 'asked' | 'lagsFrom' | 'now' | 'setting' | 'stays' | 'wording'>

/** The glue or finish that a step puts on, as the almanac lists it; null: none. */
function productOf(step: BookStep, { almanac, lagsFrom }: AirOf) {
  const id = productsPutOn([step], lagsFrom(step.id)).get(step.id)
  return [...almanac.glues, ...almanac.finishes].find((one) => one.id === id) ?? null
}

/** Why glue or finish should not go on at this moment, and from when it may; null where it may, or the step puts nothing on. */
export function airHindrance(step: BookStep, moment: AirOf): string | null {
  const { now, setting, asked } = moment
  const product = productOf(step, moment)
  const application =
    product === null ? null : setting.applicationOf(product.id, asked.carrying.place.get(step.id)?.id ?? null)
  if (product === null || application === null) return null
  const next = application.windows.find(({ to }) => to >= now + step.minutes)
  if (next !== undefined && next.from <= now) return null
  const hold = applicationHold(product, airOf(setting.air.hours, now))
  const reason =
    hold?.message(moment.almanac.shop.units) ??
    `${product.name} would still be wet when it gets too ${spoiledBy(product)}: it ${spoilingOf(product)?.how ?? ''}.`
  return next === undefined
    ? `${reason} ${application.help}`
    : `${reason} OK from ${writeDayAndTime(next.from, moment.wording)}.`
}

const spoiledBy = (product: Parameters<typeof spoilingOf>[0]): string =>
  spoilingOf(product)?.belowC == null ? 'damp' : 'cold'

/**
 * Why the glue of this hour leaves too little time for a glue-up; null where it does not, or nothing is known of it. In a warmer hour than it was
 * planned for the assembly time is shorter.
 */
export function assemblyHindrance(step: BookStep, moment: AirOf): string | null {
  const product = step.spreadMin === undefined ? null : productOf(step, moment)
  if (product === null || step.spreadMin === undefined) return null
  const assembly = clockOf(product, 'assembly')
  if (assembly === null) return null
  const { celsius, rh } = airOf(moment.setting.air.hours, moment.now)
  const minutes = Math.floor(assembly.max / Math.max(1, rateAt(product, 'assembly', celsius, rh)))
  if (step.spreadMin <= minutes) return null
  const warmth = writeTemperature(celsius, moment.almanac.shop.units)
  return `${product.name} gives ${minutes} min at ${warmth}, spreading and closing take about ${step.spreadMin}. Wait for a cooler hour, get help, or glue up in two halves.`
}

/** What the air has ruined since a step was done; null: nothing, as far as is known. */
export function spoiledAfter(step: BookStep, endedAt: number, moment: AirOf): Spoiled | null {
  const product = productOf(step, moment)
  return product === null
    ? null
    : spoiledSince(product, endedAt, moment.now, airAlong(moment.stays(step.id), moment.setting, moment.almanac))
}

/** The air that a piece lived through, or will: the shop's, and that of the places where it stood. */
export const airAlong = (
  stays: readonly Stay[],
  { air }: Pick<ShopSetting, 'air'>,
  { places }: Pick<Almanac, 'places'>,
): readonly ClimateSegment[] =>
  alongStays(air.hours, stays, (id) => {
    const place = places.find((one) => one.id === id)
    return place === undefined ? null : [{ from: 0, celsius: place.celsius, rh: place.rh }]
  })

import { endOfWait } from '../../core/book/wait-over.ts'
import type { BookLag } from '../../core/book/book.ts'
import type { Interval } from '../../core/planning/index.ts'
import { writeFraction, writeTemperature } from '../../core/almanac/read-figures.ts'
import { goesOnAt, standstills } from '../../core/waits/cure-clock.ts'
import { CLOCK_OF_WAIT } from '../../core/almanac/cure-clock.ts'
import type { WaitKind } from '../../core/planning/index.ts'
import { responseOf, standstillAt } from '../../core/waits/cure-rate.ts'
import type { AirHold } from '../../core/waits/hold.ts'
import { BANDS_SOURCE } from '../../core/waits/finish-bands.ts'
import { classOf, type Product } from '../../core/waits/product.ts'
import { placeAt } from '../../core/book/stays.ts'
import { airOf, type ClimateSegment } from '../../core/waits/temperature-profile.ts'
import { airAlong } from './air-for-step.ts'
import type { Moment } from '../moment.ts'
import { durationWords } from '../../core/time/duration.ts'

/** What this shop's air makes of a wait. */
export interface WaitHere {
  /** Null: it never is over, as nothing cures in this air. */
  readonly overAt: number | null
  /** When it stands still until it is over. */
  readonly still: readonly Interval[]
  /** How that comes about, as sentences; empty where it takes as long as at reference conditions. */
  readonly because: readonly string[]
}

/** A wait that began, or will begin, at `startAt`, where the piece is and was. */
export function waitHere(
  lag: Pick<BookLag, 'minMin' | 'product' | 'wait'> & { readonly fromStep?: string },
  startAt: number,
  { setting, almanac, stays: staysOf }: Pick<Moment, 'setting' | 'almanac' | 'stays'>,
): WaitHere {
  const stays = lag.fromStep === undefined ? [] : staysOf(lag.fromStep)
  const clock = lag.product === null ? null : setting.clockOf(lag.product, lag.wait, stays)
  const overAt = endOfWait(startAt, lag.minMin, clock)
  if (clock === null || overAt === null || lag.minMin <= 0 || overAt - startAt === lag.minMin)
    return { overAt, still: [], because: [] }
  const still = standstills(startAt, overAt, clock.segments)
  const product = productOf(almanac, lag.product)
  const first = still[0]
  const hold =
    product === null || first === undefined
      ? null
      : holdAt(product, lag.wait, airAlong(stays, setting, almanac), first.from)
  const { shop, air } = almanac
  const place = almanac.places.find(({ id }) => id === placeAt(stays, Infinity))
  const takes = `In this shop it takes ${durationWords(overAt - startAt)}`
  return {
    overAt,
    still,
    because: [
      place !== undefined
        ? `${place.name}, ${writeTemperature(place.celsius, shop.units)} and ${writeFraction(place.rh)} humidity: it takes ${durationWords(overAt - startAt)}.`
        : air.heated === 'always'
          ? `${takes}: ${writeTemperature(shop.temperatureC, shop.units)} and ${writeFraction(shop.humidityRh)} humidity, as in the Almanac.`
          : `${takes}, as it is heated only while somebody works${still.length === 0 ? '.' : `: for ${durationWords(lengthOf(still))} of that it stands still.`}`,
      ...(air.heated === 'always' || place !== undefined
        ? []
        : ['The shop was warm when work was logged, else in the hours of the Almanac.']),
      ...(hold === null ? [] : [hold.message(shop.units)]),
      ...(product === null ? [] : [`What cold and damp do to it: ${responseSource(product)}.`]),
    ],
  }
}

/** Why a product stands still at this instant, in a word and in sentences, and when it goes on; null while it runs. */
export function standsStillNow(
  { product: productId, wait, fromStep }: Pick<BookLag, 'product' | 'wait' | 'fromStep'>,
  { setting, almanac, now, stays: staysOf }: Pick<Moment, 'setting' | 'almanac' | 'now' | 'stays'>,
): { readonly word: string; readonly reason: string; readonly goesOnAt: number | null } | null {
  if (productId === null) return null
  const stays = staysOf(fromStep)
  const on = goesOnAt(now, setting.clockOf(productId, wait, stays).segments)
  if (on === now) return null
  const product = productOf(almanac, productId)
  const hold = product && holdAt(product, wait, airAlong(stays, setting, almanac), now)
  return {
    word: hold === null ? 'Not curing' : HOLD_WORDS[hold.reason],
    reason: hold?.message(almanac.shop.units) ?? 'It does not cure in this air.',
    goesOnAt: on,
  }
}

function holdAt(product: Product, wait: WaitKind, air: readonly ClimateSegment[], at: number): AirHold | null {
  const { celsius, rh } = airOf(air, at)
  return standstillAt(product, CLOCK_OF_WAIT[wait], celsius, rh)
}

const HOLD_WORDS: Readonly<Record<AirHold['reason'], string>> = {
  'too-cold': 'Too cold',
  'too-warm': 'Too warm',
  'too-damp': 'Too damp',
}

const productOf = ({ glues, finishes }: Moment['almanac'], id: string | null): Product | null =>
  [...glues, ...finishes].find((one) => one.id === id) ?? null

function responseSource(product: Product): string {
  const of = classOf(product)
  return of?.kind === 'glue' ? responseOf(product, of.glue).source : BANDS_SOURCE
}

const lengthOf = (intervals: readonly Interval[]): number => intervals.reduce((sum, { from, to }) => sum + to - from, 0)

import { joined } from '../book/hours-logged.ts'
import type { Interval } from '../planning/index.ts'
import { applicationHold, applicationWindows, spoilingOf } from '../waits/application.ts'
import type { ClimateSegment } from '../waits/temperature-profile.ts'
import type { AirHold } from '../waits/hold.ts'
import { placeHold } from '../waits/drying-place.ts'
import { writeDuration } from '../time/duration.ts'
import type { AirAhead } from './air-ahead.ts'
import type { Almanac } from './almanac.ts'
import type { Product } from '../waits/product.ts'
import { writeTemperature } from './read-figures.ts'

/** When a glue or finish may be put on in this shop's air. */
export interface Application {
  /** Sorted, disjoint; each holds the whole step and is followed by air that ruins nothing while it is wet. */
  readonly windows: readonly Interval[]
  /** What is wrong with the air, and what would do, as sentences: for a step that fits none of the windows, or where there is none. */
  readonly help: string
}

/** From the first instant that matters until beyond which nothing is planned; and when each maker works in between. */
export interface WorkAhead extends Interval {
  readonly makers: readonly { readonly hours: readonly Interval[] }[]
}

/**
 * @param product id of a glue or finish of the almanac
 * @param dryingIn place of the almanac where it is carried at once; null: it stays in the shop
 * @returns null where it may be put on at any time, or the almanac does not list it (any more)
 */
export function applicationOf(
  almanac: Almanac,
  product: string,
  { hours, steps }: AirAhead,
  { from, to, makers }: WorkAhead,
  dryingIn: string | null = null,
): Application | null {
  const { glues, finishes, places } = almanac
  const found = [...glues, ...finishes].find((one) => one.id === product)
  if (found === undefined) return null
  // The last segment of a shop that is heated for work only stands in for what nobody knows.
  const until = steps === null ? to : Math.min(to, hours.at(-1)?.from ?? to)
  const place = places.find(({ id }) => id === dryingIn)
  const dryingAir = place === undefined ? hours : [{ from: 0, celsius: place.celsius, rh: place.rh }]
  const windows = applicationWindows(found, hours, from, dryingAir)
    .map((window) => ({ from: window.from, to: Math.min(window.to, until) }))
    .filter((window) => window.from < window.to)
  if (windows.length === 1 && windows[0]?.from === from && windows[0].to === until) return null
  const { wrong, said } =
    windows.length === 0
      ? neverAllowed(found, almanac, () => usualHindrance(found, hours, makers, windows))
      : usuallyWrong(found, usualHindrance(found, hours, makers, windows))
  return { windows, help: `${said} ${whatWouldDo(found, almanac, { hours, from, wrong })}` }
}

type Wrong = AirHold['reason']

interface WrongWithAir {
  readonly wrong: Wrong
  readonly said: string
}

const usuallyWrong = ({ name }: Product, wrong: Wrong): WrongWithAir => ({
  wrong,
  said: `It gets ${WRONG[wrong]} for ${name}.`,
})

/** What is wrong where the air allows it at no time: already the air that is kept while somebody works, or what comes after. */
function neverAllowed(product: Product, { shop }: Almanac, usually: () => Wrong): WrongWithAir {
  const atWork = applicationHold(product, { celsius: shop.temperatureC, rh: shop.humidityRh })
  if (atWork !== null) return { wrong: atWork.reason, said: atWork.message(shop.units) }
  const [wrong, spoiling] = [usually(), spoilingOf(product)]
  return {
    wrong,
    said:
      spoiling?.belowC != null && wrong === 'too-cold'
        ? `${product.name} has to stay above ${writeTemperature(spoiling.belowC, shop.units)} for ${writeDuration(spoiling.wetMin)} after it is put on.`
        : `The air in the shop is always ${WRONG[wrong]} for ${product.name}.`,
  }
}

/**
 * What most often hinders a product in working hours outside its windows: the air of that hour, or the one that it would still be wet in.
 * @param windows sorted, disjoint
 */
function usualHindrance(
  product: Product,
  air: readonly ClimateSegment[],
  makers: WorkAhead['makers'],
  windows: readonly Interval[],
): Wrong {
  const working = joined(makers.flatMap((maker) => maker.hours))
  const spoiling = spoilingOf(product)
  const whileWet: Wrong = spoiling !== null && spoiling.belowC === null ? 'too-damp' : 'too-cold'
  const minutes = { 'too-cold': 0, 'too-warm': 0, 'too-damp': 0 }
  let next = 0
  for (const segment of within(air, working)) {
    while (next < windows.length && windows[next]!.to <= segment.from) next++
    const isAllowed = next < windows.length && windows[next]!.from <= segment.from
    if (!isAllowed) minutes[applicationHold(product, segment)?.reason ?? whileWet] += segment.minutes
  }
  const worst = Math.max(...Object.values(minutes))
  return worst === 0 ? whileWet : (REASONS.find((reason) => minutes[reason] === worst) ?? whileWet)
}

/** The air of the hours of work, piece by piece, as far as it is known hour by hour. */
function* within(
  air: readonly ClimateSegment[],
  working: readonly Interval[],
): Generator<ClimateSegment & { readonly minutes: number }> {
  let at = 0
  for (const session of working) {
    while (at + 1 < air.length && air[at + 1]!.from <= session.from) at++
    for (let index = at; index < air.length && air[index]!.from < session.to; index++) {
      const from = Math.max(air[index]!.from, session.from)
      const to = Math.min(air[index + 1]?.from ?? Infinity, session.to)
      if (from < to) yield { ...air[index]!, from, minutes: to - from }
    }
  }
}

const REASONS = ['too-cold', 'too-warm', 'too-damp'] as const satisfies readonly Wrong[]

const WRONG = {
  'too-cold': 'too cold',
  'too-warm': 'too warm',
  'too-damp': 'too damp',
} as const satisfies Readonly<Record<Wrong, string>>

/** Named where the almanac has them: places whose air allows it, and others of its kind that the shop's air allows. */
function whatWouldDo(
  product: Product & { readonly id: string },
  almanac: Almanac,
  { hours, from, wrong }: { readonly hours: AirAhead['hours']; readonly from: number; readonly wrong: Wrong },
): string {
  const { places, glues, finishes } = almanac
  const rooms = few(
    places,
    ({ kind, celsius, rh }) =>
      placeHold(product, kind) === null && applicationWindows(product, [{ from: 0, celsius, rh }], from).length > 0,
  )
  const listed = glues.some(({ id }) => id === product.id) ? glues : finishes
  const others = few(listed, (one) => one.id !== product.id && applicationWindows(one, hours, from).length > 0)
  const { shop, elsewhere } = WHAT_HELPS[wrong]
  const there = rooms.length === 0 ? `dry it in a ${elsewhere} place` : `put it on and dry it in ${oneOf(rooms)}`
  const instead = others.length === 0 ? 'choose another glue or finish' : `use ${oneOf(others)}`
  return `${shop}, ${there}, or ${instead}.`
}

const WHAT_HELPS = {
  'too-cold': { shop: 'Warm the shop', elsewhere: 'warmer' },
  'too-warm': { shop: 'Cool the shop', elsewhere: 'cooler' },
  'too-damp': { shop: 'Warm and air the shop', elsewhere: 'drier' },
} as const satisfies Readonly<Record<Wrong, { readonly shop: string; readonly elsewhere: string }>>

/** The first two that would do: nobody reads a list, and to look at all of their air for years ahead takes long. */
function few<T>(things: readonly T[], wouldDo: (thing: T) => boolean): readonly T[] {
  const found: T[] = []
  for (const thing of things) {
    if (found.length === 2) break
    if (wouldDo(thing)) found.push(thing)
  }
  return found
}

const oneOf = (things: readonly { readonly name: string }[]): string => things.map(({ name }) => name).join(' or ')

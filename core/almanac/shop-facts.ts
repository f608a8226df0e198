import type {
  FinishFacts,
  GlueFacts,
  RangeMin,
  ShopFacts,
  StandardTime,
  StationFacts,
  WoodFacts,
} from '../constructions/shop-facts.ts'
import { writeDuration } from '../time/duration.ts'
import type { Clock } from '../waits/clock.ts'
import { rateAt } from '../waits/cure-rate.ts'
import type { Conditions } from '../waits/finish-bands.ts'
import { classOf, clockOf, isDeadline, potLifeOf, spreadOf, type ClockName } from '../waits/product.ts'
import { recoatWindowWidth } from '../waits/wait-minutes.ts'
import { coefficientAcross } from '../wood/movement.ts'
import type { HomeAir } from '../wood/seasons.ts'
import { species, type Species } from '../wood/species.ts'
import { densityAt } from '../wood/weight.ts'
import type { Almanac, GoBy, ProductOnShelf, StationKind, WoodOnOffer } from './almanac.ts'
import { standardTimesOf } from './standard-times.ts'
import { airAtWork } from './shop-air.ts'
import { scheduleFacts } from './schedule-facts.ts'
import { timeInUse } from './times-in-use.ts'
import { woodMoisture } from './wood-moisture.ts'

/**
 * The almanac as constructions ask it: products resolved to their clocks (the label wins over the class), stations by what
 * they are for.
 * @param builtAt instant at which the piece's parts are fitted to each other: what the wood holds then follows the season
 * @param home where it will live, as said with the order; null: the almanac's usual home
 */
export function shopFactsOf(almanac: Almanac, builtAt: number, home: HomeAir | null = null): ShopFacts {
  const times = new Map(
    [...standardTimesOf(almanac)].map(([operation, time]) => [operation, timeInUse(time, almanac.times)]),
  )
  return {
    units: almanac.shop.units,
    woods: almanac.woods.map(woodFacts),
    moisture: woodMoisture(almanac, builtAt, home),
    glues: almanac.glues.flatMap((product) => glueFacts(product, almanac, airAtWork(almanac, builtAt))),
    finishes: withSchedules(
      almanac.finishes.flatMap((product) => finishFacts(product, timeOf(times, 'sand-between-coats'), almanac)),
      almanac,
    ),
    stations: stationFacts(almanac),
    standardTime: (operation) => timeOf(times, operation),
    allowances: almanac.allowances,
    clampForceN: almanac.clampForceN,
    glueUpWithinMin: almanac.glueUpWithinMin,
    ...sessionLengths(almanac),
  }
}

/** A schedule that has lost one of its finishes is left out, as a finish that the almanac does not list any more is. */
const withSchedules = (finishes: readonly FinishFacts[], almanac: Almanac): readonly FinishFacts[] => [
  ...finishes,
  ...almanac.finishSchedules.flatMap((schedule) => scheduleFacts(schedule, finishes, almanac) ?? []),
]

function timeOf(times: ReadonlyMap<string, StandardTime>, operation: string): StandardTime {
  const time = times.get(operation)
  if (time === undefined) throw new Error(`no standard time for ${operation}`)
  return time
}

/** Finished goods that have been in a house for a while hold about that much moisture, percent. */
const GOODS_MOISTURE_PCT = 8

function woodFacts({ id, name, species: speciesName }: WoodOnOffer): WoodFacts {
  const known = species(speciesName)
  return {
    id,
    name,
    species: known?.name ?? name,
    across: known === null ? null : acrossBy(known),
    kgPerCubicMetre: known === null ? null : densityAt(known, GOODS_MOISTURE_PCT),
  }
}

/** A product whose class this version does not know is left out: nothing can be planned with it. */
function acrossBy(known: Species): WoodFacts['across'] {
  const [unknown, flatsawn, riftsawn, quartersawn] = (['unknown', 'flatsawn', 'riftsawn', 'quartersawn'] as const).map(
    (cut) => coefficientAcross(known, cut),
  )
  return unknown?.ok && flatsawn?.ok && riftsawn?.ok && quartersawn?.ok
    ? {
        unknown: unknown.value,
        flatsawn: flatsawn.value,
        riftsawn: riftsawn.value,
        quartersawn: quartersawn.value,
      }
    : null
}

function glueFacts(product: ProductOnShelf, { goBy }: Almanac, air: Conditions): GlueFacts[] {
  const of = classOf(product)
  if (of?.kind !== 'glue') return []
  return [
    {
      id: product.id,
      name: product.name,
      assembly: inThisAir(rangeOf(product, goBy, 'assembly'), rateAt(product, 'assembly', air.celsius, air.rh)),
      assemblyC: air.celsius,
      potLife: potLifeIn(product, air),
      spread: spreadOf(product),
      clampsOff: rangeOf(product, goBy, 'clampsOff'),
      mayMachine: rangeOf(product, goBy, 'mayMachine'),
      fullStrength: rangeOf(product, goBy, 'fullStrength'),
      water: of.glue.water,
      contactOnly: of.glue.contactOnly,
      cautions: of.glue.cautions,
    },
  ]
}

function finishFacts(product: ProductOnShelf, sanding: StandardTime, { goBy, shop }: Almanac): FinishFacts[] {
  const of = classOf(product)
  if (of?.kind !== 'finish') return []
  const { finish } = of
  // What is sanded before every coat anyway loses nothing by a missed window, unless its label says otherwise.
  const windowMatters = finish.sandBetween === null || product.label['recoatCloses'] !== undefined
  const closes = windowMatters ? clockOf(product, 'recoatCloses') : null
  const coats = product.label['coats']
  return [
    {
      id: product.id,
      name: product.name,
      application: finish.application,
      coats:
        coats === undefined
          ? finish.coats
          : { least: coats.min, usual: coats.typical, most: coats.max, source: `label of ${product.name}` },
      waterBorne: finish.family === 'water-based',
      coverage: finish.coverage,
      ...(finish.flakes === undefined ? {} : { flakes: finish.flakes }),
      mayTurn: rangeOf(product, goBy, 'touchDry'),
      tacky: rangeOf(product, goBy, 'dustFree'),
      recoatOpens: rangeOf(product, goBy, 'recoatOpens'),
      recoatCloses:
        closes === null
          ? null
          : {
              minutes:
                rangeOf(product, goBy, 'recoatOpens').typical +
                (recoatWindowWidth(product, { celsius: shop.temperatureC, rh: shop.humidityRh }) ?? 0),
              remedy: finish.remedy?.note ?? 'Scuff-sand lightly before the next coat.',
              remedyMin: Math.max(1, Math.round(sanding.perUnitMin)),
              source: closes.source,
            },
      sandBetween: finish.sandBetween !== null,
      mayPack: rangeOf(product, goBy, 'mayPack'),
      fullCure: rangeOf(product, goBy, 'fullCure'),
      mayRubOut: rangeOf(product, goBy, clockOf(product, 'mayRubOut') === null ? 'fullCure' : 'mayRubOut'),
      film: finish.film,
      hardens: finish.family !== 'never-hardens',
      dryingOil: finish.dryingOil,
      nut: finish.nut,
      onFoodPieces: finish.onFoodPieces,
      cautions: finish.cautions,
    },
  ]
}

/**
 * The figure of a clock that is planned with, and what is left to chance around it. Where makers of a class disagree by two to eight
 * times, which of them to believe is the maker's choice and no matter of luck; the label, where it says something, is believed.
 */
function rangeOf(product: ProductOnShelf, goBy: GoBy, name: ClockName): RangeMin {
  const clock = clockOf(product, name)
  if (clock === null) throw new Error(`${product.class} has no clock ${name}`)
  const planned = clock.standing === 'label' ? clock.typical : figureGoneBy(clock, goBy, isDeadline(name))
  const said =
    clock.min === clock.max || clock.standing === 'label'
      ? clock.source
      : `${clock.source}; sources say ${writeDuration(clock.min)} to ${writeDuration(clock.max)}, planned with the ${goBy} one`
  if (isDeadline(name)) return { min: clock.min, typical: planned, max: clock.max, source: said }
  return {
    min: Math.floor(planned * LEFT_TO_CHANCE.sooner),
    typical: planned,
    max: Math.ceil(planned * LEFT_TO_CHANCE.later),
    source: said,
  }
}

/** Pot life in this air: what is mixed warms itself besides, so cold air gives no more. */
function potLifeIn(product: ProductOnShelf, air: Conditions): RangeMin | null {
  const pot = potLifeOf(product)
  return pot === null ? null : inThisAir(pot, rateAt(product, 'assembly', air.celsius, air.rh))
}

/** A deadline in air in which it runs so much faster than at reference: warm air leaves less time, cold air no more. */
const inThisAir = ({ min, typical, max, source }: RangeMin, rate: number): RangeMin => {
  const faster = Math.max(1, rate)
  const left = (minutes: number): number => Math.floor(minutes / faster + 1e-9)
  return { min: left(min), typical: left(typical), max: left(max), source }
}

function figureGoneBy({ min, typical, max }: Clock, goBy: GoBy, deadline: boolean): number {
  if (goBy === 'usual') return typical
  return (goBy === 'careful') === deadline ? min : max
}

/**
 * What one product does here, other than its figure says: thickness of the coat, wood, draft.
 * @source our own reading: rules of temperature are good to 30 % at best (core/waits); sooner is rarer than later
 */
const LEFT_TO_CHANCE = { sooner: 0.85, later: 1.3 } as const

function stationFacts(almanac: Almanac): ShopFacts['stations'] {
  const first = (kind: StationKind): StationFacts | undefined => {
    const station = almanac.stations.find((one) => one.kind === kind)
    return station === undefined ? undefined : { id: station.id, name: station.name, capacity: station.capacity }
  }
  const [clamps, rack, glueUpBench, finishingCorner] = [
    first('clamps'),
    first('rack'),
    first('glue-up-bench'),
    first('finishing-corner'),
  ]
  return {
    ...(clamps === undefined ? {} : { clamps }),
    ...(rack === undefined ? {} : { rack }),
    ...(glueUpBench === undefined ? {} : { glueUpBench }),
    ...(finishingCorner === undefined ? {} : { finishingCorner }),
  }
}

/** Without any weekly hours two hours are taken, so that work is still cut into handy pieces. */
function sessionLengths(almanac: Almanac): Pick<ShopFacts, 'shortestSessionMin' | 'longestSessionMin'> {
  const sessions = almanac.makers.flatMap((maker) =>
    Object.values(maker.weeklyHours).flatMap((hours) => hours.map(({ from, to }) => to - from)),
  )
  if (sessions.length === 0) return { shortestSessionMin: 120, longestSessionMin: 120 }
  return { shortestSessionMin: Math.min(...sessions), longestSessionMin: Math.max(...sessions) }
}

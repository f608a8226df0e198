import type {
  FinishFacts,
  GlueFacts,
  RangeMin,
  ShopFacts,
  StandardTime,
  StationFacts,
  WoodFacts,
} from '../constructions/shop-facts.ts'
import { classOf, clockOf, type ClockName } from '../waits/product.ts'
import { coefficientAcross } from '../wood/movement.ts'
import type { HomeAir } from '../wood/seasons.ts'
import { species } from '../wood/species.ts'
import { densityAt } from '../wood/weight.ts'
import type { Almanac, ProductOnShelf, StationKind, WoodOnOffer } from './almanac.ts'
import { standardTimesOf } from './standard-times.ts'
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
    glues: almanac.glues.flatMap(glueFacts),
    finishes: almanac.finishes.flatMap((product) => finishFacts(product, timeOf(times, 'sand-between-coats'))),
    stations: stationFacts(almanac),
    standardTime: (operation) => timeOf(times, operation),
    allowances: almanac.allowances,
    glueUpWithinMin: almanac.glueUpWithinMin,
    ...sessionLengths(almanac),
  }
}

function timeOf(times: ReadonlyMap<string, StandardTime>, operation: string): StandardTime {
  const time = times.get(operation)
  if (time === undefined) throw new Error(`no standard time for ${operation}`)
  return time
}

/** Finished goods that have been in a house for a while hold about that much moisture, percent. */
const GOODS_MOISTURE_PCT = 8

function woodFacts({ id, name, species: speciesName }: WoodOnOffer): WoodFacts {
  const known = species(speciesName)
  const across = known === null ? null : coefficientAcross(known, 'unknown')
  return {
    id,
    name,
    across: across?.ok === true ? across.value : null,
    kgPerCubicMetre: known === null ? null : densityAt(known, GOODS_MOISTURE_PCT),
  }
}

/** A product whose class this version does not know is left out: nothing can be planned with it. */
function glueFacts(product: ProductOnShelf): GlueFacts[] {
  const of = classOf(product)
  if (of?.kind !== 'glue') return []
  return [
    {
      id: product.id,
      name: product.name,
      assembly: rangeOf(product, 'assembly'),
      clampsOff: rangeOf(product, 'clampsOff'),
      mayMachine: rangeOf(product, 'mayMachine'),
      fullStrength: rangeOf(product, 'fullStrength'),
      cautions: of.glue.cautions,
    },
  ]
}

function finishFacts(product: ProductOnShelf, sanding: StandardTime): FinishFacts[] {
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
      tacky: rangeOf(product, 'dustFree'),
      recoatOpens: rangeOf(product, 'recoatOpens'),
      recoatCloses:
        closes === null
          ? null
          : {
              minutes: closes.typical,
              remedy: finish.remedy?.note ?? 'Scuff-sand lightly before the next coat.',
              remedyMin: Math.max(1, Math.round(sanding.perUnitMin)),
              source: closes.source,
            },
      sandBetween: finish.sandBetween !== null,
      mayPack: rangeOf(product, 'mayPack'),
      fullCure: rangeOf(product, 'fullCure'),
      film: finish.film,
      hardens: finish.family !== 'never-hardens',
      dryingOil: finish.dryingOil,
      cautions: finish.cautions,
    },
  ]
}

function rangeOf(product: ProductOnShelf, name: ClockName): RangeMin {
  const clock = clockOf(product, name)
  if (clock === null) throw new Error(`${product.class} has no clock ${name}`)
  return { min: clock.min, typical: clock.typical, max: clock.max, source: clock.source }
}

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

import type { FinishFacts, GlueFacts, RangeMin, ShopFacts, StandardTime, StationFacts } from '../constructions/shop-facts.ts'
import type { Clock } from '../waits/clock.ts'
import { finishClass } from '../waits/finish-classes.ts'
import { glueClass } from '../waits/glue-classes.ts'
import type { Almanac, ProductOnShelf, StationKind } from './almanac.ts'
import { STARTING_TIMES } from './standard-times.ts'

/** The almanac as constructions ask it: products resolved to their clocks (the label wins over the class), stations by what they are for. */
export function shopFactsOf(almanac: Almanac): ShopFacts {
  const times = new Map([...STARTING_TIMES, ...almanac.standardTimes].map((time) => [time.operation, time]))
  return {
    units: almanac.shop.units,
    woods: almanac.woods.map(({ id, name }) => ({ id, name })),
    glues: almanac.glues.flatMap(glueFacts),
    finishes: almanac.finishes.flatMap((product) => finishFacts(product, (operation) => timeOf(times, operation))),
    stations: stationFacts(almanac),
    standardTime: (operation) => timeOf(times, operation),
    allowances: almanac.allowances,
    glueUpWithinMin: almanac.glueUpWithinMin,
    shortestSessionMin: shortestSession(almanac),
  }
}

function timeOf(times: ReadonlyMap<string, StandardTime>, operation: string): StandardTime {
  const time = times.get(operation)
  if (time === undefined) throw new Error(`no standard time for ${operation}`)
  return time
}

/** A product whose class this version does not know is left out: nothing can be planned with it. */
function glueFacts(product: ProductOnShelf): GlueFacts[] {
  const known = glueClass(product.class)
  if (known === null) return []
  const range = (quantity: keyof typeof known.clocks): RangeMin => rangeOf(product, quantity, known.clocks[quantity])
  return [
    {
      id: product.id,
      name: product.name,
      assembly: range('assembly'),
      clampsOff: range('clampsOff'),
      mayMachine: range('mayMachine'),
      fullStrength: range('fullStrength'),
      cautions: known.cautions,
    },
  ]
}

function finishFacts(product: ProductOnShelf, timeOf: (operation: string) => StandardTime): FinishFacts[] {
  const known = finishClass(product.class)
  if (known === null) return []
  const range = (quantity: keyof typeof known.clocks): RangeMin =>
    rangeOf(product, quantity, known.clocks[quantity] ?? known.clocks.fullCure)
  const closes = product.label['recoatCloses'] !== undefined || known.clocks.recoatCloses !== null
  const sanding = timeOf('sand-between-coats')
  const coats = product.label['coats']
  return [
    {
      id: product.id,
      name: product.name,
      application: known.application,
      coats:
        coats === undefined
          ? known.coats
          : { least: coats.min, usual: coats.typical, most: coats.max, source: LABEL },
      tacky: range('dustFree'),
      recoatOpens: range('recoatOpens'),
      recoatCloses: closes
        ? {
            minutes: range('recoatCloses').typical,
            remedy: known.remedy?.note ?? 'Scuff-sand lightly before the next coat.',
            remedyMin: Math.round(sanding.perUnitMin),
            source: range('recoatCloses').source,
          }
        : null,
      sandBetween: known.sandBetween !== null,
      mayPack: range('mayPack'),
      fullCure: range('fullCure'),
      film: known.film,
      dryingOil: known.dryingOil,
      cautions: known.cautions,
    },
  ]
}

const LABEL = 'label'

function rangeOf(product: ProductOnShelf, quantity: string, ofClass: Clock | null): RangeMin {
  const label = product.label[quantity]
  if (label !== undefined) return { ...label, source: LABEL }
  if (ofClass === null) throw new Error(`${product.class} has no figure for ${quantity}`)
  return { min: ofClass.min, typical: ofClass.typical, max: ofClass.max, source: ofClass.source }
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
function shortestSession(almanac: Almanac): number {
  const sessions = almanac.makers.flatMap((maker) =>
    Object.values(maker.weeklyHours).flatMap((hours) => hours.map(({ from, to }) => to - from)),
  )
  return sessions.length === 0 ? 120 : Math.min(...sessions)
}

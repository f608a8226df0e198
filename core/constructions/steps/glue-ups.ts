import type { Operation } from '../../almanac/operations.ts'
import { problem } from '../../problems.ts'
import { writeTemperature } from '../../almanac/read-figures.ts'
import { caulsInWords, CLAMPS_PER_PAIR, clampsInWords, pairsWithClamps } from './clamps.ts'
import { glueInWords, mixInWords } from './amounts.ts'
import { addStep, type Network } from './network.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
import type { NetworkHold } from '../step-network.ts'

export interface GlueUp {
  /** Key of the glue-up; its clamps come off in `release-<key>`. With several loads `-1`, `-2`, ... are appended. */
  readonly key: string
  readonly operation: Operation
  /** `First glue-up`. */
  readonly name: string
  readonly note: string
  readonly glue: GlueFacts
  /** How many assemblies, and of how many equal pieces the lot is. */
  readonly assemblies: number
  readonly pieces: number
  readonly clampsEach: number
  /** Joints that must be spread and closed within the glue's assembly time. */
  readonly jointsEach: number
  /** Joints of one assembly, square metres; absent: a dab of glue, not worth saying. */
  readonly squareMetresEach?: number
  /** Of a panel: how long its joints are and how far its clamps reach across; absent: no panel. */
  readonly panel?: { readonly jointNm: number; readonly reachNm: number }
  readonly after: readonly string[]
  /** Milled just before: to be glued up before it moves. */
  readonly fresh?: { readonly step: string; readonly panels: number }
}

/** The steps of a glue-up: `glued` start the cure, after `freed` the clamps are off. */
export interface GluedUp {
  readonly glued: readonly string[]
  readonly freed: readonly string[]
}

/**
 * Adds a glue-up and the short step that takes the clamps off again and so frees them. Assemblies that do not fit into the
 * clamps or into one session are glued up in several loads; a lot of several pieces that would need that for want of clamps
 * is refused, because smaller lots each get done sooner.
 */
export function addGlueUp(network: Network, glueUp: GlueUp): GluedUp {
  const { facts } = network
  const { clamps } = facts.stations
  const wanted = glueUp.assemblies * glueUp.clampsEach
  if (clamps !== undefined && wanted > clamps.capacity && glueUp.pieces > 1) {
    const message = `${glueUp.name} of all ${glueUp.pieces} needs ${wanted} clamps, you have ${clamps.capacity}: make smaller lots.`
    network.problems.push(problem('lot-too-big', message))
  } else if (clamps !== undefined && glueUp.clampsEach > clamps.capacity) {
    const message = `${glueUp.name} needs ${glueUp.clampsEach} clamps, the almanac has ${clamps.capacity}: glue it up in two halves, make it smaller, or change the clamps.`
    network.problems.push(problem('clamps-too-few', message))
  }
  warnOfAssemblyTime(network, glueUp)
  const loads = loadsOf(facts, glueUp)
  const glued: string[] = []
  const freed: string[] = []
  for (const [index, load] of loads.entries()) {
    const suffix = loads.length === 1 ? '' : `-${index + 1}`
    const which = loads.length === 1 ? '' : `, ${index + 1} of ${loads.length}`
    const key = `${glueUp.key}${suffix}`
    const release = `release-${key}`
    addStep(network, {
      key,
      operation: glueUp.operation,
      name: `${glueUp.name}${which}`,
      note: noteOf(network, glueUp, load),
      spreadMin: spreadMinutes(facts, glueUp.jointsEach),
      units: load,
      stretchMin: null,
      holds: holdsOf(facts, load * (glueUp.clampsEach + CLAMPS_PER_PAIR * caulsOn(facts, glueUp, load)), release),
      work: ['glue-up'],
      glue: glueUp.glue,
      after: glueUp.after,
    })
    addStep(network, {
      key: release,
      operation: 'release-clamps',
      name: `Take off the clamps (${lowerFirst(glueUp.name)})${which}`,
      units: load,
      stretchMin: null,
      after: [],
    })
    const { clampsOff } = glueUp.glue
    network.lags.push({
      from: key,
      to: release,
      wait: 'in-clamps',
      name: 'glue in clamps',
      minMin: clampsOff.typical,
      optimisticMin: clampsOff.min,
      pessimisticMin: clampsOff.max,
      maxMin: null,
      remedy: null,
      product: glueUp.glue.id,
      source: clampsOff.source,
    })
    glued.push(key)
    freed.push(release)
  }
  if (glueUp.fresh !== undefined) limitFreshness(network, glueUp.fresh, glued)
  return { glued, freed }
}

/** The next step waits until every joint of the glue-up may be planed, sanded or sawn. */
export function waitUntilCured(network: Network, { glued }: GluedUp, next: string, glue: GlueFacts): void {
  const { mayMachine } = glue
  for (const from of glued) {
    network.lags.push({
      from,
      to: next,
      wait: 'curing',
      name: 'glue curing',
      minMin: mayMachine.typical,
      optimisticMin: mayMachine.min,
      pessimisticMin: mayMachine.max,
      maxMin: null,
      remedy: null,
      product: glue.id,
      source: mayMachine.source,
    })
  }
}

/** Pairs of cauls on each panel of a load. */
const caulsOn = (facts: ShopFacts, { panel, clampsEach }: GlueUp, load: number): number =>
  panel === undefined ? 0 : pairsWithClamps(panel, load, load * clampsEach, facts)

function loadsOf(facts: ShopFacts, { operation, assemblies, clampsEach }: GlueUp): readonly number[] {
  const time = facts.standardTime(operation)
  const bySession = Math.floor((facts.shortestSessionMin - time.setUpMin) / time.perUnitMin)
  const byClamps =
    facts.stations.clamps === undefined ? assemblies : Math.floor(facts.stations.clamps.capacity / clampsEach)
  const most = Math.max(1, Math.min(bySession, byClamps))
  const loads = Math.ceil(assemblies / most)
  return Array.from({ length: loads }, (_, index) => evenShare(assemblies, loads, index))
}

/** Share number `index` of a whole number split as evenly as it goes, the bigger shares first. */
export const evenShare = (whole: number, shares: number, index: number): number =>
  Math.floor(whole / shares) + (index < whole % shares ? 1 : 0)

function holdsOf({ stations }: ShopFacts, clamps: number, release: string): NetworkHold[] {
  const holds: NetworkHold[] = []
  if (stations.clamps !== undefined) {
    holds.push({ station: stations.clamps.id, units: clamps, until: { kind: 'end-of', step: release } })
  }
  if (stations.glueUpBench !== undefined) {
    holds.push({ station: stations.glueUpBench.id, units: 1, until: { kind: 'end' } })
  }
  return holds
}

/** Figures are for about so warm: above it the temperature is what shortens the time, and is said. */
const WARM_C = 21.5

/** Hands-on minutes from the first glue to full pressure on one assembly. */
export function spreadMinutes({ standardTime }: Pick<ShopFacts, 'standardTime'>, joints: number): number {
  const time = standardTime('spread-and-close')
  return Math.round(time.setUpMin + time.perUnitMin * joints)
}

/** What to do, the clamps, cauls and glue for it. */
function noteOf({ facts }: Network, glueUp: GlueUp, load: number): string {
  const { note, glue, clampsEach, squareMetresEach, panel } = glueUp
  return [
    note,
    clampsInWords(clampsEach, panel),
    panel === undefined ? '' : caulsInWords(panel, caulsOn(facts, glueUp, load), facts),
    squareMetresEach === undefined ? '' : glueInWords(glue, load * squareMetresEach, facts.units),
    mixInWords(glue),
  ]
    .filter((text) => text !== '')
    .join(' ')
}

function warnOfAssemblyTime(network: Network, { glue, jointsEach, name }: GlueUp): void {
  const needed = spreadMinutes(network.facts, jointsEach)
  const { typical, max } = glue.assembly
  if (needed <= typical) return
  const allowed = typical === max ? `${max} min` : `${typical} to ${max} min`
  const at = glue.assemblyC > WARM_C ? ` at ${writeTemperature(glue.assemblyC, network.facts.units)}` : ''
  network.warnings.push(
    `${name}: ${jointsEach} joints take about ${needed} min to spread and close, ${glue.name} gives ${allowed}${at}. ${jointsEach >= 3 ? 'Glue it up in two halves (More options)' : 'Get a second pair of hands'}, or take a slower glue.`,
  )
}

function limitFreshness(
  network: Network,
  fresh: { readonly step: string; readonly panels: number },
  glued: readonly string[],
): void {
  const time = network.facts.standardTime('freshen-edges')
  for (const to of glued) {
    const index = network.lags.findIndex((lag) => lag.from === fresh.step && lag.to === to)
    const lag = network.lags[index]
    if (lag === undefined) continue
    network.lags[index] = {
      ...lag,
      name: 'glue up before it moves',
      maxMin: network.facts.glueUpWithinMin,
      remedy: {
        name: 'Freshen the edges: a light pass over the jointer',
        minutes: Math.max(1, Math.round(time.perUnitMin * fresh.panels)),
      },
      source: 'Franklin International: glue up the day it is milled; the limit is the almanac’s',
    }
  }
}

const lowerFirst = (text: string): string => text.slice(0, 1).toLowerCase() + text.slice(1)

import { NM_PER_METRE } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import { problem } from '../../problems.ts'
import { writeTemperature } from '../../almanac/read-figures.ts'
import { addStep, type Network } from './network.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
import type { NetworkHold } from '../step-network.ts'

export interface GlueUp {
  /** Key of the glue-up; its clamps come off in `release-<key>`. With several loads `-1`, `-2`, ... are appended. */
  readonly key: string
  readonly operation: string
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
    const message = `${glueUp.name} of ${glueUp.pieces} needs ${wanted} clamps, the almanac has ${clamps.capacity}: make smaller lots.`
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
      note: glueUp.note,
      units: load,
      stretchMin: null,
      holds: holdsOf(facts, load * glueUp.clampsEach, release),
      work: ['glue-up'],
      glue: glueUp.glue,
      after: glueUp.after,
    })
    addStep(network, {
      key: release,
      operation: 'release-clamps',
      name: `Take off the clamps: ${lowerFirst(glueUp.name)}${which}`,
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

/**
 * Clamps along a joint: the first ones a little in from the ends, the others evenly between, no further apart than the almanac says.
 * @source Franklin International, gluing guide: 8-12 in apart, first one 1 1/2-2 in from the end
 */
export function clampsAlong(jointNm: number, { allowances }: Pick<ShopFacts, 'allowances'>): number {
  const between = Math.max(0, jointNm - 2 * allowances.clampFromEndNm)
  return Math.max(2, Math.ceil(between / allowances.clampSpacingNm) + 1)
}

/** A joint to be clamped: how long and how thick it is, and the heaviest of its woods, which asks for the most pressure. */
export interface ClampedJoint {
  readonly lengthNm: number
  readonly thicknessNm: number
  /** From clamp jaw to clamp jaw: the width of the panel. */
  readonly reachNm: number
  readonly woods: readonly string[]
}

/** How many clamps a joint takes, and what speaks against it. */
export interface ClampsNeeded {
  readonly clamps: number
  readonly warnings: readonly string[]
}

/**
 * Clamps on a joint: as many as spacing asks for, more where force does. Joints side by side share one force, so one joint counts. Where
 * the shop has fewer than force asks for, all it has are put on and it is said how much they press.
 * @source force: pressure times the area of one joint (FDMC magazine 2014); pressure: Franklin gluing guide, softwood from 100 psi,
 * medium hardwoods from 150, hard ones from 200
 */
export function clampsOn(
  what: string,
  joint: ClampedJoint,
  glue: Pick<GlueFacts, 'contactOnly'>,
  facts: ShopFacts,
): ClampsNeeded {
  const bySpacing = clampsAlong(joint.lengthNm, facts)
  const squareMetres = (joint.lengthNm / NM_PER_METRE) * (joint.thicknessNm / NM_PER_METRE)
  const newtons = glue.contactOnly ? 0 : pressureOn(joint.woods, facts) * squareMetres
  const byForce = Math.ceil(newtons / facts.clampForceN)
  const has = facts.stations.clamps?.capacity ?? Infinity
  const clamps = Math.max(bySpacing, Math.min(byForce, has))
  const say = (nm: number): string => writeLength(nm, facts.units)
  const { clampReachNm } = facts.allowances
  return {
    clamps,
    warnings: [
      ...(byForce > clamps
        ? [
            `${what}: ${clamps} clamps press about ${psi((clamps * facts.clampForceN) / squareMetres)} psi on the joint, ${psi(pressureOn(joint.woods, facts))} is usual for this wood (${byForce} clamps): joint it well, or use stronger clamps.`,
          ]
        : []),
      ...(joint.reachNm > clampReachNm
        ? [
            `${what} is ${say(joint.reachNm)} wide, the longest clamps open to ${say(clampReachNm)}: glue it up in two parts.`,
          ]
        : []),
    ],
  }
}

const PASCALS_PER_PSI = 6894.757

const psi = (pascals: number): number => Math.round(pascals / PASCALS_PER_PSI / 5) * 5

/** Least pressure that the guide prints, by the weight of the heaviest wood; a wood of unknown weight counts as hard. */
function pressureOn(woods: readonly string[], { woods: known }: ShopFacts): number {
  const densities = woods.map((id) => known.find((wood) => wood.id === id)?.kgPerCubicMetre ?? Infinity)
  const heaviest = Math.max(0, ...densities)
  return (heaviest < 500 ? 100 : heaviest < 640 ? 150 : 200) * PASCALS_PER_PSI
}

function loadsOf(facts: ShopFacts, { operation, assemblies, clampsEach }: GlueUp): readonly number[] {
  const time = facts.standardTime(operation)
  const bySession = Math.floor((facts.shortestSessionMin - time.setUpMin) / time.perUnitMin)
  const byClamps =
    facts.stations.clamps === undefined ? assemblies : Math.floor(facts.stations.clamps.capacity / clampsEach)
  const most = Math.max(1, Math.min(bySession, byClamps))
  const loads = Math.ceil(assemblies / most)
  return Array.from({ length: loads }, (_, index) => shareOf(assemblies, loads, index))
}

/** Share number `index` of a whole number split as evenly as it goes, the bigger shares first. */
export const shareOf = (whole: number, shares: number, index: number): number =>
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

function warnOfAssemblyTime(network: Network, { glue, jointsEach, name }: GlueUp): void {
  const time = network.facts.standardTime('spread-and-close')
  const needed = Math.round(time.setUpMin + time.perUnitMin * jointsEach)
  const { typical, max } = glue.assembly
  if (needed <= typical) return
  const allowed = typical === max ? `${max} min` : `${typical} to ${max} min`
  const at = glue.assemblyC > WARM_C ? ` at ${writeTemperature(glue.assemblyC, network.facts.units)}` : ''
  network.warnings.push(
    `${name}: ${jointsEach} joints take about ${needed} min to spread and close, ${glue.name} gives ${allowed}${at}. Split it in two glue-ups, or take a slower glue.`,
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

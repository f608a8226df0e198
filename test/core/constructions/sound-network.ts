import { expect } from 'vitest'
import { caution } from '../../../core/cautions/cautions.ts'
import type { Part } from '../../../core/constructions/construction.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'
import type { NetworkLag, NetworkStep } from '../../../core/constructions/step-network.ts'

/** What must be true of every step network whatever made it. */
export function expectSoundNetwork(steps: readonly NetworkStep[], lags: readonly NetworkLag[], facts: ShopFacts): void {
  const keys = new Set(steps.map((step) => step.key))
  const faults = [
    ...(keys.size === steps.length ? [] : ['two steps have one key']),
    ...steps.flatMap((step) => faultsOfStep(step, facts)),
    ...lags.flatMap((lag) => faultsOfLag(lag, keys)),
    ...(inOrder(steps, lags).length === steps.length ? [] : ['the steps wait for each other in a circle']),
    ...faultsOfHolds(steps, lags),
  ]
  expect(faults).toEqual([])
}

/** Every part is milled in a step that is there, and every built-in milling step mills a part. */
export function expectMilled(parts: readonly Part[], steps: readonly NetworkStep[]): void {
  const milledIn = new Set(parts.map((part) => part.milledIn ?? steps[0]?.key))
  const milling = steps.filter((step) => step.operation === 'mill-stock').map((step) => step.key)
  expect(milling.filter((key) => !milledIn.has(key))).toEqual([])
  const keys = new Set(steps.map((step) => step.key))
  expect([...milledIn].filter((key) => key === undefined || !keys.has(key))).toEqual([])
}

const wrong = (where: string, checks: Readonly<Record<string, boolean>>): string[] =>
  Object.entries(checks).flatMap(([claim, holds]) => (holds ? [] : [`${where}: not ${claim}`]))

function faultsOfStep(step: NetworkStep, facts: ShopFacts): string[] {
  const capacities = new Map(Object.values(facts.stations).map((station) => [station.id, station.capacity]))
  return wrong(step.key, {
    'whole minutes': [step.minutes, step.optimisticMin, step.pessimisticMin].every(Number.isInteger),
    'some time': step.minutes > 0,
    'optimistic <= minutes <= pessimistic': step.optimisticMin <= step.minutes && step.minutes <= step.pessimisticMin,
    'a name': step.name !== '',
    'cautions that are known, each once':
      step.cautions.every((id) => caution(id) !== null) && new Set(step.cautions).size === step.cautions.length,
    'a stretch that fits': step.smallestStretchMin <= step.minutes,
    'a known operation': facts.standardTime(step.operation).operation === step.operation,
    'a station with room': step.holds.every((one) => one.units > 0 && one.units <= (capacities.get(one.station) ?? 0)),
    'a setup with minutes': step.setUp === null || step.setUp.minutes > 0,
  })
}

function faultsOfLag(lag: NetworkLag, keys: ReadonlySet<string>): string[] {
  return wrong(`${lag.from} to ${lag.to}`, {
    'between two steps of the lot': keys.has(lag.from) && keys.has(lag.to) && lag.from !== lag.to,
    'whole minutes': [lag.minMin, lag.optimisticMin, lag.pessimisticMin, lag.maxMin ?? 0].every(Number.isInteger),
    'optimistic <= least <= pessimistic':
      0 <= lag.optimisticMin && lag.optimisticMin <= lag.minMin && lag.minMin <= lag.pessimisticMin,
    'a window that can be met': lag.maxMin === null || lag.maxMin >= lag.minMin,
    'a name': lag.wait === 'none' || lag.name !== '',
    'a source': lag.minMin === 0 || lag.source !== '',
  })
}

/** Keys in an order that respects every lag; shorter than the steps where there is a circle. */
function inOrder(steps: readonly NetworkStep[], lags: readonly NetworkLag[]): string[] {
  const waiting = new Map(steps.map((step) => [step.key, lags.filter((lag) => lag.to === step.key).length]))
  const order = steps.map((step) => step.key).filter((key) => waiting.get(key) === 0)
  for (const key of order) {
    for (const lag of lags) {
      if (lag.from !== key) continue
      const left = (waiting.get(lag.to) ?? 0) - 1
      waiting.set(lag.to, left)
      if (left === 0) order.push(lag.to)
    }
  }
  return order
}

/** A hold ends at a step that comes after the one that takes it, so it cannot last for ever. */
function faultsOfHolds(steps: readonly NetworkStep[], lags: readonly NetworkLag[]): string[] {
  return steps.flatMap((step) => {
    const ends = step.holds.flatMap(({ until }) => ('step' in until ? [until.step] : []))
    const later = ends.length === 0 ? new Set<string>() : after(step.key, lags)
    return ends
      .filter((end) => !later.has(end))
      .map((end) => `${step.key}: holds until ${end}, which does not come after it`)
  })
}

/** Every step that must come after the given one. */
export function after(key: string, lags: readonly NetworkLag[]): ReadonlySet<string> {
  const found = new Set<string>()
  const look = (from: string): void => {
    for (const lag of lags) {
      if (lag.from !== from || found.has(lag.to)) continue
      found.add(lag.to)
      look(lag.to)
    }
  }
  look(key)
  return found
}

export function expectSoundParts(parts: readonly Part[]): void {
  const sides = ['lengthNm', 'widthNm', 'thicknessNm'] as const
  const faults = parts.flatMap((part) =>
    wrong(part.name, {
      'a number of them': Number.isInteger(part.quantity) && part.quantity > 0,
      'whole nanometres': sides.every(
        (side) => Number.isInteger(part.rough[side]) && Number.isInteger(part.finished[side]),
      ),
      'some size': sides.every((side) => part.finished[side] > 0),
      'sizes that say why': part.why !== undefined && /[.]$/.test(part.why),
      'finished within rough': sides.every((side) => part.finished[side] <= part.rough[side]),
    }),
  )
  expect(faults).toEqual([])
}

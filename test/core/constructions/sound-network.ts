import { expect } from 'vitest'
import type { Part } from '../../../core/constructions/construction.ts'
import type { ShopFacts } from '../../../core/constructions/shop-facts.ts'
import type { NetworkLag, NetworkStep } from '../../../core/constructions/step-network.ts'

/** What must be true of every step network whatever made it; throws through `expect`. */
export function expectSoundNetwork(steps: readonly NetworkStep[], lags: readonly NetworkLag[], facts: ShopFacts): void {
  const keys = new Set(steps.map((step) => step.key))
  expect(keys.size).toBe(steps.length)
  for (const step of steps) expectSoundStep(step, keys, facts)
  for (const lag of lags) {
    expect(keys).toContain(lag.from)
    expect(keys).toContain(lag.to)
    expect(Number.isInteger(lag.minMin) && lag.minMin >= 0).toBe(true)
    expect(lag.optimisticMin).toBeLessThanOrEqual(lag.minMin)
    expect(lag.pessimisticMin).toBeGreaterThanOrEqual(lag.minMin)
    if (lag.maxMin !== null) expect(lag.maxMin).toBeGreaterThanOrEqual(lag.minMin)
    if (lag.wait !== 'none') expect(lag.name).not.toBe('')
    if (lag.minMin > 0) expect(lag.source).not.toBe('')
  }
  const order = inOrder(steps, lags)
  expect(order).toHaveLength(steps.length)
  expectHoldsEnd(steps, lags)
}

function expectSoundStep(step: NetworkStep, keys: ReadonlySet<string>, facts: ShopFacts): void {
  expect(Number.isInteger(step.minutes) && step.minutes >= 0).toBe(true)
  expect(step.optimisticMin).toBeLessThanOrEqual(step.minutes)
  expect(step.pessimisticMin).toBeGreaterThanOrEqual(step.minutes)
  expect(Number.isInteger(step.optimisticMin) && Number.isInteger(step.pessimisticMin)).toBe(true)
  expect(step.name).not.toBe('')
  expect(step.cautions.length).toBeLessThanOrEqual(2)
  expect(() => facts.standardTime(step.operation)).not.toThrow()
  const capacities = new Map(Object.values(facts.stations).map((station) => [station.id, station.capacity]))
  for (const hold of step.holds) {
    expect(hold.units).toBeGreaterThan(0)
    expect(hold.units).toBeLessThanOrEqual(capacities.get(hold.station) ?? 0)
    if (hold.until.kind === 'start-of' || hold.until.kind === 'end-of') expect(keys).toContain(hold.until.step)
  }
}

/** Keys in an order that respects every lag; shorter than the steps where there is a cycle. */
function inOrder(steps: readonly NetworkStep[], lags: readonly NetworkLag[]): string[] {
  const waiting = new Map(steps.map((step) => [step.key, lags.filter((lag) => lag.to === step.key).length]))
  const order: string[] = []
  let ready = steps.map((step) => step.key).filter((key) => waiting.get(key) === 0)
  while (ready.length > 0) {
    order.push(...ready)
    const next: string[] = []
    for (const lag of lags.filter((one) => ready.includes(one.from))) {
      const left = (waiting.get(lag.to) ?? 0) - 1
      waiting.set(lag.to, left)
      if (left === 0) next.push(lag.to)
    }
    ready = next
  }
  return order
}

/** A hold ends at a step that comes after the one that takes it, so it cannot last for ever. */
function expectHoldsEnd(steps: readonly NetworkStep[], lags: readonly NetworkLag[]): void {
  for (const step of steps) {
    for (const { until } of step.holds) {
      if (until.kind === 'start-of' || until.kind === 'end-of') expect(after(step.key, lags)).toContain(until.step)
    }
  }
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
  for (const part of parts) {
    expect(Number.isInteger(part.quantity) && part.quantity > 0).toBe(true)
    for (const side of ['lengthNm', 'widthNm', 'thicknessNm'] as const) {
      expect(Number.isInteger(part.rough[side]) && part.finished[side] > 0).toBe(true)
      expect(part.finished[side]).toBeLessThanOrEqual(part.rough[side])
    }
  }
}

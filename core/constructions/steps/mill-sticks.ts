import { writeLength } from '../../lengths/write-length.ts'
import type { Part } from '../construction.ts'
import { boardFeetOfSticks } from '../design/board-feet.ts'
import type { ShopFacts } from '../shop-facts.ts'
import type { StepDraft } from './network.ts'

/** Milling of frame members, legs, sides: what is counted, what may hurt, and what to do with parts that are too short for the planer. */
export function millSticks(
  key: string,
  name: string,
  note: string,
  parts: readonly Part[],
  { allowances: { shortestPlanedNm }, units }: Pick<ShopFacts, 'allowances' | 'units'>,
): StepDraft {
  const short = parts.some(({ rough }) => rough.lengthNm < shortestPlanedNm)
  const inOneStick = `Mill short parts in one stick of at least ${writeLength(shortestPlanedNm, units)}, cut them apart after.`
  return {
    key,
    operation: 'mill-stock',
    name,
    note: [note, ...(short ? [inOneStick] : [])].filter((text) => text !== '').join(' '),
    units: boardFeetOfSticks(parts),
    dusty: true,
    work: short ? ['joint', 'plane', 'short-parts'] : ['joint', 'plane'],
    after: [],
  }
}

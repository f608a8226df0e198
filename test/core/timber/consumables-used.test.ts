import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import type { Consumed } from '../../../core/constructions/construction.ts'
import { consumablesNeeded } from '../../../core/timber/consumables-needed.ts'
import { consumablesUsed } from '../../../core/timber/consumables-used.ts'

const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
const glue: Consumed = { kind: 'glue', product: 'pva_type1', squareMetres: 0.4 }
const finish = almanac.finishes.find(
  ({ id }) => consumablesNeeded([{ kind: 'finish', product: id, squareMetres: 1, coats: 1 }], almanac)[0]?.quantity,
)!
const coats = (count: number): Consumed => ({ kind: 'finish', product: finish.id, squareMetres: 0.5, coats: count })
const step = (operation: string, doneAt: number | null, lost = false) => ({
  ...{ key: operation, operation, doneAt, lost },
})
const sum = (uses: readonly { readonly amount: number }[]) => uses.reduce((all, { amount }) => all + amount, 0)
const needed = (one: Consumed) => consumablesNeeded([one], almanac)[0]!.quantity!.typical

describe('glue and finish that were used', () => {
  test('are a share for each glue-up, and a coat for each coat', () => {
    const steps = [
      step('glue-up-panel', 10),
      step('glue-up-panel', null),
      step('wipe-coat', 30),
      step('wipe-coat', null),
    ]
    const uses = consumablesUsed([glue, coats(2)], steps, almanac)
    expect(uses.map(({ product, atMin }) => [product, atMin])).toEqual([
      ['pva_type1', 10],
      [finish.id, 30],
    ])
    expect(uses[0]!.amount).toBeCloseTo(needed(glue) / 2)
    expect(uses[1]!.amount).toBeCloseTo(needed(coats(1)))
  })

  test('once everything is done are what was needed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 6 }), (glueUps, count) => {
        const steps = [
          ...Array.from({ length: glueUps }, () => step('glue-up', 1)),
          ...Array.from({ length: count }, () => step('wipe-coat', 2)),
        ]
        const uses = consumablesUsed([glue, coats(count)], steps, almanac)
        expect(sum(uses)).toBeCloseTo(needed(glue) + needed(coats(count)), 6)
      }),
    )
  })

  test('count twice what failed and was made again', () => {
    const uses = consumablesUsed([glue], [step('glue-up', 1, true), step('glue-up', 2)], almanac)
    expect(sum(uses)).toBeCloseTo(2 * needed(glue))
  })
})

import { describe, expect, it } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import type { Consumed } from '../../../core/constructions/construction.ts'
import { consumablesNeeded, stillToPutOn } from '../../../core/timber/consumables-needed.ts'

const almanac = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
const facts = shopFactsOf(almanac, 0)

function consumedBy(construction: string, changes: object): readonly Consumed[] {
  const made = constructionOf(construction)
  const spec = made?.read({ ...made.starting('inch'), ...changes }, 'inch', facts)
  const build = spec?.ok ? made?.build(spec.value, 1, facts) : undefined
  if (!build?.ok) throw new Error(`${construction} cannot be built`)
  return build.value.consumed ?? []
}

const SQUARE_METRES_PER_SQUARE_INCH = 0.0254 ** 2

describe('glue and finish that a piece takes', () => {
  it('go by its joints and its outside, by hand for a board of staves', () => {
    const consumed = consumedBy('edge-grain-board', {
      ...{ length: '16', width: '10', thickness: '1 1/4', stave: '2', coats: '3' },
    })
    // 10 in of staves of at most 2 in: 5 staves, 4 joints, each 16 1/2 long (1/4 squared off each end), 1 1/4 and 1/32 thick.
    expect(consumed[0]?.squareMetres).toBeCloseTo(4 * 16.5 * (1.25 + 1 / 32) * SQUARE_METRES_PER_SQUARE_INCH, 9)
    // 2 x (16 x 10) and 1 1/4 round an edge of 52 in.
    expect(consumed[1]).toMatchObject({ kind: 'finish', coats: 3 })
    expect(consumed[1]?.squareMetres).toBeCloseTo((320 + 65) * SQUARE_METRES_PER_SQUARE_INCH, 9)
  })

  it.each(['end-grain-board', 'edge-grain-board', 'framed-field', 'box', 'small-table'])('are known of %s', (id) => {
    expect(consumedBy(id, {}).map(({ kind, squareMetres }) => [kind, squareMetres > 0])).toEqual([
      ['glue', true],
      ['finish', true],
    ])
  })
})

describe('glue and finish to buy', () => {
  const glue: Consumed = { kind: 'glue', product: 'pva_type2', squareMetres: 0.5 }
  const finish: Consumed = { kind: 'finish', product: 'water_polyurethane', squareMetres: 2, coats: 3 }

  it('count one product once for all orders', () => {
    const needed = consumablesNeeded([glue, glue, finish], almanac)
    // 170-250 g/m2: Franklin, as quoted in Woodworking Network; a tenth of squeeze-out, common practice, no source.
    const { min, max } = needed.find(({ kind }) => kind === 'glue')?.quantity ?? { min: 0, max: 0 }
    expect([Math.round(min), Math.round(max)]).toEqual([187, 275])
    expect(needed.find(({ kind }) => kind === 'finish')?.squareMetres).toBe(6)
  })

  it('are less by the glue-ups and coats that are done', () => {
    const steps = [
      { key: 'glue-up', operation: 'glue-up-panel', done: true },
      { key: 'slices-glue-up', operation: 'glue-up-slices', done: false },
      { key: 'coat-1', operation: 'wipe-coat', done: true },
      { key: 'coat-2', operation: 'wipe-coat', done: false },
      { key: 'coat-3', operation: 'wipe-coat', done: false },
      { key: 'sand-before-coat-2', operation: 'sand-between-coats', done: false },
    ]
    expect(stillToPutOn([glue, finish], steps)).toEqual([
      { ...glue, squareMetres: 0.25 },
      { ...finish, coats: 2 },
    ])
    expect(
      stillToPutOn(
        [glue, finish],
        steps.map((step) => ({ ...step, done: true })),
      ),
    ).toEqual([])
  })

  it('say nothing of a product that has left the almanac', () => {
    expect(consumablesNeeded([{ ...glue, product: 'gone' }], almanac)).toEqual([])
  })
})

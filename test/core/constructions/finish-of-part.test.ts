import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { consumablesNeeded, stillToPutOn } from '../../../core/timber/consumables-needed.ts'
import { consumablesUsed } from '../../../core/timber/consumables-used.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { aShop, withRack } from './a-shop.ts'
import { after, expectSoundNetwork } from './sound-network.ts'

const shop = aShop()
const almanac = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })

/** Every construction that is finished, the part that may be finished in its own way, and in front of its keys. */
const PARTS = [
  ['small-table', 'base', 'base-'],
  ['box', 'inside', 'inside-'],
  ['edge-grain-board', 'underside', 'under-'],
  ['end-grain-board', 'underside', 'under-'],
  ['framed-field', 'underside', 'under-'],
] as const

const outside = { finish: 'oil_polyurethane', coats: '3' }
const own = (partFinish: string, partCoats = '2') => ({ partFinished: 'own', partFinish, partCoats })

function build(id: string, input: SpecInput, count = 1, facts = shop) {
  const construction = constructionOf(id)!
  const spec = construction.read({ ...construction.starting('inch'), ...outside, ...input }, 'inch', facts)
  if (!spec.ok) throw new Error(JSON.stringify(spec.problems))
  return construction.build(spec.value, count, facts)
}

function built(id: string, input: SpecInput, count = 1): Build {
  const made = build(id, input, count)
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  return made.value
}

const coatKeys = ({ steps }: Build) =>
  steps.filter(({ operation }) => operation.endsWith('-coat')).map(({ key }) => key)
const finishes = ({ consumed = [] }: Build) => consumed.flatMap((one) => (one.kind === 'finish' ? [one] : []))
const wait = ({ lags }: Build, from: string, to: string) =>
  lags.find((lag) => lag.from === from && lag.to === to && lag.wait !== 'none')

describe('a part finished in its own way', () => {
  test.each(PARTS)('%s, %s: has its own coats, waits and amount; the rest keeps its own', (id, part, prefix) => {
    const [alike, apart] = [built(id, {}), built(id, own('shellac'))]
    expectSoundNetwork(apart.steps, apart.lags, shop)
    expect(coatKeys(apart).toSorted()).toEqual(
      [`${prefix}coat-1`, `${prefix}coat-2`, 'coat-1', 'coat-2', 'coat-3'].toSorted(),
    )
    const first = apart.steps.find(({ key }) => key === `${prefix}coat-1`)
    expect([first?.name, first?.tackyProduct]).toEqual([`First coat, ${part}`, 'shellac'])
    expect(apart.steps.find(({ key }) => key === 'coat-1')?.tackyProduct).toBe('oil_polyurethane')
    // Shellac, 1 to 2 h between coats: reference/waits.csv.
    const recoat = shop.finishes.find((one) => one.id === 'shellac')!.recoatOpens.typical
    const recoats = apart.lags.filter(({ from, wait }) => from === `${prefix}coat-1` && wait === 'drying')
    expect(recoats.map(({ minMin }) => minMin)).toContain(recoat)
    const area = (made: Build) => finishes(made).reduce((sum, { squareMetres }) => sum + squareMetres, 0)
    expect(area(apart)).toBeCloseTo(area(alike), 9)
    expect(
      finishes(apart)
        .map(({ product, coats }) => [product, coats])
        .toSorted(),
    ).toEqual([
      ['oil_polyurethane', 3],
      ['shellac', 2],
    ])
  })

  test.each(PARTS)('%s, %s: left bare takes nothing and shortens nothing else', (id, _part, prefix) => {
    const [alike, bare] = [built(id, {}), built(id, { partFinished: 'bare' })]
    expectSoundNetwork(bare.steps, bare.lags, shop)
    expect(coatKeys(bare).some((key) => key.startsWith(prefix))).toBe(false)
    expect(finishes(bare)[0]!.squareMetres).toBeLessThan(finishes(alike)[0]!.squareMetres)
    expect(coatKeys(bare)).toEqual(coatKeys(alike))
  })

  test.each(PARTS)('%s, %s: is said again as it was typed, and is like the rest in an older order', (id) => {
    const construction = constructionOf(id)!
    for (const input of [own('shellac'), { partFinished: 'bare' }, {}] as SpecInput[]) {
      const spec = construction.read({ ...construction.starting('inch'), ...input }, 'inch', shop)
      if (!spec.ok) throw new Error(JSON.stringify(spec.problems))
      const again = construction.read(construction.write(spec.value, 'inch'), 'inch', shop)
      expect(again).toEqual(spec)
    }
    const { partFinished: _, partFinish: __, partCoats: ___, ...older } = construction.starting('inch')
    expect(construction.read(older, 'inch', shop)).toEqual(
      construction.read(construction.starting('inch'), 'inch', shop),
    )
  })

  test('a base dries beside its top, and both must be dry before the top is fixed', () => {
    const table = built('small-table', own('shellac'))
    expect(after('coat-1', table.lags)).not.toContain('base-coat-1')
    expect(after('base-coat-1', table.lags)).not.toContain('coat-1')
    const mayPack = (id: string) => shop.finishes.find((one) => one.id === id)!.mayPack.typical
    expect(wait(table, 'coat-3', 'fit-top')?.minMin).toBe(mayPack('oil_polyurethane'))
    expect(wait(table, 'base-coat-2', 'fit-top')?.minMin).toBe(mayPack('shellac'))
  })

  test('an underside is coated first, and is turned onto once it may be', () => {
    const slab = built('edge-grain-board', own('shellac'))
    expect(after('under-coat-2', slab.lags)).toContain('coat-1')
    const shellac = shop.finishes.find((one) => one.id === 'shellac')!
    expect(wait(slab, 'under-coat-2', 'coat-1')?.minMin).toBe(shellac.mayTurn.typical)
    expect(slab.steps.find(({ key }) => key === 'coat-1')?.note).not.toMatch(/turn it onto pins/)
  })

  // Common practice, no source: in a closed box no cloth reaches the corners, and glue does not hold on finish.
  test('the inside of a box is coated before its glue-up, with its joints taped over', () => {
    const made = built('box', own('shellac'))
    const order = after('inside-coat-2', made.lags)
    for (const key of ['inside-untape', 'glue-up', 'coat-1']) expect(order).toContain(key)
    expect(after('corners', made.lags)).toContain('inside-sand')
    expect(made.steps.find(({ key }) => key === 'inside-sand')?.note).toMatch(/glue does not hold on finish/)
  })

  test('two faces that take up damp differently are warned of, two alike are not', () => {
    const warned = (input: SpecInput) => built('edge-grain-board', { food: false, ...input }).warnings.join(' ')
    expect(warned(own('mineral_oil_wax'))).toMatch(/wide panel cups/)
    expect(warned({ partFinished: 'bare' })).toMatch(/bare underside.*cups/i)
    expect(warned(own('shellac'))).not.toMatch(/cups/)
    expect(warned({})).not.toMatch(/cups/)
  })

  test('a nut oil on a part is asked about as on the rest, and no film goes under a board that is cut on', () => {
    expect(built('small-table', own('tung_pure')).warnings.join(' ')).toMatch(/Pure tung oil has a nut oil/)
    const board = { food: true, finish: 'mineral_oil_wax', ...own('shellac') }
    expect(built('edge-grain-board', board).warnings.join(' ')).toMatch(/film on a chopping face flakes/)
  })

  test('a schedule of the Almanac may go on a part: rubbed out there and nowhere else', () => {
    const keys = coatKeys(built('small-table', own('three-wiping-coats-rubbed-out', '')))
    expect(keys.filter((key) => key.startsWith('base-'))).toHaveLength(3)
    const { steps } = built('small-table', own('three-wiping-coats-rubbed-out', ''))
    expect(steps.filter(({ operation }) => operation === 'rub-out').map(({ key }) => key)).toEqual(['base-rub-out'])
  })

  test('top and base need their places on the rack at once', () => {
    const few = aShop({ with: withRack(3) })
    const made = build('small-table', own('shellac'), 2, few)
    expect(made.ok ? [] : made.problems.map(({ code }) => code)).toContain('lot-too-big')
  })
})

describe('what parts take', () => {
  const takes = (input: SpecInput) => built('small-table', { finish: 'oil_polyurethane', ...input })
  const parts = fc.constantFrom<SpecInput>(
    {},
    { oneSideAtATime: true },
    own('shellac'),
    { ...own('shellac', '1'), oneSideAtATime: true },
    own('oil_polyurethane', '4'),
    own('three-wiping-coats-rubbed-out', ''),
    { partFinished: 'bare' },
  )

  test('is what was used once all is done, and nothing is left to put on; before that, all of it', () => {
    fc.assert(
      fc.property(parts, (input) => {
        const { steps, consumed = [] } = takes(input)
        const at = (doneAt: number | null) =>
          steps.map(({ key, operation }) => ({ key, operation, doneAt, lost: false }))
        const sums = new Map<string, number>()
        for (const { product, amount } of consumablesUsed(consumed, at(1), almanac))
          sums.set(product, (sums.get(product) ?? 0) + amount)
        for (const { product, quantity } of consumablesNeeded(consumed, almanac))
          if (quantity !== null) expect(sums.get(product), product).toBeCloseTo(quantity.typical, 6)
        const left = (done: boolean) =>
          stillToPutOn(
            consumed,
            steps.map((step) => ({ ...step, done })),
          )
        expect(left(true)).toEqual([])
        const byName = (some: typeof consumed) => some.map((one) => JSON.stringify(one)).toSorted()
        expect(byName(left(false))).toEqual(byName(consumed))
      }),
    )
  })

  test('is left of a base whose top is done', () => {
    const { steps, consumed = [] } = takes(own('oil_polyurethane', '2'))
    const done = steps.map((step) => ({ ...step, done: /^coat-/.test(step.key) }))
    const left = stillToPutOn(consumed, done).flatMap((one) => (one.kind === 'finish' ? [[one.part, one.coats]] : []))
    expect(left).toEqual([['base-', 2]])
  })
})

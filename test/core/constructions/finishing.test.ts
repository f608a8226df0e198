import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { finishInWords } from '../../../core/constructions/steps/amounts.ts'
import { aShop } from './a-shop.ts'
import { expectSoundNetwork } from './sound-network.ts'

const shop = aShop()
const EVERY = ['edge-grain-board', 'end-grain-board', 'framed-field', 'box', 'small-table']

function built(id: string, input: SpecInput, facts = shop): Build {
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting(facts.units), ...input }, facts.units, facts)
  const build = spec?.ok === true ? construction?.build(spec.value, 1, facts) : undefined
  if (build?.ok !== true) throw new Error(JSON.stringify([spec, build]))
  return build.value
}

const order = ({ steps }: Build) => steps.map(({ key }) => key)
const wait = ({ lags }: Build, from: string, to: string) =>
  lags.find((lag) => lag.from === from && lag.to === to && lag.wait !== 'none')

describe('the grain', () => {
  test.each(EVERY)('%s: is raised and sanded off before a water-borne first coat, and before no other', (id) => {
    const water = built(id, { finish: 'water_polyurethane' })
    const keys = order(water)
    const at = (key: string) => keys.indexOf(key)
    expect(at('raise-grain')).toBeGreaterThan(-1)
    expect(at('raise-grain') < at('sand-raised-grain') && at('sand-raised-grain') < at('coat-1')).toBe(true)
    expect(wait(water, 'raise-grain', 'sand-raised-grain')?.minMin).toBe(60)
    expect(water.steps.find(({ key }) => key === 'sand-raised-grain')?.dusty).toBe(true)
    for (const finish of ['wiping_oil_varnish', 'shellac', 'mineral_oil_wax'])
      expect(order(built(id, { finish })), finish).not.toContain('raise-grain')
  })

  test('sealed with shellac it stays down', () => {
    expect(order(built('box', { finish: 'sealed-and-brushed' }))).not.toContain('raise-grain')
  })
})

describe('one side at a time', () => {
  test.each(EVERY)(
    '%s: each coat waits until the first side may be turned onto, and the next one for the last',
    (id) => {
      const input = { finish: 'oil_polyurethane', coats: '2' }
      const [both, apart] = [built(id, input), built(id, { ...input, oneSideAtATime: true })]
      expectSoundNetwork(apart.steps, apart.lags, shop)
      expect(order(apart).filter((key) => key.startsWith('coat'))).toEqual([
        ...['coat-1-under', 'coat-1', 'coat-2-under', 'coat-2'],
      ])
      // Oil polyurethane, touch dry 3 h: reference/waits.md, section 2 (consumer pages quoting makers' directions).
      expect(wait(apart, 'coat-1-under', 'coat-1')?.minMin).toBe(3 * 60)
      const opens = wait(both, 'coat-1', 'sand-before-coat-2')?.minMin
      expect(wait(apart, 'coat-1', 'sand-before-coat-2')?.minMin).toBe(opens)
      const hands = (build: Build) =>
        build.steps.filter(({ key }) => key.startsWith('coat')).reduce((sum, { minutes }) => sum + minutes, 0)
      expect(Math.abs(hands(apart) - hands(both))).toBeLessThanOrEqual(2)
    },
  )

  test('what soaks in is wiped dry and needs no turning', () => {
    const oiled = built('edge-grain-board', { finish: 'mineral_oil_wax', oneSideAtATime: true })
    expect(order(oiled).some((key) => key.endsWith('-under'))).toBe(false)
  })

  test('both in one go says how: underside first, turned onto pins', () => {
    const coat = built('small-table', {}).steps.find(({ key }) => key === 'coat-1')
    expect(coat?.note).toMatch(/Underside first, turn it onto pins, then the top/)
  })
})

describe('what a coat takes', () => {
  const finish = (id: string) => shop.finishes.find((one) => one.id === id)!

  // Minwax Canada: 125 sq ft a quart, so 946.35 ml on 11.61 m2; 1 m2 takes 81.5 ml, 2.8 fl oz.
  test('follows the published coverage, in the units of the shop', () => {
    expect(finishInWords(finish('oil_polyurethane'), 1, 'millimetre')).toBe('About 81 ml.')
    expect(finishInWords(finish('oil_polyurethane'), 1, 'inch')).toBe('About 2.8 fl oz.')
    expect(finishInWords({ coverage: null }, 1, 'inch')).toBe('')
    // 81.5 ml a square meter: 0.8 ml on a hundredth of one, 1.6 ml or 0.06 fl oz on two.
    expect(finishInWords(finish('oil_polyurethane'), 0.01, 'inch')).toBe('A few drops.')
    expect(finishInWords(finish('oil_polyurethane'), 0.02, 'inch')).toBe('Less than 0.1 fl oz.')
  })

  // Highland Hardware, Mixing Shellac: 2 oz of flakes to a pint for a one-pound cut, so 4 oz for two. At 10 m2 a liter 1 m2 takes 100 ml:
  // 100 / 473.18 of 4 oz is 0.85 oz, 24 g.
  test('of shellac says how much goes into the alcohol', () => {
    expect(finishInWords(finish('shellac'), 1, 'millimetre')).toBe(
      'About 100 ml. From flakes: 24 g in as much alcohol (2-pound cut).',
    )
    expect(finishInWords(finish('shellac'), 1, 'inch')).toMatch(/From flakes: 0\.85 oz in as much alcohol/)
    expect(finishInWords(finish('lacquer_nc'), 1, 'inch')).not.toMatch(/flakes/)
  })

  test('stands at the coat, half of it at each side where they are coated apart', () => {
    const amount = (key: string, input: SpecInput) =>
      Number(
        /About ([\d.]+) fl oz/.exec(
          built('small-table', { finish: 'oil_polyurethane', ...input }).steps.find((step) => step.key === key)?.note ??
            '',
        )?.[1],
      )
    const whole = amount('coat-1', {})
    expect(whole).toBeGreaterThan(1)
    expect(amount('coat-1-under', { oneSideAtATime: true })).toBeCloseTo(whole / 2, 0)
  })
})

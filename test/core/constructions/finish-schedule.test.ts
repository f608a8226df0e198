import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Almanac } from '../../../core/almanac/almanac.ts'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { readSchedule, scheduleInput } from '../../../core/almanac/read-schedule.ts'
import { shopFactsOf } from '../../../core/almanac/shop-facts.ts'
import type { FinishSchedule } from '../../../core/almanac/finish-schedule.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { stillToPutOn } from '../../../core/timber/consumables-needed.ts'
import { coatOverCoat } from '../../../core/waits/coat-over-coat.ts'
import { FINISH_CLASSES, finishClass } from '../../../core/waits/finish-classes.ts'
import { expectSoundNetwork } from './sound-network.ts'

const starting = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
/** Every class of finish on the shelf. */
const almanac: Almanac = {
  ...starting,
  finishes: FINISH_CLASSES.map(({ id, name }) => ({ id, class: id, name, label: {} })),
}
const HOUR = 60
const DAY = 24 * HOUR

const layer = (finish: string, coats: number, method: 'wipe' | 'brush' | 'spray', sandGrit: number | null = null) => ({
  ...{ finish, coats, method, sandGrit },
})

function built(schedule: Omit<FinishSchedule, 'id' | 'name'>, id = 'edge-grain-board') {
  const own = { ...almanac, finishSchedules: [{ id: 'mine', name: 'Mine', ...schedule }] }
  const facts = shopFactsOf(own, 0)
  const construction = constructionOf(id)!
  const spec = construction.read({ ...construction.starting('inch'), finish: 'mine' }, 'inch', facts)
  if (!spec.ok) throw new Error(JSON.stringify(spec.problems))
  const build = construction.build(spec.value, 1, facts)
  if (!build.ok) throw new Error(JSON.stringify(build.problems))
  return build.value
}

type Built = ReturnType<typeof built>
const lag = ({ lags }: Built, from: string, to: string) =>
  lags.find((one) => one.from === from && one.to === to && one.wait !== 'none')
const step = ({ steps }: Built, key: string) => steps.find((one) => one.key === key)

const WIPED_AND_SPRAYED = {
  layers: [layer('oil_polyurethane', 1, 'wipe'), layer('water_polyurethane', 2, 'spray', 400)],
  ...{ rubOut: '2000', wax: 'paste_wax' },
}

describe('a finish schedule', () => {
  test('puts each coat on in its own way, sands between by its own grit, rubs out and waxes', () => {
    const made = built(WIPED_AND_SPRAYED)
    expect(step(made, 'coat-1')).toMatchObject({ operation: 'wipe-coat', tackyProduct: 'oil_polyurethane' })
    expect(step(made, 'coat-2')).toMatchObject({ operation: 'spray-coat', tackyProduct: 'water_polyurethane' })
    expect(step(made, 'sand-before-coat-3')?.note).toMatch(/^400 grit/)
    expect(step(made, 'rub-out')?.note).toMatch(/^2000/)
    const order = ['coat-1', 'sand-before-coat-2', 'coat-2', 'sand-before-coat-3', 'coat-3', 'rub-out', 'wax', 'pack']
    expect(made.steps.map(({ key }) => key).filter((key) => order.includes(key))).toEqual(order)
  })

  test('waits between systems as they are published', () => {
    // General Finishes: water-based over oil-based 72 h (reference/waits.md, section 2).
    expect(lag(built(WIPED_AND_SPRAYED), 'coat-1', 'coat-2')?.minMin).toBe(72 * HOUR)
    // Within a system its own recoat time, 2 to 4 h (waits.csv, water_polyurethane recoat_min).
    expect(lag(built(WIPED_AND_SPRAYED), 'coat-2', 'coat-3')?.minMin).toBe(2 * HOUR)
  })

  test('is rubbed out once it is hard, and packed once what is on top may be handled', () => {
    const made = built({ layers: [layer('lacquer_nc', 3, 'spray')], rubOut: '0000 pad', wax: null })
    // Rub out 24-48 h at least, 1-2 weeks best (waits.csv, lacquer_nc rub_out).
    expect(lag(made, 'coat-3', 'rub-out')!.minMin).toBeGreaterThanOrEqual(DAY)
    expect(made.lags).toContainEqual(expect.objectContaining({ from: 'rub-out', to: 'pack', wait: 'none' }))
  })

  test('that is sprayed asks for fan, filter and no spark, and carries the caution with its source', () => {
    const made = built({ layers: [layer('oil_polyurethane', 2, 'spray')], rubOut: null, wax: null })
    expect(step(made, 'coat-2')?.note).toMatch(/Exhaust fan on, filter clean, no flame, heater or spark/)
    expect(step(made, 'coat-2')?.cautions).toContain('spray')
  })

  test('takes each product for its own coats', () => {
    const finishes = built(WIPED_AND_SPRAYED).consumed!.filter(({ kind }) => kind === 'finish')
    expect(finishes.map(({ product, ...one }) => [product, 'coats' in one ? one.coats : 0])).toEqual([
      ['oil_polyurethane', 1],
      ['water_polyurethane', 2],
      ['paste_wax', 1],
    ])
  })

  test('has left of each product what its coats still to come take', () => {
    const made = built(WIPED_AND_SPRAYED)
    const left = (doneCoats: number) => {
      let done = 0
      const steps = made.steps.map(({ key, operation }) => ({
        ...{ key, operation, done: operation.endsWith('-coat') && ++done <= doneCoats },
      }))
      return stillToPutOn(made.consumed!, steps).flatMap((one) =>
        one.kind === 'finish' ? [[one.product, one.coats]] : [],
      )
    }
    expect(left(2)).toEqual([
      ['water_polyurethane', 1],
      ['paste_wax', 1],
    ])
    expect(left(4)).toEqual([])
  })

  test('of one product gives the same network as the finish itself', () => {
    const construction = constructionOf('edge-grain-board')!
    const facts = shopFactsOf(almanac, 0)
    const spec = construction.read(
      { ...construction.starting('inch'), finish: 'wiping_oil_varnish', coats: '3' },
      'inch',
      facts,
    )
    const plain = construction.build(spec.ok ? spec.value : null, 1, facts)
    const made = built({ layers: [layer('wiping_oil_varnish', 3, 'wipe')], rubOut: null, wax: null })
    expect(plain.ok && plain.value.steps).toEqual(made.steps)
    expect(plain.ok && plain.value.lags).toEqual(made.lags)
  })

  test('is sound whatever goes over what, on every construction that is finished', () => {
    const methods = fc.constantFrom('wipe' as const, 'brush' as const, 'spray' as const)
    const layers = fc.array(
      fc.record({
        finish: fc.constantFrom(...FINISH_CLASSES.map(({ id }) => id as string)),
        coats: fc.integer({ min: 1, max: 4 }),
        ...{ method: methods, sandGrit: fc.option(fc.constantFrom(220, 320, 600)) },
      }),
      { minLength: 1, maxLength: 4 },
    )
    fc.assert(
      fc.property(
        layers,
        fc.option(fc.constant('0000 pad')),
        fc.option(fc.constant('paste_wax')),
        fc.constantFrom('edge-grain-board', 'end-grain-board', 'small-table', 'box', 'framed-field'),
        (some, rubOut, wax, id) => {
          const made = built({ layers: some, rubOut, wax }, id)
          expectSoundNetwork(made.steps, made.lags, shopFactsOf(almanac, 0))
          for (const one of made.lags) expect(one.minMin).toBeGreaterThanOrEqual(0)
          const coats = some.reduce((sum, { coats }) => sum + coats, 0)
          expect(made.steps.filter(({ key }) => /^coat-\d+$/.test(key))).toHaveLength(coats)
        },
      ),
      { numRuns: 60 },
    )
  })
})

describe('what goes over what', () => {
  const over = (above: string, below: string) => coatOverCoat(finishClass(above)!, finishClass(below)!)

  test('follows what is published, and says where nothing is', () => {
    // General Finishes, Difference between Dry Time and Cure Time, as in reference/waits.md.
    expect(over('water_polyurethane', 'oil_polyurethane')).toMatchObject({ kind: 'wait', minutes: 72 * HOUR })
    expect(over('oil_polyurethane', 'water_polyurethane')).toMatchObject({ kind: 'wait', minutes: 24 * HOUR })
    // Oil under waterborne: full cure first. Common practice, no source.
    expect(over('water_polyurethane', 'linseed_boiled')).toMatchObject({
      kind: 'cured',
      source: 'common practice, no source',
    })
    expect(over('shellac', 'paste_wax')).toMatchObject({ kind: 'never' })
    for (const above of FINISH_CLASSES)
      for (const below of FINISH_CLASSES) expect(coatOverCoat(above, below).source).not.toBe('')
  })

  test('a schedule that puts finish on wax is refused at that layer', () => {
    const read = readSchedule(
      {
        ...{ id: '', name: 'Upside down', rubOut: '', wax: '' },
        layers: [
          { finish: 'paste_wax', coats: '1', method: 'wipe', sandGrit: '' },
          { finish: 'shellac', coats: '2', method: 'brush', sandGrit: '' },
        ],
      },
      almanac,
    )
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'never-over', field: 'layers.1.finish' }] })
  })
})

test('the schedules of a new shop are sound, and read back as they were written', () => {
  expect(starting.finishSchedules.length).toBeGreaterThan(0)
  for (const schedule of starting.finishSchedules)
    expect(readSchedule(scheduleInput(schedule, ''), starting)).toEqual({ ok: true, value: schedule })
})

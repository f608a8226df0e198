import { describe, expect, test } from 'vitest'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { whyMinutes } from '../../../core/constructions/why-minutes.ts'
import { aShop, withClamps } from './a-shop.ts'

const shop = aShop({ with: withClamps(60) })

describe('why a step takes as long as it is estimated', () => {
  test('names the standard time, how many of its units, the spread, the shared setup and the source', () => {
    const time = { ...shop.standardTime('rip-strips'), perUnitMin: 1.5 }
    const step = {
      minutes: 24,
      optimisticMin: 12,
      pessimisticMin: 48,
      setUp: { family: 'rip-saw', minutes: 10 },
      units: null,
    }
    expect(whyMinutes(step, time)).toEqual([
      'Rip strips: 1.5 min for each strip, of which there are about 16: 24 min.',
      'On a good day 12 min, on a bad one 48.',
      'The machine’s setup, 10 min, comes once for steps that share it.',
      `Source: ${time.source}`,
    ])
  })

  test('tells the number that the step was drawn up with, also after the almanac was edited', () => {
    const edited = { ...shop.standardTime('rip-strips'), perUnitMin: 4 }
    const step = { minutes: 24, optimisticMin: 24, pessimisticMin: 24, setUp: null, units: { count: 16, eachMin: 1.5 } }
    expect(whyMinutes(step, edited)[0]).toBe('Rip strips: 1.5 min for each strip, of which there are 16: 24 min.')
    expect(whyMinutes(step, edited, 64).at(-1)).toBe(
      'Planned as 64 min: your times were changed since it was drawn up.',
    )
  })

  test('counts what a step takes to begin with apart from its units', () => {
    // Glue up a panel: ten minutes to begin with.
    const time = { ...shop.standardTime('glue-up-panel'), perUnitMin: 20 }
    const step = { minutes: 50, optimisticMin: 40, pessimisticMin: 70, setUp: null, units: null }
    expect(whyMinutes(step, time)[0]).toBe(
      'Glue up a panel: 10 min to begin with, and 20 min for each panel, of which there are about 2: 50 min.',
    )
  })

  test('says so where the maker wrote the minutes down', () => {
    const step = { minutes: 30, optimisticMin: 30, pessimisticMin: 30, setUp: null, units: null }
    expect(whyMinutes(step, shop.standardTime('by-hand'))).toEqual(['30 min as written down for it.'])
  })

  test.each(['end-grain-board', 'edge-grain-board', 'framed-field', 'box', 'small-table'])(
    '%s: the units that are named are those that the minutes were made of',
    (id) => {
      const construction = constructionOf(id)
      const spec = construction?.read(construction.starting('inch'), 'inch', shop)
      const build = spec?.ok === true ? construction?.build(spec.value, 3, shop) : undefined
      for (const step of build?.ok === true ? build.value.steps : []) {
        const time = shop.standardTime(step.operation)
        const [first = ''] = whyMinutes(step, time)
        const [, units = ''] = /there are (?:about )?([\d.]+):/.exec(first) ?? []
        const own = time.family === null ? time.setUpMin : 0
        // Two digits are told, and whole minutes are kept.
        const again = own + Number(units) * time.perUnitMin
        expect(Math.abs(again - step.minutes), `${step.key}: ${first}`).toBeLessThanOrEqual(0.05 * step.minutes + 0.5)
      }
      expect(build?.ok).toBe(true)
    },
  )
})

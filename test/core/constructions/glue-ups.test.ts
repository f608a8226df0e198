import { describe, expect, test } from 'vitest'
import type { Build, SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf } from '../../../core/constructions/constructions.ts'
import { caulPairs } from '../../../core/constructions/steps/clamps.ts'
import { glueInWords, mixInWords } from '../../../core/constructions/steps/amounts.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop, withClamps } from './a-shop.ts'
import { expectSoundNetwork } from './sound-network.ts'

const shop = aShop()
const metric = aShop({ units: 'millimetre' })
const glue = (id: string) => {
  const found = shop.glues.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no glue ${id}`)
  return found
}

function built(id: string, input: SpecInput, facts = shop): Build {
  const construction = constructionOf(id)
  const spec = construction?.read({ ...construction.starting(facts.units), ...input }, facts.units, facts)
  const build = spec?.ok === true ? construction?.build(spec.value, 1, facts) : undefined
  if (build?.ok !== true) throw new Error(JSON.stringify([spec, build]))
  return build.value
}

describe('what a glue-up says', () => {
  // Franklin: 170-250 g/m2 of glue line, so 210 on half a square metre; a tenth of squeeze-out is common practice, no source.
  test('glue is its spread over the joints and a tenth for squeeze-out, in the units of the shop', () => {
    expect(glueInWords(glue('pva_type1'), 0.5, 'millimetre')).toBe('About 120 g of glue with squeeze-out.')
    // 0.5 x 210 x 1.1 / 28.3495 = 4.07 oz.
    expect(glueInWords(glue('pva_type1'), 0.5, 'inch')).toBe('About 4.1 oz of glue with squeeze-out.')
    expect(glueInWords(glue('polyurethane_1c'), 0.5, 'inch')).toBe('')
    // 0.002 x 210 x 1.1 = 0.46 g, 0.016 oz; ten times that are 4.6 g, 0.16 oz, and five times 2.3 g, 0.08 oz.
    expect(glueInWords(glue('pva_type1'), 0.002, 'inch')).toBe('A few drops of glue with squeeze-out.')
    expect(glueInWords(glue('pva_type1'), 0.002, 'millimetre')).toBe('A few drops of glue with squeeze-out.')
    expect(glueInWords(glue('pva_type1'), 0.01, 'inch')).toBe('Less than 0.1 oz of glue with squeeze-out.')
    expect(glueInWords(glue('pva_type1'), 0.01, 'millimetre')).toBe('About 2.3 g of glue with squeeze-out.')
    expect(glueInWords(glue('pva_type1'), 0.02, 'inch')).toBe('About 0.16 oz of glue with squeeze-out.')
  })

  // Gougeon, Warm Temperature Bonding: slow hardener 20-24 min a 100 g, use within half of it; the sooner end counts as a deadline.
  test('what is mixed is spread within half of its pot life', () => {
    expect(mixInWords(glue('epoxy_slow'))).toBe('Mix what you spread in 11 min, half its pot life.')
    expect(mixInWords(glue('pva_type2'))).toBe('')
  })

  test('clamps, cauls and glue stand at the step, in inches and millimeters', () => {
    const note = (units: typeof shop) =>
      built('edge-grain-board', { width: units.units === 'inch' ? '14' : '360' }, units).steps.find(
        ({ key }) => key === 'glue-up',
      )?.note
    expect(note(shop)).toMatch(
      /\d+ clamps, over and under in turn\. 2 pairs of cauls 1\d" long, taped, 2 clamps a pair\. About [\d.]+ oz/,
    )
    expect(note(metric)).toMatch(/2 pairs of cauls \d{3} mm long.* About \d+ g/)
  })

  // A 48 in joint: 44 in between the first and last pair, twice 10 in apart at most.
  test('cauls lie near both ends and no further apart than two clamps; a narrow panel needs none', () => {
    expect(caulPairs({ jointNm: inches(48), reachNm: inches(20) }, shop)).toBe(4)
    expect(caulPairs({ jointNm: inches(16), reachNm: inches(12) }, shop)).toBe(2)
    expect(caulPairs({ jointNm: inches(16), reachNm: inches(4) }, shop)).toBe(0)
  })
})

describe('the clamps of cauls', () => {
  // A 48 in panel: 5 clamps at 10 in apart would do by spacing, force takes more; 4 pairs of cauls take 8.
  const held = (clamps: number) => {
    const facts = aShop({ with: withClamps(clamps) })
    const { steps } = built('edge-grain-board', { length: '44', width: '14' }, facts)
    const step = steps.find(({ key }) => key === 'glue-up')
    return { note: step?.note, clamps: step?.holds.find(({ station }) => station === 'clamps')?.units ?? 0 }
  }

  test('are held with those of the panel until they come off, as far as there are any left', () => {
    const onPanel = Number(/^.*?(\d+) clamps/.exec(held(60).note ?? '')?.[1])
    expect(held(60)).toMatchObject({
      clamps: onPanel + 2 * 4,
      note: expect.stringContaining('4 pairs of cauls') as string,
    })
    expect(held(onPanel + 3)).toMatchObject({
      clamps: onPanel + 2,
      note: expect.stringMatching(/1 pair of cauls .*; 4 pairs if you had the clamps\./) as string,
    })
    expect(held(onPanel)).toMatchObject({ clamps: onPanel, note: expect.stringContaining('No clamps left') as string })
  })
})

describe('a glue-up with more joints than its glue gives time for', () => {
  const wide = { width: '24', stave: '1', glue: 'pva_type2' }

  test('says so, with what would do', () => {
    expect(built('edge-grain-board', wide).warnings.join(' ')).toMatch(
      /23 joints take about .* Glue it up in two halves/,
    )
  })

  test.each(['edge-grain-board', 'end-grain-board', 'framed-field', 'small-table', 'box'])(
    '%s: in two halves it spreads half the joints at a time, waits once more, and stays sound',
    (id) => {
      const input = { ...(id === 'edge-grain-board' ? wide : {}), ...(id === 'small-table' ? { stave: '2' } : {}) }
      const [one, two] = [built(id, input), built(id, { ...input, inHalves: true })]
      expectSoundNetwork(two.steps, two.lags, shop)
      const most = ({ steps }: Build) =>
        Math.max(0, ...steps.filter(({ key }) => !key.includes('frame')).map(({ spreadMin = 0 }) => spreadMin))
      const halves = two.steps.filter(({ key }) => key.includes('-halves') && !key.startsWith('release'))
      expect(halves.length > 0).toBe(id !== 'box')
      if (id === 'box') return
      expect(most(two)).toBeLessThan(most(one))
      const waits = ({ lags }: Build) => lags.filter(({ wait }) => wait === 'curing').length
      expect(waits(two)).toBeGreaterThan(waits(one))
    },
  )
})

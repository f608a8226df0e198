import fc from 'fast-check'
import { SPRAY_NEEDS } from '../../../core/cautions/spraying.ts'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { caution, CAUTIONS, DEFERRAL } from '../../../core/cautions/cautions.ts'
import { cautionsFor, isAfterLongDay, isIrritant, type Work } from '../../../core/cautions/cautions-for-step.ts'
import { FINISH_CLASSES, finishClass } from '../../../core/waits/finish-classes.ts'
import { GLUE_CLASSES } from '../../../core/waits/glue-classes.ts'

/** The research page that the cautions were written from. */
const page = new URL('../../reference/cautions.md', import.meta.url)

const ids = (facts: Parameters<typeof cautionsFor>[0]) => cautionsFor(facts).map((one) => one.id)

describe('the list of cautions', () => {
  it('has every caution of the research page, and those of cutters, short and standing pieces, sleds and engraving', () => {
    const rows = readFileSync(page, 'utf8').matchAll(/^\| (\w+) \| /gm)
    const named = [...rows].map(([, id]) => id).filter((id) => id !== 'id')
    expect(named.length).toBeGreaterThan(20)
    expect(CAUTIONS.map((one) => one.id).toSorted()).toEqual(
      [...named, 'cutter_head', 'engraving', 'short_piece', 'sled', 'tall_fence'].toSorted(),
    )
  })

  it('says what to do and where it comes from, and never that something is safe or allowed', () => {
    for (const one of CAUTIONS) {
      expect(one.whatToDo.length, one.id).toBeGreaterThan(10)
      expect(one.source.length, one.id).toBeGreaterThan(5)
      expect(`${one.title} ${one.danger} ${one.whatToDo}`, one.id).not.toMatch(/food.safe|is safe|complian/i)
    }
  })

  it('brings rags, spray and food notes back on every piece', () => {
    for (const id of ['rag_fire', 'spray', 'food_contact', 'food_open_film', 'nut']) {
      expect(caution(id)?.returnsEveryTime, id).toBe(true)
    }
  })

  it('defers to label, local codes and licensed practice', () => {
    expect(DEFERRAL).toMatch(/label/)
    expect(DEFERRAL).toMatch(/local codes/)
    expect(DEFERRAL).toMatch(/licensed/)
  })

  it('knows every caution that a glue or finish class names', () => {
    for (const one of [...GLUE_CLASSES, ...FINISH_CLASSES]) {
      for (const id of one.cautions) expect(caution(id), `${one.id}: ${id}`).not.toBeNull()
    }
  })
})

describe('what spraying needs', () => {
  it('names ignition first, then fan and filter, and says of each where it comes from', () => {
    const needs = SPRAY_NEEDS.map((one) => one.needs).join(' ')
    expect(SPRAY_NEEDS[0]?.needs).toMatch(/flame, spark, heater/)
    expect(needs).toMatch(/exhaust fan.*clean filter.*mask.*allowed here\?/)
    expect(needs).not.toMatch(/is allowed|is safe/)
    for (const { source } of SPRAY_NEEDS) expect(source).toMatch(/CFR|label|memorandum|no source/)
  })
})

describe('the cautions of a step', () => {
  it('begin with the rags at every coat of a drying oil', () => {
    for (const finish of FINISH_CLASSES.filter((one) => one.dryingOil)) {
      const facts = { finish: finish.cautions, finishIsDryingOil: true, pieceIsFor: 'food' as const }
      expect(ids({ ...facts, work: ['coat'] })[0], finish.id).toBe('rag_fire')
    }
  })

  it('name the saw and its kickback when slices are cut', () => {
    expect(ids({ work: ['crosscut-slices'] })).toEqual(['saw', 'kickback', 'sled'])
    expect(ids({ work: ['rip'] })).toEqual(['saw', 'dust_lung', 'noise'])
  })

  it('name guard, push blocks and featherboards where cutters turn in the open', () => {
    for (const work of ['joint', 'route'] as const) expect(ids({ work: [work] }), work).toContain('cutter_head')
    expect(caution('cutter_head')?.whatToDo).toMatch(/Guard.*push blocks.*featherboards/)
    expect(caution('saw')?.whatToDo).toMatch(/Guard.*featherboards and push blocks/)
  })

  it('warn of end grain in a planer before noise and dust', () => {
    expect(ids({ work: ['plane-end-grain'] })).toEqual(['planer_end_grain', 'dust_lung', 'noise'])
    expect(ids({ work: ['plane'] })).toEqual(['dust_lung', 'noise'])
  })

  it('warn of a film on a chopping face', () => {
    const finish = finishClass('water_polyurethane')
    const coat = { work: ['coat'] as Work[], finish: finish?.cautions ?? [], finishIsFilm: true }
    expect(ids({ ...coat, pieceIsFor: 'chopping' })).toEqual(['food_contact', 'food_open_film'])
  })

  it('ask who it is for when small parts or children are in play', () => {
    expect(ids({ work: ['hand-over'], pieceIsFor: 'child' })).toEqual(['small_parts', 'handover'])
    expect(ids({ work: ['hand-over'], pieceIsFor: 'food' })).toEqual(['food_contact', 'handover'])
  })

  it('name the glue only when it is spread', () => {
    expect(ids({ work: ['glue-up'], glue: ['epoxy_skin', 'exotherm'] })).toEqual(['epoxy_skin', 'exotherm'])
    expect(ids({ work: ['hand-over'], glue: ['epoxy_skin'] })).toEqual(['handover'])
  })

  it('mind woods that people react to, weight, and a long day', () => {
    expect(cautionsFor({ work: ['sand'], woods: ['oak-white'] }).map((one) => one.id)).toContain('dust_allergy')
    expect(cautionsFor({ work: ['sand'], woods: ['maple-sugar'] }).map((one) => one.id)).not.toContain('dust_allergy')
    expect(isIrritant('Cedar, western red')).toBe(true)
    expect(ids({ work: ['move'], liftsKg: 20 })).toEqual(['lift'])
    expect(isAfterLongDay(ids({ work: ['rip'] }), 11 * 60)).toBe(true)
    expect(isAfterLongDay(ids({ work: ['rip'] }), 9 * 60)).toBe(false)
    expect(isAfterLongDay(ids({ work: ['move'] }), 11 * 60)).toBe(false)
  })

  // HSE (UK), Toxic woods, table 2, list partly from memory.
  it('go by the species, not by what the maker calls the wood', () => {
    const irritants = [
      'Beech, American',
      'Birch, yellow',
      'Yew, Pacific',
      'Ebony',
      'Boxwood',
      'Olive',
      'Mansonia',
      'Makore',
      'Guarea',
    ]
    for (const species of irritants) expect(isIrritant(species), species).toBe(true)
    expect(isIrritant('Maple, sugar')).toBe(false)
    expect(isIrritant('Tulipwood soaked')).toBe(false)
  })

  it('are each said once, in the order of the list', () => {
    const works = fc.constantFrom<Work>(
      ...(['rip', 'rip-narrow', 'crosscut', 'crosscut-slices', 'groove', 'mitre', 'joint', 'plane'] as const),
      ...([
        'plane-end-grain',
        'route',
        'sand',
        'sand-finish',
        'glue-up',
        'coat',
        'spray',
        'move',
        'hand-over',
      ] as const),
    )
    const cautionIds = fc.subarray(CAUTIONS.map((one) => one.id))
    fc.assert(
      fc.property(fc.array(works), cautionIds, fc.boolean(), (work, finish, oil) => {
        const all = cautionsFor({ work, finish, glue: finish, finishIsDryingOil: oil, pieceIsFor: 'chopping' })
        const places = all.map((one) => CAUTIONS.indexOf(one))
        expect(places).toEqual([...new Set(places)].toSorted((a, b) => a - b))
      }),
    )
  })
})

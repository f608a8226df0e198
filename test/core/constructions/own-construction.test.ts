import { describe, expect, test } from 'vitest'
import type { SpecInput } from '../../../core/constructions/construction.ts'
import { constructionOf, constructionsWith } from '../../../core/constructions/constructions.ts'
import { buildLots } from '../../../core/constructions/lots.ts'
import { makeConstruction } from '../../../core/constructions/own/make-construction.ts'
import type { OwnConstruction } from '../../../core/constructions/own/own-construction.ts'
import { startingOwnConstruction, writeOwnConstruction } from '../../../core/constructions/own/own-form.ts'
import { readOwnConstruction } from '../../../core/constructions/own/read-own-construction.ts'
import { inches } from '../../../core/lengths/length.ts'
import { aShop } from './a-shop.ts'
import { expectSoundNetwork, expectSoundParts } from './sound-network.ts'

const shop = aShop()

type Row = { readonly [key: string]: string | boolean }
const step = (name: string, change: Row = {}): Row => ({
  name,
  kind: 'hand',
  minutes: '10',
  wait: '',
  atMost: '',
  after: '',
  dusty: false,
  units: '',
  when: '',
  stops: 'usual',
  takes: 'usual',
  until: 'usual',
  ...change,
})

/** A knife block: strips by the width, a lid if wanted. */
const block: SpecInput = {
  name: 'Knife block',
  about: 'Stands on the counter.',
  units: 'inch',
  fields: [
    { key: 'width', label: 'Width', kind: 'length', start: '6' },
    { key: 'slots', label: 'Slots', kind: 'count', start: '5' },
    { key: 'lid', label: 'Lid', kind: 'yes-no', start: '' },
    { key: 'wood', label: 'Wood', kind: 'wood', start: 'maple' },
    { key: 'glue', label: 'Glue', kind: 'glue', start: 'pva_type2' },
    { key: 'finish', label: 'Finish', kind: 'finish', start: 'wiping_oil_varnish' },
  ],
  parts: [
    { name: 'Layer', wood: 'wood', quantity: 'slots + 1', length: '9', width: 'width + 1/4', thickness: '0.5' },
    { name: 'Lid', wood: 'wood', quantity: 'lid', length: 'width', width: '2', thickness: '0.5' },
  ],
  steps: [
    step('Mill the layers', { kind: 'machine', minutes: '10 + 3 * (slots + 1)', dusty: true }),
    step('Glue-up', { kind: 'glue-up', minutes: '20', wait: 'glue', units: 'ceil(width / 2)' }),
    step('Fit the lid', { when: 'lid', minutes: '25' }),
    step('Sand', { dusty: true, after: '3' }),
    step('First coat', { kind: 'coat', wait: 'finish' }),
    step('Second coat', { kind: 'coat', wait: 'finish' }),
  ],
}

const readBlock = (change: SpecInput = {}, others: readonly OwnConstruction[] = []) =>
  readOwnConstruction({ ...block, ...change }, '', others, shop)

function own(change: SpecInput = {}): OwnConstruction {
  const read = readBlock(change)
  if (!read.ok) throw new Error(read.problems.map((one) => `${one.field}: ${one.message}`).join(' '))
  return read.value
}

function built(change: SpecInput = {}, typed: SpecInput = {}, count = 1) {
  const construction = makeConstruction(own(change))
  const spec = construction.read({ ...construction.starting('inch'), ...typed }, 'inch', shop)
  if (!spec.ok) throw new Error(spec.problems.map((one) => one.message).join(' '))
  const build = buildLots(construction, spec.value, count, shop)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return { ...build.value, steps: build.value.lots[0]?.steps ?? [], lags: build.value.lots[0]?.lags ?? [] }
}

describe('a construction of the maker’s own', () => {
  test('is found beside the built-in ones and makes parts and steps by its formulas', () => {
    const known = [own()]
    expect(constructionOf('own-knife-block', known)?.name).toBe('Knife block')
    expect(constructionOf('own-knife-block')).toBeUndefined()
    expect(constructionsWith(known).at(-1)?.id).toBe('own-knife-block')
    const { parts, steps, lags, title } = built({}, { slots: '7' }, 2)
    // 7 slots lie between 8 layers, two blocks take 16; 10 + 3 x 8 = 34 min a block.
    expect(parts).toMatchObject([
      {
        name: 'Layer',
        quantity: 16,
        finished: { lengthNm: inches(9), widthNm: inches(6.25), thicknessNm: inches(0.5) },
      },
    ])
    expect(steps[0]?.minutes).toBe(68)
    expect(title).toBe('Knife block 6", maple')
    expectSoundNetwork(steps, lags, shop)
    expectSoundParts(parts)
  })

  test('a step may take a standard time of the almanac: so many units, its setup, its spread, as the almanac has them now', () => {
    const milling = step('Mill the layers', { kind: 'machine', minutes: 'slots + 1', standardTime: 'rip-strips' })
    const steps = [milling, step('Glue-up', { kind: 'glue-up', minutes: '1', standardTime: 'glue-up-panel' })]
    const usual = built({ steps }, { slots: '7' }, 2)
    // Rip strips: 1 min each from 0.5 to 2 (list of waits); 8 layers, two blocks. Its set-up is shared with other rips.
    const time = shop.standardTime('rip-strips')
    expect(usual.steps[0]).toMatchObject({
      operation: 'rip-strips',
      minutes: 16 * time.perUnitMin,
      optimisticMin: Math.round(16 * time.perUnitMin * time.optimisticFactor),
      pessimisticMin: Math.round(16 * time.perUnitMin * time.pessimisticFactor),
      setUp: { family: time.family, minutes: time.setUpMin },
    })
    expect(usual.steps[0]?.cautions.slice(0, 2)).toEqual(['saw', 'kickback'])
    // Ten minutes of its own, and so many for each of two panels.
    expect(usual.steps[1]?.minutes).toBe(10 + 2 * shop.standardTime('glue-up-panel').perUnitMin)
    expectSoundNetwork(usual.steps, usual.lags, shop)

    const slower = aShop({
      with: (almanac) => ({
        ...almanac,
        standardTimes: almanac.standardTimes.map((one) =>
          one.operation === 'rip-strips' ? { ...one, perUnitMin: 3 } : one,
        ),
      }),
    })
    const construction = makeConstruction(own({ steps }))
    const spec = construction.read({ ...construction.starting('inch'), slots: '7' }, 'inch', slower)
    const build = spec.ok ? construction.build(spec.value, 2, slower) : spec
    expect(build.ok ? build.value.steps[0]?.minutes : build.problems).toBe(48)
  })

  test('minutes of a step’s own may say how little and how much they can be', () => {
    const sand = step('Sand', { minutes: '5 * slots', least: '4 * slots', most: '9 * slots' })
    expect(built({ steps: [sand] }, { slots: '6' }, 2).steps[0]).toMatchObject({
      operation: 'by-hand',
      minutes: 60,
      optimisticMin: 48,
      pessimisticMin: 108,
    })
    const turned = readBlock({ steps: [step('Sand', { minutes: '10', least: '12' })] })
    expect(turned).toMatchObject({ ok: false, problems: [{ code: 'step-spread', field: 'steps.0.least' }] })
    const nothing = readBlock({ steps: [step('Rip', { minutes: '0', standardTime: 'rip-strips' })] })
    expect(nothing).toMatchObject({ ok: false, problems: [{ code: 'step-minutes' }] })
    const unknown = readBlock({ steps: [step('Rip', { standardTime: 'conjure' })] })
    expect(unknown).toMatchObject({ ok: false, problems: [{ field: 'steps.0.standardTime' }] })
  })

  test('a standard time, a spread and what it is for are written back as they were typed', () => {
    const steps = [
      step('Rip', { minutes: 'slots', standardTime: 'rip-strips' }),
      step('Sand', { minutes: '10', least: '8', most: '30' }),
    ]
    const kept = own({ steps, isFor: 'chopping' })
    const again = readOwnConstruction(writeOwnConstruction(kept), kept.id, [], shop)
    expect(again).toEqual({ ok: true, value: kept })
  })

  test('what it is for decides its cautions, and a construction from before that was asked has none', () => {
    const cautionsFor = (isFor: string) => built({ isFor }).steps.map(({ name, cautions }) => [name, cautions] as const)
    const at = (isFor: string, name: string) => cautionsFor(isFor).find(([one]) => one === name)?.[1]
    expect(at('chopping', 'First coat')).toEqual(['rag_fire', 'nut', 'food_contact', 'vapour'])
    expect(at('', 'First coat')).toEqual(['rag_fire', 'nut', 'vapour'])
    expect(at('child', 'Check that it’s ready')).toEqual(['small_parts', 'handover'])
    expect(own().isFor).toBeUndefined()
  })

  test('waits for its glue and finish as long as their clocks say', () => {
    const { lags, steps } = built()
    expect(lags.find((lag) => lag.to === 'release-row-2')).toMatchObject({
      wait: 'in-clamps',
      minMin: 60,
      product: 'pva_type2',
    })
    expect(lags.filter((lag) => lag.wait === 'drying').map((lag) => [lag.to, lag.minMin])).toEqual([
      ['row-5', 1440],
      ['look', 5 * 1440],
    ])
    expect(steps.find((one) => one.name === 'First coat')?.cautions[0]).toBe('rag_fire')
    expect(steps.find((one) => one.name === 'First coat')?.tackyMin).toBeGreaterThan(0)
  })

  test('a step that is not wanted is left out, and what came after it comes after what it came after', () => {
    expect(built().steps.map((one) => one.name)).not.toContain('Fit the lid')
    expect(
      built()
        .lags.filter((lag) => lag.to === 'row-3')
        .map((lag) => lag.from),
    ).toEqual(['row-2', 'release-row-2'])
    expect(built({}, { lid: true }).steps.map((one) => one.name)).toContain('Fit the lid')
    expect(built({}, { lid: true }).parts.map((part) => part.name)).toEqual(['Layer', 'Lid'])
  })

  test('is written back as it was typed', () => {
    const again = readOwnConstruction(writeOwnConstruction(own()), 'own-knife-block', [own()], shop)
    expect(again).toEqual({ ok: true, value: own() })
    expect(JSON.parse(JSON.stringify(own()))).toEqual(own())
  })

  test('keeps the meaning of its formulas in a shop of the other units', () => {
    const metric = aShop({ units: 'millimetre' })
    const construction = makeConstruction(own())
    expect(construction.starting('millimetre')['width']).toBe('152.4 mm')
    const spec = construction.read({ ...construction.starting('millimetre'), width: '100' }, 'millimetre', metric)
    const build = spec.ok ? construction.build(spec.value, 1, metric) : spec
    expect(build.ok ? build.value.parts[0]?.finished.widthNm : 0).toBe(100_000_000 + inches(1 / 4))
  })

  test('the example that the form begins with makes sense once it has a name, in both units', () => {
    for (const units of ['inch', 'millimetre'] as const) {
      const facts = aShop({ units })
      const read = readOwnConstruction({ ...startingOwnConstruction(units), name: 'Panel' }, '', [], facts)
      expect(read.ok ? [] : read.problems).toEqual([])
    }
  })
})

describe('what does not work is named', () => {
  const rows = (key: 'fields' | 'parts' | 'steps') => block[key] as readonly Row[]
  const changed = (key: 'fields' | 'parts' | 'steps', index: number, change: Row): SpecInput => ({
    [key]: rows(key).map((row, at) => (at === index ? { ...row, ...change } : row)),
  })

  test.each([
    ['no name', { name: ' ' }, 'name', /say what it makes/],
    [
      'a name in formulas with a blank',
      changed('fields', 0, { key: 'the width' }),
      'fields.0.key',
      /a letter with letters or digits/,
    ],
    [
      'a word that formulas use',
      changed('fields', 0, { key: 'min' }),
      'fields.0.key',
      /has a meaning in formulas already/,
    ],
    ['one name for two questions', changed('fields', 1, { key: 'width' }), 'fields.1.key', /used twice/],
    ['a start that cannot be read', changed('fields', 0, { start: 'wide' }), 'fields.0.start', /not a size I can read/],
    [
      'a formula with an unknown name',
      changed('steps', 0, { minutes: '10 * depth' }),
      'steps.0.minutes',
      /there is no field “depth”; there are width, slots, lid/,
    ],
    ['a formula of a wood', changed('parts', 0, { length: 'wood * 2' }), 'parts.0.length', /there is no field “wood”/],
    ['a part of no wood', changed('parts', 0, { wood: 'width' }), 'parts.0.wood', /not a question for a wood/],
    [
      'a formula that gives nothing',
      changed('steps', 0, { minutes: 'lid * 10' }),
      'steps.0.minutes',
      /it takes no time/,
    ],
    [
      'a formula that divides by nothing',
      changed('steps', 0, { minutes: '10 / lid' }),
      'steps.0.minutes',
      /divide by nothing/,
    ],
    [
      'a part of no size',
      changed('parts', 0, { width: 'width - 6' }),
      'parts.0',
      /Layer: with these sizes it would be 9 x 0 x 0[.]5/,
    ],
    [
      'a formula that gives thousands of parts',
      changed('parts', 0, { quantity: 'ceil(width / 0.0001)' }),
      'parts.0.quantity',
      /Layer: its formula gives 60000 for one piece; the most is 500[.] Change/,
    ],
    [
      'glue that dries after a coat',
      changed('steps', 4, { wait: 'glue' }),
      'steps.4.wait',
      /a glue sets after a glue-up/,
    ],
    ['a wait nobody can read', changed('steps', 4, { wait: 'varnish' }), 'steps.4.wait', /no time I can read/],
    [
      'a window shorter than the finish',
      changed('steps', 4, { atMost: '2 h' }),
      'steps.4.atMost',
      /within 2 h, but the wait is/,
    ],
    ['a row that is not there', changed('steps', 1, { after: '9' }), 'steps.1.after', /not a row of this list/],
    [
      'a circle',
      changed('steps', 0, { after: '2' }),
      'steps.0.after',
      /wait for each other in a circle: row 1 \(Mill the layers\), then row 2 \(Glue-up\)/,
    ],
    ['no steps', { steps: [] }, 'steps', /at least one/],
  ] as [string, SpecInput, string, RegExp][])('%s', (_, change, field, message) => {
    const read = readBlock(change)
    const problems = read.ok ? [] : read.problems
    expect(problems.map((one) => one.field)).toContain(field)
    expect(problems.find((one) => one.field === field)?.message).toMatch(message)
  })

  test('a size in an order that makes more parts than a piece can have is refused there', () => {
    const construction = makeConstruction(own(changed('parts', 0, { quantity: 'ceil(width / 0.02)' })))
    const partsAt = (width: string) => {
      const spec = construction.read({ ...construction.starting('inch'), width }, 'inch', shop)
      const build = spec.ok ? construction.build(spec.value, 1, shop) : spec
      return build.ok ? build.value.parts[0]?.quantity : build.problems
    }
    expect(partsAt('10')).toBe(500)
    expect(partsAt('10 1/4')).toMatchObject([{ code: 'too-many-parts', field: 'parts.0.quantity' }])
  })

  test('two of one name', () => {
    const read = readBlock({}, [own()])
    expect(read.ok ? [] : read.problems.map((one) => one.field)).toEqual(['name'])
  })

  test('more clamps than the shop has today is no fault of the construction, but of the order', () => {
    const many = own(changed('steps', 1, { units: '40' }))
    const construction = makeConstruction(many)
    const spec = construction.read(construction.starting('inch'), 'inch', shop)
    const build = spec.ok ? construction.build(spec.value, 1, shop) : spec
    expect(build.ok ? '' : build.problems[0]?.message).toMatch(/it takes 40, Clamps has 12/)
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { freeList } from '../../../core/constructions/free-list/free-list.ts'
import type { FreeListSpec, FreeRow } from '../../../core/constructions/free-list/free-list-spec.ts'
import { aShop } from './a-shop.ts'
import { expectSoundNetwork } from './sound-network.ts'

const shop = aShop()

type RowText = { readonly [key: string]: string | boolean }
const row = (name: string, change: RowText = {}): RowText => ({ name, minutes: '30', kind: 'hand', ...change })

const readRows = (...rows: RowText[]) => freeList.read({ title: 'Stool', rows }, 'inch', shop)

function built(rows: readonly RowText[], count = 1) {
  const read = readRows(...rows)
  if (!read.ok) throw new Error(read.problems.map((one) => one.message).join(' '))
  const build = freeList.build(read.value, count, shop)
  if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
  return build.value
}

const problemsOf = (...rows: RowText[]) => {
  const read = readRows(...rows)
  return read.ok ? [] : read.problems
}

describe('rows', () => {
  test('follow the row above unless they say otherwise', () => {
    const { lags } = built([row('Legs'), row('Seat', { after: '0' }), row('Assemble', { after: '1, 2' }), row('Oil')])
    expect(lags.map((lag) => [lag.from, lag.to])).toEqual([
      ['row-1', 'row-3'],
      ['row-2', 'row-3'],
      ['row-3', 'row-4'],
    ])
  })

  test('wait as typed, and no longer than typed', () => {
    const { lags } = built([
      row('First coat', { kind: 'coat', wait: '24', atMost: '3 d' }),
      row('Second coat', { kind: 'coat' }),
    ])
    expect(lags).toMatchObject([{ wait: 'drying', minMin: 1440, maxMin: 4320 }])
  })

  test('a coat keeps its place until what follows is started', () => {
    const { steps } = built([row('First coat', { kind: 'coat', wait: '24 h' }), row('Second coat', { kind: 'coat' })])
    expect(steps.map((step) => step.holds)).toEqual([
      [{ station: 'rack', units: 1, until: { kind: 'start-of', step: 'row-2' } }],
      [{ station: 'rack', units: 1, until: { kind: 'end' } }],
    ])
    expect(steps.every((step) => !step.interruptible)).toBe(true)
  })

  test('a wait at the end is waited for: somebody looks whether it is ready', () => {
    const { steps, lags } = built([row('Last coat', { kind: 'coat', wait: '2 d' })])
    expect(steps.at(-1)).toMatchObject({ key: 'look', name: 'Check that it’s ready' })
    expect(lags).toMatchObject([{ from: 'row-1', to: 'look', wait: 'drying', minMin: 2880 }])
    expect(steps[0]?.holds).toEqual([{ station: 'rack', units: 1, until: { kind: 'start-of', step: 'look' } }])
  })

  test('a glue-up with clamps gets a step that takes them off', () => {
    const { steps, lags } = built([
      row('Glue-up', { kind: 'glue-up', wait: '24 h', units: '4' }),
      row('Sand', { dusty: true }),
    ])
    expect(steps.map((step) => step.name)).toEqual(['Glue-up', 'Take off the clamps (Glue-up)', 'Sand'])
    expect(steps[0]?.holds).toEqual([{ station: 'clamps', units: 4, until: { kind: 'end-of', step: 'release-row-1' } }])
    expect(lags.find((lag) => lag.to === 'release-row-1')).toMatchObject({ wait: 'in-clamps', minMin: 1440 })
    expect(lags.filter((lag) => lag.to === 'row-2').map((lag) => lag.from)).toEqual(['row-1', 'release-row-1'])
  })

  test('times are for one piece', () =>
    expect(built([row('Turn', { minutes: '1 h 15 min' })], 4).steps[0]?.minutes).toBe(300))
})

describe('what cannot be done is named', () => {
  test('a circle, with its rows', () => {
    const problems = problemsOf(
      row('Legs'),
      row('Seat', { after: '4' }),
      row('Rails', { after: '2' }),
      row('Dry fit', { after: '3' }),
    )
    expect(problems).toHaveLength(1)
    expect(problems[0]?.code).toBe('cycle')
    expect(problems[0]?.message).toBe(
      'These rows wait for each other in a circle: row 2 (Seat), then row 3 (Rails), then row 4 (Dry fit), then row 2 again. Change what one of them comes after.',
    )
    expect(problems[0]?.field).toBe('rows.1.after')
  })

  test.each([
    ['itself', row('Oil', { after: '1' }), 'rows.0.after', 'Row 1, Oil: it cannot come after itself.'],
    [
      'a row that is not there',
      row('Oil', { after: '7' }),
      'rows.0.after',
      'Row 1, Oil: “7” is not a row of this list (1 to 1).',
    ],
    ['words for a row', row('Oil', { after: 'legs' }), 'rows.0.after', /“legs” is not a row/],
    ['no time', row('Oil', { minutes: '' }), 'rows.0.minutes', /how long is somebody at it/],
    ['a time of nothing', row('Oil', { minutes: '0 min' }), 'rows.0.minutes', /hands-on time of nothing/],
    ['a time that takes for ever', row('Oil', { minutes: '900 h' }), 'rows.0.minutes', /check the unit/],
    ['an unreadable wait', row('Oil', { wait: 'till dry' }), 'rows.0.wait', /“till dry” is no time I can read/],
    [
      'a limit shorter than the wait',
      row('Oil', { wait: '24 h', atMost: '12 h' }),
      'rows.0.atMost',
      /within 12 h, but the wait is 24 h/,
    ],
    ['a row without a name', row(''), 'rows.0.name', /Row 1: say what is done/],
  ])('%s', (_, one, field, message) => {
    expect(problemsOf(one).map((problem) => problem.field)).toEqual([field])
    expect(problemsOf(one)[0]?.message).toMatch(message)
  })

  test('no title and no rows', () => {
    const read = freeList.read({ title: ' ', rows: [] }, 'inch', shop)
    expect(read.ok ? [] : read.problems.map((one) => one.field)).toEqual(['title', 'rows'])
  })

  test('more clamps than there are', () => {
    const read = readRows(row('Glue-up', { kind: 'glue-up', units: '40' }))
    const build = read.ok ? freeList.build(read.value, 1, shop) : read
    expect(build.ok ? '' : build.problems[0]?.message).toBe(
      'Row 1, Glue-up: it takes 40, Clamps has 12. Split it into two rows, or change the almanac.',
    )
  })
})

const freeRow = (after: fc.Arbitrary<readonly number[]>): fc.Arbitrary<FreeRow> =>
  fc.record({
    name: fc.constantFrom('Saw', 'Glue', 'Oil', 'Sand'),
    minutes: fc.integer({ min: 1, max: 300 }),
    kind: fc.constantFrom('machine' as const, 'hand' as const, 'glue-up' as const, 'coat' as const),
    waitMin: fc.integer({ min: 0, max: 5000 }),
    atMostMin: fc.option(fc.integer({ min: 5000, max: 9000 })),
    after,
    dusty: fc.boolean(),
    units: fc.integer({ min: 0, max: 4 }),
  })

describe('always', () => {
  const list: fc.Arbitrary<FreeListSpec> = fc
    .integer({ min: 1, max: 9 })
    .chain((length) =>
      fc.tuple(
        ...Array.from({ length }, (_, index) =>
          freeRow(
            index === 0 ? fc.constant([]) : fc.uniqueArray(fc.integer({ min: 0, max: index - 1 }), { maxLength: 3 }),
          ),
        ),
      ),
    )
    .map((rows) => ({ title: 'Stool', rows }))

  test('a list without circles makes a sound network and reads back as it was written', () => {
    fc.assert(
      fc.property(list, fc.integer({ min: 1, max: 2 }), (spec, count) => {
        const build = freeList.build(spec, count, shop)
        if (!build.ok) throw new Error(build.problems.map((one) => one.message).join(' '))
        expectSoundNetwork(build.value.steps, build.value.lags, shop)
        expect(freeList.read(freeList.write(spec, 'inch'), 'inch', shop)).toEqual({ ok: true, value: spec })
      }),
    )
  })

  test('a list is refused exactly when its rows have a circle', () => {
    const tangled = fc.integer({ min: 2, max: 7 }).chain((length) =>
      fc.array(fc.uniqueArray(fc.integer({ min: 0, max: length - 1 }), { maxLength: 2 }), {
        minLength: length,
        maxLength: length,
      }),
    )
    fc.assert(
      fc.property(tangled, (afters) => {
        const clean = afters.map((after, index) => after.filter((one) => one !== index))
        const rows = clean.map((after, index) =>
          row(`Step ${index + 1}`, { after: after.length === 0 ? '0' : after.map((one) => one + 1).join(' ') }),
        )
        expect(problemsOf(...rows).some((one) => one.code === 'cycle')).toBe(reachesItself(clean))
      }),
    )
  })
})

/** Backup contact: follow every path back and see whether it comes round. */
function reachesItself(afters: readonly (readonly number[])[]): boolean {
  const from = (index: number, path: readonly number[]): boolean =>
    path.includes(index) || (afters[index] ?? []).some((before) => from(before, [...path, index]))
  return afters.some((_, index) => from(index, []))
}

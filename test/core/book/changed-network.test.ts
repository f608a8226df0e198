import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { BookLag, BookStep } from '../../../core/book/book.ts'
import {
  changedNetwork,
  lotCounts,
  lotsFor,
  type ChangeMeans,
  type NextPiece,
} from '../../../core/book/changed-network.ts'
import { changedParts, type ChangedParts } from '../../../core/book/changed-parts.ts'
import { untouched, type StepProgress } from '../../../core/book/step-progress.ts'
import type { Part } from '../../../core/constructions/construction.ts'
import type { LotBuild } from '../../../core/constructions/lots.ts'
import type { NetworkLag, NetworkStep } from '../../../core/constructions/step-network.ts'

const networkStep = (key: string): NetworkStep => ({
  ...{ key, operation: key, name: key, note: '', minutes: 30, optimisticMin: 20, pessimisticMin: 60 },
  ...{ units: null, hands: 1, interruptible: true, smallestStretchMin: 10, holds: [], dusty: false, tackyMin: 0 },
  ...{ tackyProduct: null, setUp: null, cautions: [] },
})
const networkLag = (from: string, to: string, product: string | null = null): NetworkLag => ({
  ...{ from, to, wait: product === null ? 'none' : 'curing', name: '', minMin: 0, optimisticMin: 0, pessimisticMin: 0 },
  ...{ maxMin: null, remedy: null, product, source: '' },
})
const lotOf = (arrows: readonly (readonly [string, string, string?])[], count = 1): LotBuild => ({
  count,
  steps: [...new Set(arrows.flatMap(([from, to]) => [from, to]))].map(networkStep),
  lags: arrows.map(([from, to, product]) => networkLag(from, to, product ?? null)),
})
const chain = (...keys: string[]): LotBuild => lotOf(keys.slice(1).map((key, at) => [keys[at]!, key] as const))

const bookOf = (lots: readonly LotBuild[]): { steps: BookStep[]; lags: BookLag[] } => ({
  steps: lots.flatMap(({ steps, count }, lot) =>
    steps.map((step, position) => ({
      ...step,
      ...{ id: `${lot + 1}/${step.key}`, pieceId: 'p', commissionId: 'c', position },
      ...{ lot: lot + 1, lots: lots.length, lotCount: count },
    })),
  ),
  lags: lots.flatMap(({ lags }, lot) =>
    lags.map((lag) => ({
      ...lag,
      ...{ pieceId: 'p', fromStep: `${lot + 1}/${lag.from}`, toStep: `${lot + 1}/${lag.to}` },
    })),
  ),
})
const done: StepProgress = {
  ...untouched,
  ...{ kind: 'done', startedAt: 0, endedAt: 10, workedMin: 10, makerId: null },
}
const means = (begun: readonly string[], said: Record<string, boolean> = {}): ChangeMeans => {
  let ids = 0
  return {
    progress: new Map(begun.map((id) => [id, done])),
    newId: () => `new-${++ids}`,
    said: new Map(Object.entries(said)),
  }
}
const next = (lots: readonly LotBuild[], otherParts: ChangedParts | null = new Map()): NextPiece => ({
  pieceId: 'p',
  commissionId: 'c',
  lots,
  otherParts,
})

describe('a changed piece', () => {
  const old = bookOf([chain('mill', 'glue', 'sand', 'coat')])

  test('keeps what was done up to the first new step, and does again what comes after it', () => {
    const made = changedNetwork(
      old,
      next([chain('mill', 'glue', 'groove', 'sand', 'coat')]),
      means(['1/mill', '1/glue', '1/sand']),
    )
    expect(made.counting).toEqual(['1/mill', '1/glue'])
    expect(made.lost).toEqual(['1/sand'])
    expect(made.mayCount).toEqual(['1/sand'])
    expect(made.steps.map(({ id, key, lost }) => [id, key, lost === true])).toEqual([
      ['1/sand', 'sand~1', true],
      ['1/mill', 'mill', false],
      ['1/glue', 'glue', false],
      ['new-1', 'groove', false],
      ['new-2', 'sand', false],
      ['1/coat', 'coat', false],
    ])
  })

  test('in other sizes loses all that was done, unless the maker says that it counts', () => {
    const other = next([chain('mill', 'glue', 'sand', 'coat')], null)
    expect(changedNetwork(old, other, means(['1/mill', '1/glue'])).counting).toEqual([])
    const said = changedNetwork(old, other, means(['1/mill', '1/glue', '1/sand'], { '1/glue': true }))
    expect([said.counting, said.lost]).toEqual([['1/mill', '1/glue'], ['1/sand']])
  })

  test('with another top keeps the work on its base, up to where both come together', () => {
    const table = lotOf([
      ['top-mill', 'top-glue'],
      ['top-glue', 'hold'],
      ['base-mill', 'base-glue'],
      ['base-glue', 'hold'],
    ])
    const begun = ['1/top-mill', '1/top-glue', '1/base-mill', '1/base-glue', '1/hold']
    const top = new Map([['top-mill', ['Top']]])
    const made = changedNetwork(bookOf([table]), next([table], top), means(begun))
    expect(made.counting).toEqual(['1/base-mill', '1/base-glue'])
    expect(made.lost).toEqual(['1/top-mill', '1/top-glue', '1/hold'])
    // Where the step is gone in which the part was milled, nobody can tell what hung on it.
    const drawer = new Map([['drawer-mill', ['Drawer front']]])
    expect(changedNetwork(bookOf([table]), next([table], drawer), means(begun)).counting).toEqual([])
  })

  test('loses a step that the maker says does not count, with what came after it', () => {
    const made = changedNetwork(
      old,
      next([chain('mill', 'glue', 'sand', 'coat')]),
      means(['1/mill', '1/glue', '1/sand'], { '1/glue': false }),
    )
    expect([made.counting, made.lost]).toEqual([['1/mill'], ['1/glue', '1/sand']])
  })

  test('with another glue is glued again', () => {
    const glued = bookOf([
      lotOf([
        ['mill', 'glue'],
        ['glue', 'sand', 'white glue'],
      ]),
    ])
    const made = changedNetwork(
      glued,
      next([
        lotOf([
          ['mill', 'glue'],
          ['glue', 'sand', 'waterproof glue'],
        ]),
      ]),
      means(['1/mill', '1/glue']),
    )
    expect([made.counting, made.lost]).toEqual([['1/mill'], ['1/glue']])
  })

  test('with more pieces goes on with the lots that were begun, the others come on top', () => {
    const [first, added] = [chain('mill', 'glue'), chain('mill', 'glue')]
    const made = changedNetwork(
      bookOf([{ ...first, count: 2 }]),
      next([
        { ...first, count: 2 },
        { ...added, count: 3 },
      ]),
      means(['1/mill']),
    )
    expect(made.counting).toEqual(['1/mill'])
    expect(made.steps.map(({ lot, lotCount, lots }) => [lot, lotCount, lots])).toEqual([
      [1, 2, 2],
      [1, 2, 2],
      [2, 3, 2],
      [2, 3, 2],
    ])
    expect(lotsFor([2], 5)).toEqual({ lots: [2], added: 3 })
    expect(lotsFor([2, 2], 3)).toEqual({ lots: [2, 1], added: 0 })
    expect(lotCounts(made.steps, 5)).toEqual([2, 3])
  })

  test('work of an earlier loss stays, whatever changes', () => {
    const lost: BookStep = { ...old.steps[0]!, id: 'gone', key: 'mill~1', lost: true }
    const made = changedNetwork({ ...old, steps: [lost, ...old.steps] }, next([chain('saw')]), means(['gone']))
    expect(made.steps.filter((step) => step.lost).map(({ id, key }) => [id, key])).toEqual([['gone', 'mill~1']])
    expect(made.lost).toEqual([])
  })
})

describe('whatever changes', () => {
  const keys = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h']
  /** Arrows only lead forward, so there are no circles; every step is in it. */
  const anyLot = fc
    .tuple(
      fc.uniqueArray(fc.constantFrom(...keys), { minLength: 1 }),
      fc.array(fc.tuple(fc.nat(7), fc.nat(7), fc.constantFrom(null, 'white glue', 'oil')), { maxLength: 14 }),
    )
    .map(([chosen, pairs]): LotBuild => {
      const sorted = chosen.toSorted()
      return {
        count: 1,
        steps: sorted.map(networkStep),
        lags: pairs.flatMap(([one, other, product]) => {
          const [from, to] = [sorted[Math.min(one, other)], sorted[Math.max(one, other)]]
          return one === other || from === undefined || to === undefined ? [] : [networkLag(from, to, product)]
        }),
      }
    })
  const anyCase = fc.record({
    was: fc.array(anyLot, { minLength: 1, maxLength: 3 }),
    is: fc.array(anyLot, { minLength: 1, maxLength: 3 }),
    begun: fc.array(fc.constantFrom(...[1, 2, 3].flatMap((lot) => keys.map((key) => `${lot}/${key}`)))),
    said: fc.dictionary(fc.constantFrom('1/a', '1/b', '1/c', '2/a'), fc.boolean()),
    isSame: fc.boolean(),
  })

  test('no step with work goes: it counts or is lost, once; keys are unique in a lot, lags lead to steps that are there', () => {
    fc.assert(
      fc.property(anyCase, ({ was, is, begun, said, isSame }) => {
        const old = bookOf(was)
        const worked = old.steps.filter(({ id }) => begun.includes(id)).map(({ id }) => id)
        const made = changedNetwork(old, next(is, isSame ? new Map() : null), means(worked, said))
        expect([...made.counting, ...made.lost].sort()).toEqual(worked.sort())
        const ids = made.steps.map(({ id }) => id)
        expect(new Set(ids).size).toBe(ids.length)
        expect(ids).toEqual(expect.arrayContaining(worked))
        const places = made.steps.map(({ lot, key }) => `${lot}/${key}`)
        expect(new Set(places).size).toBe(places.length)
        const live = new Set(made.steps.filter(({ lost }) => lost !== true).map(({ id }) => id))
        for (const { fromStep, toStep } of made.lags) expect(live.has(fromStep) && live.has(toStep)).toBe(true)
        expect(live.size).toBe(is.reduce((sum, { steps }) => sum + steps.length, 0))
      }),
    )
  })

  test('where the maker says nothing, nothing new or lost comes before what counts', () => {
    fc.assert(
      fc.property(anyCase, ({ was, is, begun, isSame }) => {
        const old = bookOf(was)
        const made = changedNetwork(old, next(is, isSame ? new Map() : null), means(begun))
        const fresh = new Set(made.steps.filter(({ id }) => id.startsWith('new-')).map(({ id }) => id))
        for (const id of made.counting) {
          const before = new Set([id])
          for (let size = 0; size < before.size;) {
            size = before.size
            for (const { fromStep, toStep } of made.lags) if (before.has(toStep)) before.add(fromStep)
          }
          expect([...before].filter((each) => fresh.has(each))).toEqual([])
        }
        if (!isSame) expect(made.counting).toEqual([])
      }),
    )
  })

  test('changed into what it was, everything counts', () => {
    fc.assert(
      fc.property(anyCase, ({ was, begun }) => {
        const old = bookOf(was)
        const made = changedNetwork(old, next(was), means(begun))
        expect(made.lost).toEqual([])
        expect(made.steps.map(({ id }) => id)).toEqual(old.steps.map(({ id }) => id))
      }),
    )
  })
})

describe('parts of a changed piece', () => {
  const part = (name: string, widthNm: number, more: Partial<Part> = {}): Part => {
    const size = { lengthNm: 100, widthNm, thicknessNm: 20 }
    return { name, wood: 'maple', quantity: 2, rough: size, finished: size, ...more }
  }
  const of = (...parts: Part[]) => ({ parts, steps: [{ key: 'mill' }, { key: 'glue' }] })
  const leg = part('Leg', 40, { milledIn: 'base-mill' })

  test.each<[string, Part[], Part[], [string, string[]][]]>([
    ['none', [leg, part('Top', 300)], [leg, part('Top', 300, { why: 'said in other words' })], []],
    ['another size', [leg, part('Top', 300)], [leg, part('Top', 310)], [['mill', ['Top']]]],
    ['another wood', [leg], [{ ...leg, wood: 'oak' }], [['base-mill', ['Leg']]]],
    ['one more', [leg], [leg, part('Shelf', 200)], [['mill', ['Shelf']]]],
    ['one less', [leg, part('Shelf', 200)], [leg], [['mill', ['Shelf']]]],
    ['two of one kind', [leg, leg], [leg], [['base-mill', ['Leg']]]],
  ])('%s', (_, was, is, others) => {
    expect([...changedParts(of(...was), of(...is))]).toEqual(others)
  })
})

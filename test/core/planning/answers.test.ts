import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { generateNewWork, generateOrderBook } from '../../../benchmarks/generate-order-book.ts'
import { withAddition } from '../../../core/planning/quote/additions.ts'
import type { NewWork } from '../../../core/planning/quote/answers.ts'
import type { Plan, PlanningProblem } from '../../../core/planning/problem/model.ts'
import { withNewWork } from '../../../core/planning/problem/new-work.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { quote } from '../../../core/planning/quote/quote.ts'
import { tonight } from '../../../core/planning/reasons/tonight.ts'
import { bindingChain } from '../../../core/planning/reasons/why.ts'
import { chainWords } from '../../../core/planning/reasons/words.ts'
import { aLag, aShop, aStep, DAY, held, when, written } from './a-shop.ts'
import { anyShop } from './any-shop.ts'
import { faultsOf } from './validator.ts'

/** So many shops that can be planned, with their plan. */
function planned(runs: number, check: (problem: PlanningProblem, made: Plan) => void): void {
  fc.assert(
    fc.property(anyShop(), (problem) => {
      const made = plan(problem)
      fc.pre(made.ok)
      check(problem, made.value)
    }),
    { numRuns: runs },
  )
}

/** Takes the last commission out of a shop, as work that is asked for. */
function asked(problem: PlanningProblem): { readonly shop: PlanningProblem; readonly newWork: NewWork } | null {
  const commission = problem.commissions.at(-1)
  if (commission === undefined || problem.commissions.length < 2) return null
  const isNew = (id: string): boolean => problem.steps.find((step) => step.id === id)!.commissionId === commission.id
  const steps = problem.steps.filter(({ id }) => isNew(id))
  if (steps.some(({ state }) => state.kind !== 'to-do')) return null
  return {
    shop: {
      ...problem,
      commissions: problem.commissions.slice(0, -1),
      steps: problem.steps.filter(({ id }) => !isNew(id)),
      lags: problem.lags.filter(({ to }) => !isNew(to)),
    },
    newWork: { commission, steps, lags: problem.lags.filter(({ to }) => isNew(to)) },
  }
}

describe('quote', () => {
  test('offers keep every constraint; the first makes nobody late, the soonest is sooner and says who pays', () => {
    fc.assert(
      fc.property(anyShop({ commissions: 4, steps: 5, reality: true }), (problem) => {
        const split = asked(problem)
        if (split === null) return
        const before = plan(split.shop)
        if (!before.ok) return
        const joined = withNewWork(split.shop, split.newWork)
        let atOnce = Infinity
        for (const schedules of [0, 20]) {
          const answer = quote(split.shop, split.newWork, { current: before.value, schedules })
          if (!answer.ok) return
          const [keeps, soonest] = answer.value.offers
          for (const offer of answer.value.offers) expect(faultsOf(joined, offer.plan)).toEqual([])
          if (keeps?.kind.kind !== 'keeps-every-promise') return
          for (const { id, promise } of split.shop.commissions) {
            if (promise === null) continue
            const was = before.value.commissions.find((each) => each.id === id)!
            const is = keeps.plan.commissions.find((each) => each.id === id)!
            expect(is.lateMin).toBeLessThanOrEqual(was.lateMin)
          }
          expect(keeps.doneAt).toBeLessThanOrEqual(atOnce)
          atOnce = keeps.doneAt
          if (soonest === undefined) continue
          expect(soonest.doneAt).toBeLessThan(keeps.doneAt)
          // What is sooner costs somebody a promise, or a part of its safety.
          if (!split.shop.commissions.some(({ aim }) => aim !== undefined))
            expect(soonest.late.length).toBeGreaterThan(0)
        }
      }),
      { numRuns: 400 },
    )
  })

  test('looking on from what can be told at once brings a date in a full book nearer, the same for the same seed', () => {
    const shop = generateOrderBook(10, 1)
    const current = plan(shop)
    if (!current.ok) throw new Error('refused')
    const keeps = (schedules: number): number => {
      const answer = quote(shop, generateNewWork(2), { current: current.value, schedules, seed: 1 })
      const first = answer.ok ? answer.value.offers[0] : undefined
      expect(first?.kind.kind).toBe('keeps-every-promise')
      expect(first?.late).toEqual([])
      return first!.doneAt
    }
    expect(keeps(150)).toBeLessThan(keeps(0) - 7 * DAY)
    expect(keeps(150)).toBe(keeps(150))
  })

  test('more hours never make the offer later', () => {
    fc.assert(
      fc.property(anyShop({ commissions: 4, steps: 5, reality: false }), (problem) => {
        const split = asked(problem)
        fc.pre(split !== null)
        const answer = quote(split.shop, split.newWork, { additions: 'likely', schedules: 5 })
        fc.pre(answer.ok)
        // Only shops where more would help count as tried.
        fc.pre(answer.value.offers.some(({ kind }) => kind.kind === 'with-more'))
        const keeps = answer.value.offers.find(({ kind }) => kind.kind === 'keeps-every-promise')
        for (const { kind, doneAt, late, plan: made } of answer.value.offers) {
          if (kind.kind !== 'with-more') continue
          expect(doneAt).toBeLessThan(keeps!.doneAt)
          expect(late).toEqual([])
          expect(faultsOf(withAddition(withNewWork(split.shop, split.newWork), kind.addition), made)).toEqual([])
        }
      }),
      { numRuns: 20 },
    )
  })

  test('behind three evenings of promised work the honest date is Thursday; Monday is possible, and somebody is a day late', () => {
    const promised = ['a', 'b', 'c'].map((id) => aStep(id, 180, { commissionId: 'promised' }))
    const shop = aShop(promised, {
      commissions: [{ id: 'promised', name: 'Promised', promise: when('Wed 21:00'), weight: 1 }],
    })
    const newWork = {
      commission: { id: 'new', name: 'New', promise: null, weight: 1 },
      steps: [aStep('n', 120, { commissionId: 'new' })],
      lags: [],
    }
    const answer = quote(shop, newWork)
    if (!answer.ok) throw new Error('refused')
    const [keeps, soonest] = answer.value.offers
    expect(written(keeps!.doneAt)).toBe('Thu 20:00')
    expect(keeps!.late).toEqual([])
    expect(written(soonest!.doneAt)).toBe('Mon 20:00')
    expect(soonest!.late).toEqual([
      {
        commissionId: 'promised',
        promise: when('Wed 21:00'),
        doneBefore: when('Wed 21:00'),
        doneAt: when('Thu 21:00'),
        lateMin: DAY,
        lateBeforeMin: 0,
      },
    ])
  })
})

describe('why', () => {
  test('two holds of one step on the same station count together', () => {
    const shop = aShop(
      [
        aStep('Unclamp', 0, { holds: [held('clamps', { kind: 'end' }), held('clamps', { kind: 'end' })] }),
        aStep('Glue-up', 60, {
          commissionId: 'first',
          holds: [held('clamps', { kind: 'after', minutes: 240 })],
          state: { kind: 'done', startedAt: when('Mon 10:00'), endedAt: when('Mon 11:00') },
        }),
      ],
      { stations: [{ id: 'clamps', name: 'clamps', capacity: 2 }] },
    )
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    expect(bindingChain(shop, made.value, 'order').links.at(-1)).toMatchObject({
      start: when('Mon 15:00'),
      cause: { kind: 'station', heldBy: ['Glue-up'], until: when('Mon 15:00') },
    })
  })

  test('a milestone raises no dust, so wet finish is never what it waited for', () => {
    const shop = aShop(
      [aStep('Coat', 20, { tackyMin: 60 }), aStep('Dusty work is over', 0, { dusty: true }), aStep('Pack', 10)],
      { lags: [aLag('Coat', 'Dusty work is over', -10), aLag('Dusty work is over', 'Pack', 0, 0)] },
    )
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    const { links } = bindingChain(shop, made.value, 'order')
    expect(links.find(({ step }) => step === 'Dusty work is over')?.cause.kind).toBe('window')
  })

  test('every chain begins with something that nothing led to and ends with the last step of the commission', () => {
    planned(600, (problem, made) => {
      const chains = problem.commissions.map(({ id }) => bindingChain(problem, made, id))
      problem.commissions.forEach(({ id }, index) => {
        const open = problem.steps.filter((step) => step.commissionId === id && step.state.kind !== 'done')
        const { links } = chains[index]!
        if (open.length === 0) {
          expect(links).toEqual([])
          return
        }
        const last = Math.max(...open.map((step) => made.steps.find((each) => each.id === step.id)!.end))
        expect(links.at(-1)?.end).toBe(last)
        for (const { start, cause } of links) {
          if ('until' in cause) expect(cause.until).toBeLessThanOrEqual(start)
          if (cause.kind === 'closed') expect(cause.from).toBeLessThan(cause.to)
        }
        expect(
          chainWords(problem, chains[index]!, { at: String }).every(
            ({ name, cause }) => name.length > 2 && cause.length > 2,
          ),
        ).toBe(true)
      })
    })
  })
})

describe('why, in words', () => {
  test('a second glue-up waits for the clamps that the first one holds over night', () => {
    const shop = aShop(
      [
        aStep('Glue-up', 60, {
          holds: [held('clamps', { kind: 'end-of', step: 'Unclamp' })],
          commissionId: 'first',
          pieceName: 'tray',
        }),
        aStep('Unclamp', 15, { commissionId: 'first', pieceName: 'tray' }),
        aStep('Second glue-up', 60, {
          holds: [held('clamps', { kind: 'end' })],
          commissionId: 'second',
          pieceName: 'lid',
        }),
      ],
      {
        lags: [aLag('Glue-up', 'Unclamp', 240, null, { name: 'glue in clamps' })],
        commissions: [
          { id: 'first', name: 'First', promise: when('Tue 21:00'), weight: 1 },
          { id: 'second', name: 'Second', promise: null, weight: 1 },
        ],
      },
    )
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    const words = chainWords(shop, bindingChain(shop, made.value, 'second'), { at: written })
    expect(words.map(({ name, cause }) => `${name}: ${cause}`)).toEqual([
      '“Glue-up” of tray: can start now',
      '“Glue-up” of tray: no shop time until then',
      '“Unclamp” of tray: glue in clamps until Mon 23:00',
      '“Unclamp” of tray: no shop time until then',
      '“Second glue-up” of lid: clamps taken by “Glue-up” of tray until then',
    ])
  })
})

describe('tonight', () => {
  test('names only steps of the session ahead, each with a start that it can still have', () => {
    planned(400, (problem, made) => {
      const { session, items } = tonight(problem, made)
      for (const { plannedStart, latestStart, wait, step, ifLeft } of items) {
        expect(wait.from).toBe(step)
        expect(plannedStart).toBeGreaterThanOrEqual(session!.from)
        expect(latestStart).toBeGreaterThanOrEqual(plannedStart)
        for (const { doneAt, doneIfLeft } of ifLeft) expect(doneIfLeft).toBeGreaterThan(doneAt)
      }
    })
  })

  test('what is lost leaves out what an order that is promised much later would make room for', () => {
    const urgent = { commissionId: 'board' } as const
    const later = { commissionId: 'box' } as const
    const boxes = Array.from({ length: 8 }, (_, at) => aStep(`box ${at}`, 90, later))
    const shop = aShop([aStep('glue', 30, urgent), aStep('sand', 90, urgent), aStep('mill', 150, later), ...boxes], {
      lags: [
        aLag('glue', 'sand', DAY),
        aLag('mill', 'box 0'),
        ...boxes.slice(1).map(({ id }, at) => aLag(`box ${at}`, id)),
      ],
      commissions: [
        { id: 'board', name: 'Board', promise: when('Thu 21:00'), weight: 1 },
        { id: 'box', name: 'Box', promise: when('Fri+2 21:00'), weight: 1 },
      ],
    })
    const made = plan(shop)
    if (!made.ok) throw new Error('refused')
    const glue = tonight(shop, made.value).items.find(({ step }) => step === 'glue')!
    const [lost] = glue.ifLeft
    // Glued on Tuesday, it can be sanded on Wednesday, as the box has two weeks.
    expect(lost).toMatchObject({ commissionId: 'board', lateIfLeftMin: 0 })
    expect(written(lost!.doneAt)).toMatch(/^Tue/)
    expect(written(lost!.doneIfLeft)).toMatch(/^Wed/)
  })
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { NO_WORK, type StepWork } from '../../../core/book/work-done.ts'
import { readyToWorkOn } from '../../../core/learning/work-ready.ts'

const NOW = 1000
const done = (from: number, to: number): StepWork => ({
  ...NO_WORK,
  stretches: [{ from, to, makerId: null }],
  done: { at: to, makerId: null },
})
const ready = (
  minutes: Record<string, number>,
  follows: readonly (readonly [string, string, number])[],
  works: Record<string, StepWork>,
) =>
  Object.fromEntries(
    readyToWorkOn(
      Object.entries(minutes).map(([id, each]) => ({ id, minutes: each })),
      follows.map(([fromStep, toStep, minMin]) => ({ fromStep, toStep, minMin })),
      (id) => works[id] ?? NO_WORK,
      NOW,
    ),
  )

test('a step is ready from the last wait that leads to it until it is done, or until now', () => {
  const follows = [
    ['glue', 'plane', 300],
    ['mill', 'plane', 0],
    ['plane', 'oil', 0],
  ] as const
  const works = { glue: done(10, 20), mill: done(30, 50) }
  const minutes = { glue: 15, mill: 15, plane: 15, oil: 15 }
  expect(ready(minutes, follows, works)).toEqual({
    glue: { from: -Infinity, to: 20 },
    mill: { from: -Infinity, to: 50 },
    plane: { from: 320, to: NOW },
  })
  expect(ready(minutes, follows, { ...works, plane: done(400, 420) })).toMatchObject({
    plane: { from: 320, to: 420 },
    oil: { from: 420, to: NOW },
  })
})

test('what was begun before its wait was over could be worked on from then', () => {
  expect(ready({ a: 5, b: 5 }, [['a', 'b', 500]], { a: done(0, 5), b: done(90, 100) })['b']).toEqual({
    from: 90,
    to: 100,
  })
})

test('a milestone passes by itself, what is not among the steps is done, and a circle is never ready', () => {
  expect(
    ready(
      { mile: 0, a: 5 },
      [
        ['gone', 'mile', 7],
        ['mile', 'a', 30],
      ],
      {},
    )['a'],
  ).toEqual({ from: -Infinity, to: NOW })
  const works = { first: done(0, 40) }
  const afterFirst = [
    ['first', 'mile', 60],
    ['mile', 'a', 30],
  ] as const
  expect(ready({ first: 5, mile: 0, a: 5 }, afterFirst, works)).toEqual({
    first: { from: -Infinity, to: 40 },
    a: { from: 130, to: NOW },
  })
  expect(
    ready(
      { a: 0, b: 0, c: 5 },
      [
        ['a', 'b', 0],
        ['b', 'a', 0],
        ['b', 'c', 0],
      ],
      {},
    ),
  ).toEqual({})
})

test('nothing is ready before what leads to it is done and its wait over, in any book', () => {
  const book = fc.array(
    fc.record({
      minutes: fc.integer({ min: 1, max: 60 }),
      waits: fc.array(fc.integer({ min: 0, max: 400 }), { maxLength: 3 }),
      doneAt: fc.option(fc.integer({ min: 0, max: NOW }), { nil: null }),
    }),
    { maxLength: 12 },
  )
  fc.assert(
    fc.property(book, fc.infiniteStream(fc.nat()), (steps, picks) => {
      const follows = steps.flatMap(({ waits }, at) =>
        at === 0 ? [] : waits.map((minMin) => ({ fromStep: `${picks.next().value! % at}`, toStep: `${at}`, minMin })),
      )
      const workOf = (id: string): StepWork => {
        const { doneAt } = steps[Number(id)]!
        return doneAt === null ? NO_WORK : { ...NO_WORK, done: { at: doneAt, makerId: null } }
      }
      const found = readyToWorkOn(
        steps.map(({ minutes }, at) => ({ id: `${at}`, minutes })),
        follows,
        workOf,
        NOW,
      )
      for (const [id, { from, to }] of found) {
        expect(to).toBe(workOf(id).done?.at ?? NOW)
        for (const { fromStep, toStep, minMin } of follows) {
          if (toStep !== id) continue
          const led = workOf(fromStep).done
          expect(led).not.toBeNull()
          expect(from).toBeGreaterThanOrEqual(led!.at + minMin)
        }
      }
    }),
  )
})

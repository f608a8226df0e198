import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { SerialScheme, type Direction } from '../../../../core/planning/search/project/serial-scheme.ts'
import { anyProject, asLagged, faults, lastFinish } from './small-projects.ts'

const project = anyProject({ activities: 12, longest: 6 })
const anyKeys = fc.array(fc.nat({ max: 20 }), { minLength: 12, maxLength: 12 })

describe('serial scheme', () => {
  it('makes a feasible schedule of every list', () => {
    fc.assert(
      fc.property(project, anyKeys, (small, keys) => {
        const scheme = new SerialScheme(small)
        const starts = new Int32Array(scheme.count)
        const makespan = scheme.schedule(listBy(scheme, keys, 'forward'), 'forward', starts)
        expect(faults(asLagged(small), Array.from(starts))).toEqual([])
        expect(lastFinish(small, Array.from(starts))).toBe(makespan)
      }),
    )
  })

  it('leaves no activity that could start earlier with all others where they are', () => {
    fc.assert(
      fc.property(project, anyKeys, (small, keys) => {
        const scheme = new SerialScheme(small)
        const starts = new Int32Array(scheme.count)
        scheme.schedule(listBy(scheme, keys, 'forward'), 'forward', starts)
        starts.forEach((start, activity) => {
          if (start === 0) return
          const pulled = Array.from(starts, (other, index) => (index === activity ? start - 1 : other))
          expect(faults(asLagged(small), pulled)).not.toEqual([])
        })
      }),
    )
  })

  it('never lengthens a schedule by justifying it backward and forward', () => {
    fc.assert(
      fc.property(project, anyKeys, (small, keys) => {
        const scheme = new SerialScheme(small)
        const list = listBy(scheme, keys, 'forward')
        const starts = new Int32Array(scheme.count)
        const first = scheme.schedule(list, 'forward', starts)
        scheme.listByFinish(starts, first, 'forward', list)
        const second = scheme.schedule(list, 'backward', starts)
        scheme.listByFinish(starts, second, 'backward', list)
        const third = scheme.schedule(list, 'forward', starts)
        expect(second).toBeLessThanOrEqual(first)
        expect(third).toBeLessThanOrEqual(second)
        expect(faults(asLagged(small), Array.from(starts))).toEqual([])
      }),
    )
  })

  it('puts predecessors first whatever the keys say', () => {
    fc.assert(
      fc.property(project, anyKeys, (small, keys) => {
        const scheme = new SerialScheme(small)
        const place = new Map(Array.from(listBy(scheme, keys, 'forward'), (activity, position) => [activity, position]))
        expect(place.size).toBe(scheme.count)
        small.successors.forEach((list, before) =>
          list.forEach((after) => expect(place.get(before)!).toBeLessThan(place.get(after)!)),
        )
      }),
    )
  })

  it('keeps resources apart that do not fit one machine word together', () => {
    const wide = {
      durations: [3, 3, 3],
      needs: [
        [60_000, 1, 90_000, 0],
        [60_000, 1, 0, 0],
        [0, 1, 90_000, 7],
      ],
      capacities: [100_000, 3, 100_000, 7],
      successors: [[], [], []],
    }
    const scheme = new SerialScheme(wide)
    const starts = new Int32Array(3)
    expect(scheme.schedule(Int32Array.of(0, 1, 2), 'forward', starts)).toBe(6)
    expect(Array.from(starts)).toEqual([0, 3, 3])
  })
})

function listBy(scheme: SerialScheme, keys: readonly number[], direction: Direction): Int32Array {
  const list = new Int32Array(scheme.count)
  const own = Int32Array.from({ length: scheme.count }, (_, activity) => keys[activity]! % (scheme.count + 1))
  scheme.listByKeys(own, direction, list)
  return list
}

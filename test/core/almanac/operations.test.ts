import { describe, expect, test } from 'vitest'
import { startingAlmanac } from '../../../core/almanac/defaults.ts'
import { dangersOf, isOperation, operationKind, OPERATIONS } from '../../../core/almanac/operations.ts'

describe('operations', () => {
  test('each has one row, and nothing of it but the time is in the almanac of a new shop', () => {
    expect(new Set(OPERATIONS.map(({ operation }) => operation)).size).toBe(OPERATIONS.length)
    const { standardTimes } = startingAlmanac({ timeZone: 'America/Chicago', units: 'inch', currency: 'USD' })
    expect(standardTimes.map(({ operation }) => operation)).toEqual(OPERATIONS.map(({ operation }) => operation))
    expect(standardTimes.flatMap((time) => Object.keys(time)).filter((key) => /kind|danger/.test(key))).toEqual([])
  })

  // Common practice, no source.
  test.for([
    ['glue-up-box', 'glue-up', null],
    ['glue-splines', 'gluing', null],
    ['spray-coat', 'coat', ['coat', 'spray']],
    ['sand-between-coats', 'other', ['sand', 'sand-finish']],
    ['mortise-and-tenon', 'fitting', ['groove', 'route']],
  ] as const)('%s is %s', ([operation, kind, dangers]) => {
    expect(operationKind(operation)).toBe(kind)
    expect(dangersOf(operation)).toEqual(dangers)
  })

  test('one that this version does not know has no kind and no dangers', () => {
    expect(isOperation('toString')).toBe(false)
    expect(operationKind('steam-bend')).toBeNull()
    expect(dangersOf('steam-bend')).toBeNull()
  })
})

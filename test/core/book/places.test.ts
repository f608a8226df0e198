import { expect, test } from 'vitest'
import type { BookStep } from '../../../core/book/book.ts'
import { unitsFreeFor, type PlaceHeld } from '../../../core/book/places.ts'

const rack = { id: 'rack', capacity: 8 }

const step = (id: string, changes: Partial<BookStep> = {}): BookStep => ({
  ...{ id, key: id, pieceId: 'boards', commissionId: 'order', position: 0, lot: 1, lots: 1, lotCount: 5 },
  ...{ operation: 'wipe-coat', name: id, note: '', minutes: 20, optimisticMin: 20, pessimisticMin: 20, units: null },
  ...{ hands: 1, interruptible: false, smallestStretchMin: 0, dusty: false, tackyMin: 0, tackyProduct: null },
  ...{ holds: [], setUp: null, cautions: [] },
  ...changes,
})

const coat = (id: string, next: string, changes: Partial<BookStep> = {}): BookStep =>
  step(id, { holds: [{ station: 'rack', units: 5, until: { kind: 'start-of', step: next } }], ...changes })

const standing = (stepId: string, units: readonly number[]): PlaceHeld => ({ station: 'rack', stepId, units })

const free = (of: BookStep, holders: readonly BookStep[], places: readonly PlaceHeld[]): number =>
  unitsFreeFor(of, rack, places, (id) => holders.find((one) => one.id === id))

test('a coat finds the places free that its own pieces stand in until it is begun', () => {
  const first = coat('first', 'second')
  expect(free(coat('second', 'pack'), [first], [standing('first', [1, 2, 3, 4, 5])])).toBe(8)
})

test('places of other pieces, of another lot and of what another step ends are in its way', () => {
  const second = coat('second', 'pack')
  const others = [
    coat('of another piece', 'second', { pieceId: 'other' }),
    coat('of another lot', 'second', { lot: 2 }),
    coat('ended by another step', 'third'),
    step('until its clamps are off', {
      holds: [{ station: 'rack', units: 5, until: { kind: 'end-of', step: 'second' } }],
    }),
  ]
  for (const other of others) expect(free(second, [other], [standing(other.id, [1, 2, 3, 4, 5])]), other.id).toBe(3)
})

test('a holder that has left the book goes on being counted', () => {
  expect(free(coat('second', 'pack'), [], [standing('gone', [1, 2])])).toBe(6)
})
